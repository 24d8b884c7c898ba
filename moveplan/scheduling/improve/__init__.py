"""What is mended on a complete schedule."""
