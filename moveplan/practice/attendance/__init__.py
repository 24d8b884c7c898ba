"""Where people are on a moving day, by the schedule: who rides, whose day is long, and who is with the animals."""
