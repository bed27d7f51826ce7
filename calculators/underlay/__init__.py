"""Stage underlay: how ink on film looks over paint, and how much white it needs beneath."""
