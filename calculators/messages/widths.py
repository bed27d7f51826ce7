"""Sentences on the widths of a picture and of the marking in it."""

FIELD_COUNTS = (
    "The colour {colour} runs all round in this picture and counts as part of the marking, so the width is that of "
    "the whole picture. If it is"
    " background, take the marking out of its picture first."
)
NO_MARGINS_KNOWN = "Without a picture nothing is known of its margins: the width is taken as that of the whole picture."
PICTURE_TOO_WIDE = "At that width the picture with its margins is wider than can be worked out here"
PICTURE_TOO_WIDE_HINT = "Type a smaller width, or take the margins off the picture first."
CROPPED_WIDTH = "The new picture has no margins: from now on its printed width is the marking's own."
