"""Who does what when: the best order under working hours, hire windows, gear and greatest gaps.

Answers: on which day and hour, by whom, with which vehicle; or which demands contradict each other? Works on
any network and knows no aquarium. May import ``network`` and the small shared types. Start reading in
``problem.py`` (what goes in), ``schedule.py`` (what comes out) and ``solve.py`` (the one way in).
"""
