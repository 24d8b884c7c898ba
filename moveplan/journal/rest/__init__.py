"""How the rest of the day may go, without numpy."""
