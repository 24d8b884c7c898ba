"""Every run of the tests tries the same examples, whatever the machine and the hour."""

from hypothesis import settings

settings.register_profile("repeatable", derandomize=True, database=None, deadline=None)
settings.load_profile("repeatable")
