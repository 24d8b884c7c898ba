"""What fits into no day but for the limits of the animals is scheduled past them, and says whose are passed."""

from __future__ import annotations

from dataclasses import replace

from moveplan.network.link import Link, Relation
from moveplan.practice.project import Project
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.solve import solve
from moveplan.stages.judged import judge
from moveplan.stages.past_limits import too_long, without_limits
from moveplan.stages.reading import Settings
from moveplan.stages.scheduled import schedule
from tests.examples import project, scheduled

QUICK = Settings(runs=200, effort=Effort(seconds=0.1, engine="serial", ways_out=False))


def limits(found: Project) -> list[Link]:
    """The greatest gaps that end a stay."""
    return [
        link
        for link in found.network.links
        if link.relation is Relation.STARTTOFINISH and link.max_gap_min is not None
    ]


def hurried(found: Project, minutes: int) -> Project:
    """Let no stay last longer than so many minutes."""
    links = tuple(
        replace(link, max_gap_min=minutes) if link in limits(found) else link for link in found.network.links
    )
    stops = tuple(
        replace(
            route,
            stops=tuple(
                replace(
                    stop, safe=replace(stop.safe, estimate=replace(stop.safe.estimate, low=float(minutes)))
                )
                if stop.safe
                else stop
                for stop in route.stops
            ),
            allowance_min=0,
        )
        for route in found.routes
    )
    network = replace(found.network, links=links)
    scheduling = replace(found.scheduling, network=network)
    return replace(found, network=network, scheduling=scheduling, routes=stops)


def test_the_limits_of_the_animals_are_all_that_is_taken_out() -> None:
    found = project("small_tank_move")
    loose = without_limits(found)
    gone = set(found.network.links) - set(loose.network.links)
    assert gone == set(limits(found)) != set()
    assert without_limits(loose) is loose
    assert loose.scheduling.network == loose.network


def test_a_schedule_that_keeps_every_limit_names_nobody_and_one_minute_less_names_its_animals() -> None:
    found, placed = scheduled("small_tank_move")
    assert too_long(found, placed) == ()
    spans = {one.task: (one.start, one.finish) for one in placed.placements}
    longest = max(spans[link.after][1] - spans[link.before][0] for link in limits(found))
    assert too_long(hurried(found, longest), placed) == ()
    named = too_long(hurried(found, longest - 1), placed)
    assert named
    assert all("1 min short" in one.message and "livestock." in one.where for one in named)


def test_what_no_day_holds_is_planned_past_the_limits_and_is_not_safe() -> None:
    tight = hurried(project("small_tank_move"), 60)
    assert not solve(tight.scheduling, QUICK.effort).placements
    hung, found = schedule(tight, QUICK)
    assert found.placements
    assert limits(hung) == []
    outlook = judge(hung, found, QUICK)
    assert outlook.verdict == "unsafe"
    assert any("would be shut in for" in one.message for one in outlook.problems)
