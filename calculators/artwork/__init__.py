"""Stage artwork: is the picture good enough, and what in it is meant?"""
