"""What makes one schedule better than another."""
