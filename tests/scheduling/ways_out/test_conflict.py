"""What is said when there is no schedule: each layer's sentence whole, and ways out that work."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from moveplan.network.graph import Network
from moveplan.network.link import Hold, Link, Relation
from moveplan.network.task import Crew
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.impossible.cores import core
from moveplan.scheduling.impossible.demands import Demands
from moveplan.scheduling.problem import Gear, Person, SchedulingProblem, TiedDay, Vehicle
from moveplan.scheduling.schedule import Status
from moveplan.scheduling.solve import solve
from moveplan.scheduling.state.frame import frame_of
from moveplan.scheduling.state.model import model_of
from moveplan.scheduling.ways_out.conflict import not_placed
from moveplan.times import Interval
from tests.network.builders import link, task
from tests.scheduling.instances import DAY, day, hours, move
from tests.scheduling.shops import gapped

QUICK = Effort(seconds=0.5)


def _said(
    problem: SchedulingProblem, status: Status = Status.INFEASIBLE, effort: Effort = QUICK
) -> list[str]:
    found = solve(problem, effort)
    assert found.status is status
    assert found.placements == ()
    return [str(reason) for reason in found.reasons]


def test_more_people_than_there_are() -> None:
    lift = task("lift", 30, crew=Crew(3), where="p.yaml:9 tasks.lift")
    problem = SchedulingProblem(Network((lift,)), 0, DAY, people=(Person("p", "P", (hours(0, 8, 20),)),))
    assert _said(problem) == [
        "p.yaml:9 tasks.lift: lift needs 3 people; there is 1; get 2 more people from 8 h to 8 h 30 min "
        "after the start (1 h of work in all) (it was tried and works)"
    ]


def test_a_skill_that_nobody_has() -> None:
    drive = task("drive", 30, crew=Crew(1, (("drives", 1),)))
    problem = SchedulingProblem(Network((drive,)), 0, DAY, people=(Person("p", "P", (hours(0, 8, 20),)),))
    assert _said(problem) == [
        'drive needs 1 with "drives: yes"; there is none; write "drives: yes" for one of p, '
        "or add somebody who has it"
    ]


def test_a_skill_that_many_tasks_lack_is_told_once() -> None:
    crew = Crew(1, (("cares", 1),))
    tasks = (task("catch", 30, crew=crew), task("release", 30, crew=crew), task("lift", 30, crew=Crew(1)))
    person = Person("p", "P", (hours(0, 8, 20),), where="p.yaml:3 people.p")
    problem = SchedulingProblem(Network(tasks), 0, DAY, people=(person,))
    assert _said(problem) == [
        'p.yaml:3 people.p: catch and release need 1 with "cares: yes"; there is none; '
        'write "cares: yes" for one of p, or add somebody who has it'
    ]


def test_two_of_a_skill_where_one_has_it() -> None:
    both = task("lift", 30, crew=Crew(2, (("lifts", 2),)), where="p.yaml:9 tasks.lift")
    people = (
        Person("a", "A", (hours(0, 8, 20),), skills=("lifts",)),
        Person("b", "B", (hours(0, 8, 20),)),
    )
    assert _said(SchedulingProblem(Network((both,)), 0, DAY, people=people)) == [
        'p.yaml:9 tasks.lift: lift needs 2 with "lifts: yes"; there is 1 (a); get one more person '
        "from 8 h to 8 h 30 min after the start (30 min of work) (it was tried and works)"
    ]


def test_gear_of_which_there_is_none() -> None:
    problem = SchedulingProblem(
        Network((task("fill", 30, gear=(("pumps", 1),)),)), 0, DAY, gear=(Gear("pumps", "Pumps", 0),)
    )
    assert _said(problem) == [
        "fill needs 1 Pumps; there is none; provide 1 more Pumps (it was tried and works)"
    ]


def test_ids_that_are_not_there() -> None:
    one = task("fill", 30, gear=(("pumps", 1),), vehicles=("van",), crew=Crew(1, (), ("ann",)))
    assert _said(SchedulingProblem(Network((one,)), 0, DAY)) == [
        'fill names person "ann", which there is not; name a person there is',
        'fill names vehicle "van", which there is not; name a vehicle there is',
        'fill names kind of gear "pumps", which there is not; name a kind of gear there is',
    ]


def test_nobody_is_free_in_the_only_hire_window() -> None:
    drive = task("drive", 60, crew=Crew(1), vehicles=("van",), where="p.yaml:5")
    problem = SchedulingProblem(
        Network((drive,)),
        0,
        3 * DAY,
        people=(Person("p", "Ann", (hours(0, 17, 21),)),),
        vehicles=(Vehicle("van", "Van", (hours(1, 8, 18),)),),
    )
    assert _said(problem) == [
        "p.yaml:5: drive takes 1 h at a stretch; Van and Ann have no time together between 0 min and 3 days after the "
        "start; get one more person from 1 day 8 h to 1 day 9 h after the start (1 h of work), or have Van from "
        "17 h to 18 h after the start (each was tried and works)"
    ]


def test_gaps_that_contradict_each_other_with_their_arithmetic() -> None:
    network = Network(
        (task("catch", 60), task("drive", 240), task("release", 90)),
        (link("catch", "drive"), link("drive", "release"), link("catch", "release", "SF", None, 360)),
    )
    assert _said(SchedulingProblem(network, 0, DAY)) == [
        "from the start of catch to the finish of release 6 h 30 min are needed; allowed are 6 h; 30 min short (tasks: "
        "drive (4 h), release (1 h 30 min) and catch (1 h)); allow 6 h 30 min from the start of catch to the finish of "
        "release (it was tried and works)"
    ]


def test_a_finish_by_before_the_earliest_finish() -> None:
    network = Network((task("a", 120), task("b", 60, finish_by=170)), (Link("a", "b"),))
    (said,) = _said(SchedulingProblem(network, 0, DAY))
    assert said.endswith("let b finish by 3 h 5 min after the start, 15 min later (it was tried and works)")


def test_more_work_than_hours() -> None:
    tasks = tuple(task(f"t{n}", 60, crew=Crew(1), finish_by=DAY) for n in range(5))
    problem = SchedulingProblem(Network(tasks), 0, 3 * DAY, people=(Person("p", "Ann", (hours(0, 8, 12),)),))
    assert _said(problem) == [
        "t0, t1, t2, t3 and t4 need 5 h of Ann between 8 h and 12 h after the start, but Ann has 4 h in that time; 1 h "
        "short; get one more person from 0 min to 5 h after the start (5 h of work) (it was tried and works)"
    ]


def test_a_day_with_more_work_than_hours() -> None:
    tasks = tuple(task(f"t{n}", 200, crew=Crew(1), day="move") for n in range(2))
    problem = SchedulingProblem(
        Network(tasks),
        0,
        4 * DAY,
        tuple(day(n) for n in range(4)),
        people=(Person("p", "Ann", (hours(0, 8, 14), hours(1, 8, 14), hours(2, 8, 14), hours(3, 8, 20))),),
        tied_days=(TiedDay("move", (day(1),), "p.yaml:3"),),
    )
    (said,) = _said(problem)
    assert said.startswith(
        "t0 and t1 need 6 h 40 min of Ann between 1 day 8 h and 2 days after the start, but Ann has 6 h in that time; "
        "40 min short"
    )
    assert "take a move day 2 days after the last one allowed" in said


def _held_too_long() -> SchedulingProblem:
    """Two groups need the same tubs; both must be out before the drive and in after it."""
    tasks = tuple(task(name, 30) for name in ("catch-1", "catch-2", "drive", "release-1", "release-2"))
    links = (
        Link("catch-1", "drive"), Link("catch-2", "drive"), Link("drive", "release-1"), Link("drive", "release-2"),
    )  # fmt: skip
    holds = (Hold("tubs", 2, "catch-1", "release-1"), Hold("tubs", 2, "catch-2", "release-2"))
    return SchedulingProblem(Network(tasks, links, holds), 0, 3 * DAY, gear=(Gear("tubs", "Tubs", 3),))


def test_gear_that_is_in_use_at_once_in_whatever_order() -> None:
    assert _said(_held_too_long()) == [
        "4 Tubs are in use at once in whatever order: 2 from catch-1 until release-1 and 2 from catch-2 until "
        "release-2; "
        "there are 3; provide 1 more Tubs (it was tried and works)"
    ]


def _split_in_two() -> SchedulingProblem:
    """The pump is taken in the middle, and what is left on either side is too short."""
    use = (("pump", 1),)
    tasks = (
        task("drain", 20, gear=use, not_before=40, finish_by=60, where="p.yaml:5"),
        task("fill", 50, gear=use, finish_by=100, where="p.yaml:6"),
        task("look", 5),
    )
    return SchedulingProblem(Network(tasks), 0, DAY, gear=(Gear("pump", "Pump", 1, "p.yaml:9"),))


def test_a_contradicting_set_from_which_nothing_can_be_left_out() -> None:
    assert _said(_split_in_two()) == [
        "p.yaml:5: these cannot all hold: drain not before 40 min after the start (p.yaml:5); drain finished by 1 h "
        "after the start (p.yaml:5); fill finished by 1 h 40 min after the start (p.yaml:6); no more than 1 Pump in "
        "use "
        "at a time (p.yaml:9); let drain start 15 min earlier, or let drain finish by 1 h 15 min after the start, 15 "
        "min "
        "later, or let fill finish by 1 h 55 min after the start, 15 min later, or provide 1 more Pump (each was tried "
        "and works)"
    ]


@pytest.mark.parametrize("seed", [2, 8, 17, 33])
def test_cores_are_irreducible(seed: int) -> None:
    """Whatever member is left out, the rest has a schedule; all together have none."""
    problem = gapped(20, seed, [0.3, 0.6][seed % 2], [0.02, 0.08, 0.2, 0.4][seed % 4])
    found = core(model_of(problem), Effort(), 2.0)
    assert found is not None
    assert found.irreducible
    demands = Demands(model_of(problem))
    texts = [demand.text for demand in found.demands]
    assert set(texts) <= {demand.text for demand in demands.demands}
    for left_out in texts:
        rest = [text for text in texts if text != left_out]
        assert _holds_together(problem, rest)
    assert not _holds_together(problem, texts)


def _holds_together(problem: SchedulingProblem, texts: list[str]) -> bool:
    """Ask the engine, with every other link and stock taken away."""
    from moveplan.scheduling.impossible.demands_words import said_of_link

    links = []
    for one in problem.network.links:
        least = one.min_gap_min if said_of_link(problem.network, one, most=False) in texts else None
        most = one.max_gap_min if said_of_link(problem.network, one, most=True) in texts else None
        links.append(replace(one, min_gap_min=least, max_gap_min=most))
    stock = tuple(
        g
        if any(t.endswith(f"{g.count} {g.name} in use at a time") for t in texts)
        else replace(g, count=10**6)
        for g in problem.gear
    )
    loose = replace(problem, network=replace(problem.network, links=tuple(links)), gear=stock)
    return bool(solve(loose, Effort(seconds=3.0)).placements)


def test_without_the_solver_nothing_is_called_impossible_without_proof() -> None:
    (said,) = _said(_split_in_two(), Status.UNKNOWN, Effort(seconds=0.1, engine="serial"))
    assert said == (
        "p.yaml:6: no schedule found yet: fill found no place from 0 min after the start on; needed: Pump; "
        "raise --solver-seconds, or give these tasks more room"
    )


def test_what_found_no_place_is_said_in_one_sentence_however_much_it_is() -> None:
    frame = frame_of(model_of(move(40, 3, 1)))
    problem = not_placed(frame, range(len(frame.model.jobs)))
    assert re.match(
        r"no schedule found yet: [\w-]+ and \d+ more that belong to it found no place from ", problem.message
    )
    assert len(problem.message) < 240


def test_too_few_tubs_for_a_whole_move() -> None:
    problem = move(40, 3, 1)
    few = replace(problem, gear=(replace(problem.gear[0], count=3),))
    (said,) = _said(few, effort=Effort(seconds=2.0))
    assert said.startswith(
        "4 Tubs are in use at once in whatever order: 2 from catch-0 until release-0 and 2 from "
    )
    assert "provide 1 more Tubs" in said


def test_a_safe_time_too_short_for_the_drive() -> None:
    problem = move(40, 3, 1)
    links = tuple(
        replace(one, max_gap_min=100, where="p.yaml:31") if one.relation is Relation.FINISHTOFINISH else one
        for one in problem.network.links
    )
    said = _said(replace(problem, network=replace(problem.network, links=links)))
    assert said[0].startswith("p.yaml:31: from the finish of catch-")
    assert "allowed are 1 h 40 min" in said[0]


def test_a_person_away_on_every_possible_day() -> None:
    problem = move(40, 2, 1)
    away = tuple(replace(p, available=(Interval(0, 60),)) if p.id == "p0" else p for p in problem.people)
    assert _said(replace(problem, people=away))[0]
