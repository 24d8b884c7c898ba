"""Weights and what carries them: vehicles, trips, lifting, floors, the road."""
