"""Underlay: what is seen of ink on film over paint, and how much white it needs beneath."""
