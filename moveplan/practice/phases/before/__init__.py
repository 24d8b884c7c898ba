"""The weeks before: bookings, gear, water, tests, a new tank."""
