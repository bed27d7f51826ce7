"""Stage finish: how is it protected, and how does its edge vanish?"""
