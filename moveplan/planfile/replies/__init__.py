"""Answers of the interview that name animals and people, or say several things at once."""
