"""Animals: mass, oxygen use, kinds, what capture does, and how fast they may be moved to other water."""
