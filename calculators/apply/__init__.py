"""Stage apply: will it lie down here, and in which order?"""
