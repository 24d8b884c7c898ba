"""Ammonia, nitrite and the bacteria of a filter."""
