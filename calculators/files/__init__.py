"""Files that are read and written: pictures in; PDF, SVG, PNG and cut files out."""

#: The library that writes PDF pages: a calculator that makes one declares needs=NEEDS.
NEEDS = ("pydyf",)
