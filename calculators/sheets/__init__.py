"""The sheet of film: what lies where on it, and what is written for the printer."""
