"""Changes of a plan that may make it surer: as values, with what to write into the plan file."""
