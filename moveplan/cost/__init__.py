"""What it costs: lines derived from quantities and the schedule, never typed twice.

May import ``risk``, ``practice`` and all below. Amounts are decimal, exact to the cent.
"""
