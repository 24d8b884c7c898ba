"""``moveplan next``: what to do now and next, from the journal and the clock; never solves."""

from __future__ import annotations

from moveplan.cli.options import AsJson, JournalNow, PlanPath


def next_(plan: PlanPath, now: JournalNow = "", as_json: AsJson = False) -> None:
    """Say what to do now and next, for each person, and how long each animal on its way has left.

    Example: moveplan next my_move.yaml
    """
    from moveplan.cli.recording.diary import open_diary
    from moveplan.cli.terminal.pocket import print_next

    print_next(open_diary(plan, now), as_json=as_json)
