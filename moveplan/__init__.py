"""Plans moving a living reef aquarium to another home or into a larger tank."""

__version__ = "0.1.0"
