"""Questions about the sheet: what lies on it, and what the printer makes of it."""
