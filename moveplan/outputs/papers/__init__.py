"""What is laid out for people: the first screen, the list by date, run sheets; values, no words."""
