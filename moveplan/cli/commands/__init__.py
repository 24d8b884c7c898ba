"""The commands that plan and tell, a module each."""
