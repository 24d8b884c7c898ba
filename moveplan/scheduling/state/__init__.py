"""The problem with positions for ids, and where everybody and everything stands so far."""
