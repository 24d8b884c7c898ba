"""Several reasons at once: each has ways out of its own, and those that another's end as well are not counted."""

from __future__ import annotations

import re
from dataclasses import replace

from moveplan.network.graph import Network
from moveplan.network.link import Link
from moveplan.network.task import Crew, Task
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.problem import Person, SchedulingProblem, Vehicle
from moveplan.scheduling.schedule import Schedule, Status
from moveplan.scheduling.solve import solve
from tests.network.builders import task
from tests.scheduling.instances import DAY, day, hours

QUICK = Effort(seconds=0.5)
VAN = Vehicle("van", "Van", (hours(0, 8, 10),), where="p.yaml:7 vehicles.van.hire")
DRIVE = task("drive", 300, crew=Crew(1), vehicles=("van",))
HAND_BACK = task("hand-back", 60, crew=Crew(1), finish_by=11 * 60, where="p.yaml:3 dates.keys-back")


def _problem(*tasks: Task, van: Vehicle = VAN) -> SchedulingProblem:
    people = (Person("p", "Ann", (hours(0, 8, 20), hours(1, 8, 20))),)
    links = tuple(Link(one.id, "hand-back") for one in tasks if one.id == "clean")
    return SchedulingProblem(
        Network(tasks, links), 0, 2 * DAY, (day(0), day(1)), people=people, vehicles=(van,)
    )


def _both() -> SchedulingProblem:
    return _problem(DRIVE, task("clean", 600, crew=Crew(1)), HAND_BACK)


def _solved(problem: SchedulingProblem) -> Schedule:
    found = solve(problem, QUICK)
    assert found.status is Status.INFEASIBLE
    return found


def test_each_reason_has_a_ruler_and_ways_out_and_the_one_that_lacks_most_stands_first() -> None:
    reasons = _solved(_both()).reasons
    assert [reason.where for reason in reasons] == ["p.yaml:3 dates.keys-back", "p.yaml:7 vehicles.van.hire"]
    assert [reason.lack and reason.lack.short_min for reason in reasons] == [8 * 60, 3 * 60]
    for reason in reasons:
        own = [way for way in reason.ways if way.remain]
        assert own
        assert all(way.tried and way.remain == 1 for way in own)
    assert "hand-back finish" in reasons[0].ways[0].text
    assert reasons[1].ways[0].text.startswith("have Van")
    assert "tried: this reason is gone then, 1 other reason remains" in reasons[1].remedy


def test_what_ends_all_of_it_together_was_tried_and_is_said_once() -> None:
    first, second = _solved(_both()).reasons
    (whole,) = [way for way in (*first.ways, *second.ways) if not way.remain]
    assert whole.tried
    assert re.search(r"have Van .* and let hand-back finish|let hand-back finish .* and have Van", whole.text)


def test_a_way_beside_a_reason_ends_it_where_the_others_are_ended_and_not_where_they_are_not() -> None:
    later = replace(HAND_BACK, finish_by=2 * DAY)
    longer = replace(VAN, available=(hours(0, 8, 20), hours(1, 8, 20)))
    clean = task("clean", 600, crew=Crew(1))
    assert solve(_problem(DRIVE, clean, later, van=longer), QUICK).placements
    assert [one.where for one in _solved(_problem(DRIVE, clean, later)).reasons] == [VAN.where]
    assert [one.where for one in _solved(_problem(DRIVE, clean, HAND_BACK, van=longer)).reasons] == [
        HAND_BACK.where
    ]


def test_one_reason_stays_one_and_keeps_the_ways_that_make_the_plan_possible() -> None:
    (reason,) = _solved(_problem(DRIVE)).reasons
    assert reason.ways
    assert all(way.remain == 0 for way in reason.ways)


def test_where_nothing_ends_one_of_them_all_are_told_and_no_way_is_said_to_be_tried() -> None:
    endless = task("endless", 3 * DAY, where="p.yaml:9 tasks.endless")
    reasons = _solved(_problem(DRIVE, endless)).reasons
    assert {reason.where for reason in reasons} == {VAN.where, endless.where}
    assert not any(reason.ways for reason in reasons)


def test_one_change_that_ends_all_reasons_stands_beside_each() -> None:
    vans = (VAN, replace(VAN, id="trailer", name="Trailer", where="p.yaml:8 vehicles.trailer.hire"))
    tasks = tuple(task(f"lift-{one.id}", 30, crew=Crew(3), where=one.where) for one in vans)
    reasons = _solved(_problem(*tasks)).reasons
    assert [reason.where for reason in reasons] == [one.where for one in vans]
    assert all("2 more people" in reason.ways[0].text for reason in reasons)
    assert "it ends this too" in reasons[1].remedy
