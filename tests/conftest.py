"""Every run of the tests tries the same examples, whatever the machine and the hour, save for a campaign.

``FUZZ_CASES=20000 python -m pytest tests/properties/test_hostile.py`` is a campaign: so many cases of each kind, others
each time; ``--hypothesis-seed`` repeats one.
"""

import os

from hypothesis import settings

settings.register_profile("repeatable", derandomize=True, database=None, deadline=None)
settings.register_profile("campaign", database=None, deadline=None, print_blob=True)
settings.load_profile("campaign" if os.environ.get("FUZZ_CASES") else "repeatable")
