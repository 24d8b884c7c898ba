"""Readings of waters: units, limits, doubts, gates, and when a cycle is done."""
