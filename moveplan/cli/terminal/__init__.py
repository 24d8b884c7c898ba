"""What a terminal shows, and how it is fitted to it."""
