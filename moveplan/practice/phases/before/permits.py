"""Papers, where the animals cross a border."""

from __future__ import annotations

from moveplan.network.task import Kind, Timing
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import DAY, WEEK, hands, usual


def add_permits(move: Draft) -> None:
    """Add permits and health papers where the two homes lie in different countries.

    Parameters
    ----------
    move : Draft
        With the decision to move.
    """
    old, new = move.legs[0].old, move.final.new
    if old.country == new.country:
        return
    move.phase("permits")
    listed = [group.name for group in move.plan.livestock if not group.wished]
    words: dict[str, object] = {
        "origin": old.country,
        "target": new.country,
        "listed": listed,
        "vet": move.vet(),
    }
    move.add(
        "ask-permits", usual(60, 120, 240, "letters to two authorities"), crew=move.keeper(), words=words
    )
    answer = usual(6 * WEEK, 10 * WEEK, 20 * WEEK, "authorities answer in weeks to months")
    move.add("wait-permits", answer, kind=Kind.WAIT, words=words)
    move.add(
        "permits-in-hand",
        usual(15, 20, 30, "reading every page"),
        kind=Kind.HOLD_POINT,
        crew=hands(1),
        words=words,
    )
    move.add(
        "health-papers",
        usual(60, 90, 180, "a vet looks at the animals and signs"),
        crew=hands(1, "cares"),
        place=old.id,
        words=words,
        timing=Timing.LATE,
        margin_min=2 * DAY,
    )
    move.chain("agree-plan", "ask-permits", "wait-permits", "permits-in-hand", "health-papers")


def link_permits(move: Draft) -> None:
    """Tie the papers to the decision of the eve; health papers are valid for days only."""
    if move.has("health-papers"):
        move.link("health-papers", "go-or-no-go", at_most=8 * DAY)
