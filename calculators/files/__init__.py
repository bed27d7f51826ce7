"""Files that are read and written: pictures in; PDF, SVG, PNG and cut files out."""
