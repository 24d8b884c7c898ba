"""The leg of a move in one day: containers numbered, water mixed, tanks refilled, vehicles loaded."""
