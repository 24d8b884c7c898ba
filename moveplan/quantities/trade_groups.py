"""Trade groups that are handled alike."""

from __future__ import annotations

CORALS = ("soft-coral", "lps-coral", "sps-coral", "zoanthid", "gorgonian", "sponge", "clam", "anemone")
"""Travel submerged in racks."""
FISH = ("fish",)
"""Are caught."""
