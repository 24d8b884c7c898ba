"""Records that come in: what they name, whether they can be true, and each taken once."""
