"""Files beside the plan: tables of animals and gear, the keeper's own kinds and prices."""
