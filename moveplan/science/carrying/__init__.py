"""Work by hand, lifting, loads and the road."""
