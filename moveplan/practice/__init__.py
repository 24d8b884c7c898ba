"""What good practice demands: which tasks a move needs, in which order, and why.

One module a phase; ``compose.py`` makes a move out of phases. Answers with a ``Project``: a network whose
tasks name this plan's quantities, the route of every animal, the loads, and the cautions. May import
``quantities`` and all that stands below it.
"""
