"""Keeping animals alive in a running system: its filter, its equipment, its food."""
