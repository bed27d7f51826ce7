"""Outlines, masks and transforms, shared by the stages."""
