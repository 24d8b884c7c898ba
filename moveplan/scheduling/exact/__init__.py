"""The constraint solver from the serial schedule on, one aim after the other."""
