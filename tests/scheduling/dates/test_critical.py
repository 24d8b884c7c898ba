from __future__ import annotations

import pytest

from moveplan.network.graph import Network
from moveplan.network.link import Link
from moveplan.network.task import Crew, Timing
from moveplan.scheduling.dates.critical import times
from moveplan.scheduling.dates.order import resource_order
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.problem import Gear, Person, SchedulingProblem
from moveplan.scheduling.schedule import Engine, Placement, Schedule, Status
from moveplan.scheduling.solve import solve
from moveplan.times import Interval
from tests.network.builders import link, passes, plain, task
from tests.scheduling.instances import DAY, hours, move
from tests.scheduling.shops import gapped, scarce

TABLE = {"A": ("", 5), "B": ("A", 3), "C": ("A", 2), "D": ("BC", 1), "E": ("", 4)}


def _solved(problem: SchedulingProblem) -> Schedule:
    found = solve(problem, Effort(seconds=0.2, engine="serial"))
    assert found.placements
    return found


def test_without_resources_dates_and_floats_are_those_of_the_network() -> None:
    network = plain(TABLE)
    problem = SchedulingProblem(network, 0, 100)
    rows, (early, late, _) = times(problem, _solved(problem)), passes(network)
    by_hand = {"A": (0, 0, 1), "B": (0, 0, 1), "C": (1, 1, 0), "D": (0, 0, 1), "E": (5, 5, 0)}
    for at, name in enumerate(TABLE):
        assert rows[name].early_start == early[at]
        assert rows[name].late_start == late[at]
        assert (rows[name].total_float_min, rows[name].free_float_min, rows[name].effect) == by_hand[name]
        assert rows[name].critical == (by_hand[name][0] == 0)


@pytest.mark.parametrize("seed", range(4))
def test_resource_order_makes_a_plain_network_with_the_same_finish(seed: int) -> None:
    """The links that the order adds explain the schedule: passes over them give the same finish."""
    problem = scarce(25, seed)
    found = _solved(problem)
    links = (*problem.network.links, *(order.link for order in resource_order(problem, found)))
    chained = Network(problem.network.tasks, links)
    early, _, finish = passes(chained)
    rows = times(problem, found)
    assert finish <= found.makespan_min
    for at, one in enumerate(problem.network.tasks):
        assert early[at] <= found.of(one.id).start
        assert rows[one.id].early_start == early[at]


@pytest.mark.parametrize("problem", [move(60, 3, 1), move(40, 2, 2), gapped(15, 1, 0.2), scarce(20, 2)])
def test_the_schedule_lies_between_early_and_late_dates(problem: SchedulingProblem) -> None:
    found = _solved(problem)
    for name, row in times(problem, found).items():
        stands = found.of(name)
        assert row.early_start <= stands.start <= row.late_start
        assert row.early_finish <= stands.finish <= row.late_finish
        assert 0 <= row.free_float_min <= row.total_float_min
        assert row.total_float_min == row.late_start - row.early_start
        assert row.effect in (-1, 0, 1)


def test_late_dates_hold_the_milestones_where_they_are() -> None:
    problem = move(60, 3, 1)
    found = _solved(problem)
    rows = times(problem, found)
    for _, name in problem.network.milestones:
        assert rows[name].late_finish == found.of(name).finish
    before = [rows[name] for name in rows if name.startswith("lead-")]
    least = min(row.total_float_min for row in before)
    assert all(row.total_float_min == least for row in before if row.critical)


def test_float_is_counted_under_the_hours_of_the_crew() -> None:
    person = Person("p", "P", (hours(0, 8, 9), hours(1, 8, 9), hours(2, 8, 9)))
    tasks = (task("a", 60, crew=Crew(1)), task("end", 0, not_before=2 * DAY))
    problem = SchedulingProblem(Network(tasks, (Link("a", "end"),)), 0, 3 * DAY, people=(person,))
    row = times(problem, _solved(problem))["a"]
    assert (row.early_start, row.late_start) == (8 * 60, DAY + 8 * 60)


def test_the_driver_is_the_link_the_person_the_gear_or_the_hours() -> None:
    person = Person("p", "P", (Interval(60, 1000),))
    tasks = (
        task("a", 30, crew=Crew(1)),
        task("b", 30, crew=Crew(1)),
        task("c", 30),
        task("d", 30, gear=(("pump", 1),)),
        task("e", 30, gear=(("pump", 1),)),
        task("f", 10, not_before=500),
    )
    problem = SchedulingProblem(
        Network(tasks, (Link("b", "c"),)), 0, 1000, people=(person,), gear=(Gear("pump", "Pumps", 1),)
    )
    found = _solved(problem)
    rows = times(problem, found)
    first, second = sorted(("a", "b"), key=lambda name: found.of(name).start)
    assert rows[first].driver.kind == "hours"
    assert (rows[second].driver.kind, rows[second].driver.task, rows[second].driver.resource) == (
        "person",
        first,
        "p",
    )
    assert (rows["c"].driver.kind, rows["c"].driver.task) == ("link", "b")
    after = max(("d", "e"), key=lambda name: found.of(name).start)
    assert (rows[after].driver.kind, rows[after].driver.resource) == ("gear", "pump")
    assert rows["f"].driver.kind == "date"


def test_a_late_task_is_driven_by_its_margin() -> None:
    tasks = (
        task("order", 60, timing=Timing.LATE, margin_min=DAY),
        task("need", 60, not_before=9 * DAY),
    )
    network = Network(tasks, (Link("order", "need"),), (), (("settled", "need"),))
    problem = SchedulingProblem(
        network, 0, 20 * DAY, tuple(Interval(n * DAY, (n + 1) * DAY) for n in range(20))
    )
    found = _solved(problem)
    row = times(problem, found)["order"]
    assert found.of("order").finish == 8 * DAY
    assert (row.driver.kind, row.driver.task) == ("margin", "need")


def test_a_minute_more_may_make_the_finish_earlier() -> None:
    network = Network(
        (task("a", 100), task("b", 10), task("c", 50)), (link("a", "b", "FF"), link("b", "c", "SS"))
    )
    problem = SchedulingProblem(network, 0, 300)
    assert times(problem, _solved(problem))["b"].effect == -1


def test_a_task_that_pauses_is_moved_no_farther_than_its_later_finish_asks_for() -> None:
    """Work that cannot be over before 6 begins at 2, although it would be over at 4 if begun at 1.

    The hours are 1 to 4 and 6 to 9, so that three minutes from 2 on end at 7.
    """
    person = Person("p", "P", (Interval(1, 4), Interval(6, 9)))
    tasks = (task("a", 3), task("b", 3, crew=Crew(1), may_pause=True))
    problem = SchedulingProblem(Network(tasks, (link("a", "b", "FF", 3),)), 0, 12, people=(person,))
    first = Placement("a", 0, 3, (Interval(0, 3),))
    at_two = Placement("b", 2, 7, (Interval(2, 4), Interval(6, 7)), ("p",))
    at_three = Placement("b", 3, 8, (Interval(3, 4), Interval(6, 8)), ("p",))
    tight, loose = (
        times(problem, Schedule(Status.FEASIBLE, Engine.SERIAL, (first, second), second.finish))["b"]
        for second in (at_two, at_three)
    )
    assert (tight.early_start, tight.early_finish) == (loose.early_start, loose.early_finish) == (2, 7)
    assert (tight.driver.kind, tight.driver.task) == ("link", "a")
    assert loose.driver.kind == "choice"


def test_a_minute_more_of_a_task_that_leaves_another_no_float_by_itself() -> None:
    """The start of `a` is four minutes before the finish of `b`: when `b` takes longer, `a` begins later, no more."""
    tasks = (task("a", 1), task("b", 4), task("c", 1))
    links = (
        link("a", "b", "SF", 4, 4),
        link("b", "c", "SS", 4),
    )
    problem = SchedulingProblem(Network(tasks, links), 0, 12)
    rows = times(problem, _solved(problem))
    assert [rows[name].total_float_min for name in "abc"] == [0, 0, 0]
    assert [rows[name].effect for name in "abc"] == [0, 0, 1]


def test_a_minute_more_may_let_both_of_a_pair_start_earlier() -> None:
    """Found by trying all starts; the dates below are worked out by hand.

    The pump `b` begins one minute after the filling `a` ends, and ends two or more after the drive `c`, which ends
    at 7: it cannot begin before 7, so `a` cannot end before 6, and nobody is there from 5 to 7: `a` ends at 8 and
    `b` begins at 9. A minute longer, `b` may begin at 6 and still end at 9, and `a` is over at 5.
    """
    crew = (Person("p", "P", (Interval(0, 5), Interval(7, 12))), Person("q", "Q", (Interval(3, 11),)))
    tasks = (
        task("a", 2, crew=Crew(1, (), ("p",)), may_pause=True),
        task("b", 2),
        task("c", 4, crew=Crew(1, (), ("q",))),
    )
    links = (link("a", "b", "FS", 1, 1), link("c", "b", "FF", 2, 4))
    problem = SchedulingProblem(Network(tasks, links), 0, 12, people=crew)
    rows = times(problem, _solved(problem))
    assert [rows[name].early_start for name in "abc"] == [4, 9, 3]
    assert rows["b"].effect == -1
