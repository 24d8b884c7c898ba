"""The weeks after and between: watching, recovery, holding, boarding, closing."""
