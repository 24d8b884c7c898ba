"""Oxygen and carbon dioxide in water and in the air above it, and how long a container lasts by them."""
