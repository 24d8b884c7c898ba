"""The files that people get, a module each."""
