"""What is found in the pixels of a picture, and what is made of them."""
