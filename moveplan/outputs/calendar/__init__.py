"""The dates of a plan as an iCalendar file that can be imported again and again.

Answers: which events stand in the calendar, what changed since the last export, and how is that spelled so
that every reader understands the same? ``export.py`` shows the whole way: ``events.py`` and ``todos.py`` make
neutral values from the schedule, ``write.py`` spells them, ``ledger.py`` carries the stamps of the calendar that
is replaced. Content lines are written and read here, not by a library: the bytes must stay the same over
releases of libraries, a thousand events must take a moment only, and no text from a plan may open a line.
Tests read the files with three libraries instead.
"""

from moveplan.outputs.calendar.export import CalendarExport, calendar_bytes
from moveplan.outputs.calendar.ledger import Counts
from moveplan.outputs.calendar.options import CalendarOptions

__all__ = ["CalendarExport", "CalendarOptions", "Counts", "calendar_bytes"]
