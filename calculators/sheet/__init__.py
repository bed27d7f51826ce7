"""Stage sheet: how does all of it fit on this film, with spares, and what does the printer make of it?"""
