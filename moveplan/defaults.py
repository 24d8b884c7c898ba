"""How hard a schedule is looked for and judged where nobody says: the same for commands and for programs."""

from __future__ import annotations

RUNS = 10_000
"""Runs of the simulation; its shares are then good to about half a percent. [-]"""
SECONDS = 2.0
"""Effort of the search, about as long as somebody waits without wondering; assumed. [s]"""
SEED = 1
"""Of every random choice; any number would do. [-]"""
