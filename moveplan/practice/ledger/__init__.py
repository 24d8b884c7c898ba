"""Every litre and every container of a move: entries, bins, bodies of water, and what the whole of it needs."""
