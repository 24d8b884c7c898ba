"""Plans moving a living reef aquarium to another home or into a larger tank."""

__version__ = "0.1.0"

RUNS = 10_000
"""Runs of the simulation where nobody says; its shares are then good to about half a percent. [-]"""
SECONDS = 2.0
"""Effort of the search where nobody says, about as long as one waits without wondering; assumed. [s]"""
SEED = 1
"""Of every random choice where nobody says; any number would do. [-]"""
