"""What changes a built firm: somebody is ill, one job more, a slip."""
