from __future__ import annotations

from moveplan.estimate import Provenance
from moveplan.network.link import Relation
from moveplan.practice.own_tasks import PHASE, own_links, own_network, own_problem
from tests.cli.command import FOOTBRIDGE
from tests.quantities.plans import plan_of

START = 60 * 24 * (365 * 57 + 14 + 31 + 28) + 8 * 60
"""08:00 on 1 March 2027, UTC, in minutes since 1970: 57 years with 14 leap days, January, February."""


def test_tasks_are_taken_as_they_are_written() -> None:
    network = own_network(plan_of(FOOTBRIDGE))
    footing, deck, rail = network.tasks
    assert [task.id for task in network.tasks] == ["footing", "deck", "rail"]
    assert (footing.title, deck.title) == ("Pour the footing", "deck")
    assert [task.minutes for task in network.tasks] == [180, 1440, 90]
    assert all(task.phase == PHASE for task in network.tasks)
    assert all(task.estimate.provenance is Provenance.GIVEN for task in network.tasks)
    assert footing.gear == (("pumps", 1),)
    assert footing.crew is None
    assert rail.may_pause
    assert rail.not_before == START + 25 * 60
    assert rail.finish_by == START + 4 * 1440 + 9 * 60
    assert rail.where == "plan.yaml:15 tasks.rail"


def test_links_keep_relation_gap_and_line() -> None:
    plain, spread = own_links(plan_of(FOOTBRIDGE))
    assert (plain.relation, plain.min_gap_min, plain.max_gap_min) == (Relation.FINISHTOSTART, 0, None)
    assert (spread.relation, spread.min_gap_min, spread.max_gap_min) == (Relation.STARTTOSTART, 30, 240)
    assert spread.where == "plan.yaml:18 tasks.rail.after"


def test_the_problem_is_kept_to_the_minute_and_begins_at_the_start() -> None:
    problem = own_problem(plan_of(FOOTBRIDGE))
    assert problem.grid_min == 1
    assert problem.start == START
    assert problem.people == ()
    assert [(gear.id, gear.count) for gear in problem.gear] == [("pumps", 2)]


def test_the_horizon_is_long_enough_for_all_tasks_one_after_the_other() -> None:
    problem = own_problem(plan_of(FOOTBRIDGE))
    work = sum(task.minutes for task in problem.network.tasks)
    assert problem.horizon >= problem.start + 25 * 60 + work
    assert problem.horizon < problem.start + 60 * 1440


def test_people_bring_their_hours_and_a_longer_horizon() -> None:
    text = FOOTBRIDGE.replace(
        "gear:\n  - {id", "people:\n  ana: {hours: {mon: 08:00-12:00}}\ngear:\n  - {id"
    ).replace("    duration: 90 min", "    duration: 90 min\n    people: [ana]")
    problem = own_problem(plan_of(text))
    assert [person.id for person in problem.people] == ["ana"]
    assert problem.people[0].available[0].start == START
    assert problem.horizon > own_problem(plan_of(FOOTBRIDGE)).horizon
    rail = problem.network.tasks[2]
    assert rail.crew is not None
    assert rail.crew.named == ("ana",)
