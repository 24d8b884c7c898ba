"""How values become words: templates, names, facts, and escapes for the kind of document."""
