"""The way of moving in one day: taken down, driven, and rebuilt with the same tank, all between dawn and night."""

from __future__ import annotations

from moveplan.practice.draft import Draft
from moveplan.practice.phases import (
    aftercare,
    bookings,
    close,
    gear,
    ready,
    rebuild,
    release,
    road,
    survey,
    teardown,
    water,
)

WAY = "same-day"


def compose(move: Draft) -> tuple[tuple[str, str], ...]:
    """Add every phase of a move in one day.

    Parameters
    ----------
    move : Draft
        What they are added to. [-]

    Returns
    -------
    tuple of (str, str)
        Milestones: name and task. [-]
    """
    survey.add_decision(move)
    survey.add_survey(move)
    bookings.add_bookings(move)
    for facts in move.facts.systems:
        survey.add_inventory(move, facts)
        bookings.add_new_keepers(move, facts)
    gear.add_gear(move)
    water.add_water(move)
    ready.add_rehearsal(move)
    for facts in move.facts.systems:
        ready.add_care(move, facts)
    ready.add_eve(move)
    for facts in move.facts.systems:
        teardown.add_teardown(move, facts)
    road.add_road(move)
    for facts in move.facts.systems:
        rebuild.add_rebuild(move, facts)
        release.add_release(move, facts)
        aftercare.add_aftercare(move, facts)
    close.add_close(move)
    survey.link_survey(move)
    bookings.link_bookings(move)
    gear.link_gear(move)
    water.link_water(move)
    ready.link_ready(move)
    return (("ready", "go-or-no-go"), ("settled", move.facts.systems[-1].task("watch-evening")))
