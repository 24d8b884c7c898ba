"""What now: whose turn it is, what waits, what failed, and who takes over."""
