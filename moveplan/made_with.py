"""What a result was made with: the program, Python, and the libraries that its hours and words depend on."""

from __future__ import annotations

import platform
from importlib import metadata

from moveplan import __version__

LIBRARIES = ("ortools", "numpy", "gsw", "networkx", "babel", "holidays", "tzdata", "icalendar")
"""Libraries that decide hours, dates, quantities or words; others only read and write."""


def made_with() -> dict[str, str]:
    """Versions by name; a library that is not installed is left out.

    Returns
    -------
    dict of str to str
        The program first, then Python.

    >>> list(made_with())[:2]
    ['moveplan', 'python']
    """
    found = {"moveplan": __version__, "python": platform.python_version()}
    for name in LIBRARIES:
        try:
            found[name] = metadata.version(name)
        except metadata.PackageNotFoundError:
            continue
    return found
