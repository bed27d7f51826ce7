"""Stage print: which film, which settings, which side?"""
