"""The dates of a plan as an iCalendar file that can be imported again and again.

Answers: which events stand in the calendar, what changed since the last export, and how is that spelled so
that every reader understands the same? ``export.py`` shows the whole way: ``events.py`` and ``todos.py`` make
neutral values from the schedule, ``write.py`` spells them, ``previous.py`` reads the calendar that is replaced,
``ledger.py`` carries its stamps over. What stands there in the octets that ``spelled.py`` would write is not parsed
again. The library ``icalendar`` escapes, folds and parses; ``spelling.py`` guards what it lets pass, ``zones.py``
describes the time zones, which it gets wrong.
"""
