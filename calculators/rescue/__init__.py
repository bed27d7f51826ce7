"""Rescue: what went wrong, and what is known of it."""
