"""``checklist.md``: what to do, by phase and day, with boxes to tick."""

from __future__ import annotations

from moveplan.outputs.outlook import Outlook
from moveplan.outputs.wording.documents import render


def checklist_md(outlook: Outlook) -> str:
    """Write the checklist; where the plan cannot be followed it says so first and lists no tasks.

    Returns
    -------
    str
        Markdown that reads well as plain text.
    """
    return render(outlook, "markdown", "checklist.md.j2")
