"""Water: volumes, old and new, how fast it is poured, how warm it arrives."""
