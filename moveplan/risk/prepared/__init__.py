"""A scheduled project made ready for the runs: network, hours, stays of animals."""
