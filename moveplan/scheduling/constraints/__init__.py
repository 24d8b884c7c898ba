"""The problem as a model for the constraint solver."""
