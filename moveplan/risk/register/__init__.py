"""What may go wrong: the usual entries, what the plan changes in them, ranked."""
