"""What is promised together, in how many runs it holds, and what people are told."""
