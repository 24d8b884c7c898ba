"""All jobs checked together, by code that shares nothing with what placed them."""
