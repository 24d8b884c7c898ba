"""Which containers the animals and everything wet travel in."""
