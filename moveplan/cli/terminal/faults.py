"""A fault of the program in words: a report that can be sent as it stands."""

from __future__ import annotations

from moveplan import __version__
from moveplan.errors import Fault

MOST = 12
"""Faults that are told one by one; what broke once often breaks many, and the first name the place. [-]"""


def fault_text(faults: tuple[Fault, ...]) -> str:
    """Say what is broken, with every code, id and number.

    Parameters
    ----------
    faults : tuple of Fault
        What the checks of a result found.
    """
    from moveplan.compiled import template_folder
    from moveplan.kept import table_of
    from moveplan.outputs.wording.templates import environment

    words = table_of(template_folder() / "terminal" / "faults.toml")
    rows = [(fault, _said(words, fault)) for fault in faults]
    template = environment("text").get_template("terminal/fault.txt.j2")
    return template.render(version=__version__, rows=rows, most=MOST)


def _said(words: dict[str, str], fault: Fault) -> str:
    """Fill the words of a code; without any, which is no reason to say nothing, the code stands for itself."""
    try:
        return words[fault.code].format(tasks=fault.tasks, ids=fault.ids, values=fault.values)
    except (KeyError, IndexError):
        return "-"
