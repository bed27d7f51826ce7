"""Work on the pixels of a picture: what they show, and what can be made of them."""
