"""``moveplan look-back``: planned against real, and what to assume next time."""

from __future__ import annotations

from moveplan.cli.options import AsJson, JournalNow, PlanPath


def look_back(plan: PlanPath, now: JournalNow = "", as_json: AsJson = False) -> None:
    """Compare what was last agreed with what happened, and offer what was learnt to the next plan.

    Example: moveplan look-back my_move.yaml
    """
    from moveplan.cli.recording.diary import open_diary
    from moveplan.cli.terminal.pocket import print_back

    print_back(open_diary(plan, now), as_json=as_json)
