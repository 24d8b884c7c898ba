from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from moveplan.network.graph import Network
from moveplan.network.link import Hold, Link
from moveplan.network.task import Crew, Task, Timing
from moveplan.scheduling.construct.improve import lead_tasks_early_in_the_day
from moveplan.scheduling.improve.daybreak import begun_early
from moveplan.scheduling.improve.even import scheme_of
from moveplan.scheduling.objective.aims import EXPOSURE, MONEY, values
from moveplan.scheduling.problem import Gear, Person, SchedulingProblem, TiedDay
from moveplan.scheduling.state.desk import Desk, Spot
from moveplan.scheduling.state.frame import Frame, frame_of
from moveplan.scheduling.state.model import model_of
from moveplan.times import Interval
from tests.network.builders import task
from tests.scheduling.instances import DAY, day, hours, move
from tests.scheduling.searched import broken, searched

HOUR = 60


def _day(*tasks: Task, until: int = 20, second_from: int = 8, drive: int = 0) -> tuple[Frame, Desk]:
    """Tasks one after the other from noon on day 1, by one person each; the first lives an hour's drive away or not."""
    links = tuple(Link(one.id, other.id) for one, other in pairwise(tasks))
    people = (
        Person("ann", "Ann", (hours(1, 8, until),), home="away" if drive else ""),
        Person("bob", "Bob", (hours(1, second_from, until),)),
    )
    problem = SchedulingProblem(
        Network(tasks, links, (), (("settled", tasks[-1].id),)),
        0,
        3 * DAY,
        tuple(day(n) for n in range(3)),
        people=people,
        tied_days=(TiedDay("move", (day(1),)),),
        drives=(("away", "home", drive),) if drive else (),
        grid_min=5,
    )
    frame = frame_of(model_of(problem))
    desk, moment = Desk(frame.model), DAY + 12 * HOUR
    for at, one in enumerate(tasks):
        desk.put(at, Spot(moment, moment + one.minutes, ((moment, moment + one.minutes),), ((at % 2,),)))
        moment += one.minutes
    return frame, desk


def _tied(name: str, minutes: int = HOUR, **more: object) -> Task:
    return task(name, minutes, crew=Crew(1), day="move", **more)


def _starts(desk: Desk) -> list[int]:
    return [spot.start - DAY for spot in desk.spots if spot is not None]


def test_the_day_begins_when_those_who_begin_it_are_there() -> None:
    frame, desk = _day(_tied("out"), _tied("in"))
    assert _starts(begun_early(frame, desk)) == [8 * HOUR, 9 * HOUR]
    assert _starts(desk) == [12 * HOUR, 13 * HOUR]


def test_the_day_waits_for_those_who_come_later() -> None:
    frame, desk = _day(_tied("out"), _tied("in"), second_from=11)
    assert _starts(begun_early(frame, desk)) == [10 * HOUR, 11 * HOUR]


def test_the_day_waits_for_a_date() -> None:
    frame, desk = _day(_tied("out"), _tied("in", not_before=DAY + 12 * HOUR))
    assert _starts(begun_early(frame, desk)) == [11 * HOUR, 12 * HOUR]


@pytest.mark.parametrize("begins", [8, 9])
def test_nothing_is_moved_that_cannot_begin_earlier(begins: int) -> None:
    frame, desk = _day(_tied("out", not_before=DAY + 12 * HOUR), _tied("in"), second_from=begins)
    assert begun_early(frame, desk) is desk


def test_whoever_drives_there_first_is_waited_for() -> None:
    frame, desk = _day(_tied("out", place="home"), _tied("in", place="home"), drive=10 * HOUR)
    assert _starts(begun_early(frame, desk)) == [8 * HOUR, 9 * HOUR]  # the night before is long enough
    errand = task("errand", HOUR, crew=Crew(1), place="away")
    problem = frame.model.problem
    with_errand = SchedulingProblem(
        Network((*problem.network.tasks, errand), problem.network.links, (), problem.network.milestones),
        problem.start,
        problem.horizon,
        problem.days,
        people=(Person("ann", "Ann", (Interval(0, DAY + 20 * HOUR),), home="away"), problem.people[1]),
        tied_days=problem.tied_days,
        drives=problem.drives,
        grid_min=5,
    )
    frame = frame_of(model_of(with_errand))
    fuller = Desk(frame.model)
    for at, spot in enumerate(desk.spots):
        assert spot is not None
        fuller.put(at, spot)
    fuller.put(2, Spot(DAY - 2 * HOUR, DAY - HOUR, ((DAY - 2 * HOUR, DAY - HOUR),), ((0,),)))
    assert _starts(begun_early(frame, fuller))[:2] == [9 * HOUR, 10 * HOUR]


@pytest.mark.parametrize(("mornings", "begins"), [(0, 8), (9, 9)])
def test_gear_that_is_held_through_the_day_is_no_hindrance_on_another(mornings: int, begins: int) -> None:
    frame, desk = _day(_tied("fill"), _tied("warm"))
    before, after = (task(name, HOUR, gear=(("heater", 1),)) for name in ("mix", "next"))
    network = frame.model.problem.network
    tasks = (*network.tasks, before, after)
    holds = (Hold("heater", 1, "fill", "warm"),)
    network = replace(network, tasks=tasks, holds=holds)
    frame = frame_of(
        model_of(replace(frame.model.problem, network=network, gear=(Gear("heater", "Heater", 1),)))
    )
    held = Desk(frame.model)
    for at, spot in enumerate(desk.spots):
        assert spot is not None
        held.put(at, spot)
    for at, begin in ((2, DAY + (mornings - 1) * HOUR if mornings else 0), (3, 2 * DAY + 8 * HOUR)):
        held.put(at, Spot(begin, begin + HOUR, ((begin, begin + HOUR),)))
    assert _starts(begun_early(frame, held))[:2] == [begins * HOUR, (begins + 1) * HOUR]


@settings(max_examples=25, deadline=None)
@given(st.integers(20, 60), st.integers(2, 4), st.integers(0, 10_000))
def test_every_limit_is_kept_and_the_day_is_the_same(size: int, people: int, seed: int) -> None:
    problem = move(size, people, seed)
    frame, found = searched(problem)
    desk = found.desk
    if desk is None:
        return
    early = begun_early(frame, desk)
    assert broken(problem, early) == ()
    assert dict(values(early))[EXPOSURE] == dict(values(desk))[EXPOSURE]
    assert dict(values(early))[MONEY] <= dict(values(desk))[MONEY]
    moved = {
        old.start - new.start
        for job, old, new in zip(frame.model.jobs, desk.spots, early.spots, strict=True)
        if old is not None and new is not None and job.tag >= 0
    }
    assert len(moved) == 1
    assert min(moved) >= 0


@settings(max_examples=20, deadline=None)
@given(st.integers(20, 60), st.integers(2, 4), st.integers(0, 10_000))
def test_lead_tasks_keep_their_day_and_their_hands_and_no_limit_is_broken(
    size: int, people: int, seed: int
) -> None:
    problem = move(size, people, seed)
    frame, found = searched(problem)
    if found.desk is None:
        return
    scheme = scheme_of(frame, found, found.desk)
    lead_tasks_early_in_the_day(scheme)
    assert broken(problem, scheme.desk) == ()
    for job, old, new in zip(frame.model.jobs, found.desk.spots, scheme.desk.spots, strict=True):
        assert old is not None
        assert new is not None
        assert new == old or (job.late and new.start < old.start and new.crews == old.crews)
        assert frame.model.day_of(new.start) == frame.model.day_of(old.start)


def test_a_lead_task_in_the_evening_goes_to_the_morning() -> None:
    lead = task("pack", HOUR, crew=Crew(1), timing=Timing.LATE)
    problem = SchedulingProblem(
        Network((lead, _tied("out")), (Link("pack", "out"),), (), (("settled", "out"),)),
        0,
        3 * DAY,
        tuple(day(n) for n in range(3)),
        people=(Person("ann", "Ann", tuple(hours(n, 8, 20) for n in range(3))),),
        tied_days=(TiedDay("move", (day(1),)),),
    )
    frame, found = searched(problem)
    assert found.desk is not None
    scheme = scheme_of(frame, found, found.desk)
    scheme.desk.take(0)
    scheme.desk.put(0, Spot(18 * HOUR, 19 * HOUR, ((18 * HOUR, 19 * HOUR),), ((0,),)))
    lead_tasks_early_in_the_day(scheme)
    spot = scheme.desk.spots[0]
    assert spot is not None
    assert spot.start == 8 * HOUR
