"""Those who help are asked for few days: what they are not needed for is handed over, the rest done on one day."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.network.graph import Network
from moveplan.network.link import Link
from moveplan.network.task import Crew, Task
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.improve.fewer_dates import fewer_dates
from moveplan.scheduling.objective.aims import DATES, EXPOSURE, LATENESS, MONEY, dates
from moveplan.scheduling.problem import Person, SchedulingProblem
from moveplan.scheduling.solve import solve
from tests.network.builders import task
from tests.scheduling.instances import DAY, day, hours, move
from tests.scheduling.searched import as_schedule, broken, searched

KEEPER = Person("keeper", "Keeper", tuple(hours(n, 18, 21) for n in range(10)))
HELPER = Person("helper", "Helper", tuple(hours(n, 9, 21) for n in range(10)), ("lifts",), helps=True)
LITTLE = Effort(seconds=0.1)


def _plan(
    *tasks: Task, people: tuple[Person, ...] = (KEEPER, HELPER), links: tuple[Link, ...] = ()
) -> SchedulingProblem:
    """Ten days, with a milestone, so that more than the finish counts."""
    days = tuple(day(n) for n in range(10))
    network = Network(tasks, links, (), (("done", tasks[-1].id),))
    return SchedulingProblem(network, 0, 10 * DAY, days, people=people)


def _gathered(problem: SchedulingProblem) -> tuple[int, int]:
    """Days asked for before and after."""
    frame, found = searched(problem)
    before = dict(found.values)[DATES]
    fewer_dates(frame, found)
    assert broken(problem, found.desk) == ()
    assert found.desk is not None
    assert dict(found.values)[DATES] == dates(
        frame.model, [one for one in found.desk.spots if one is not None]
    )
    return before, dict(found.values)[DATES]


def test_what_needs_nobody_else_is_handed_over() -> None:
    clean = task("clean", 60, crew=Crew(1))
    assert _gathered(_plan(clean)) == (1, 0)


def test_no_more_is_tried_than_is_allowed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Months of daily care of several people would be tried for minutes."""
    clean = task("clean", 60, crew=Crew(1))
    monkeypatch.setattr("moveplan.scheduling.improve.fewer_dates._MOST_TRIED", 0)
    assert _gathered(_plan(clean)) == (1, 1)


def test_what_needs_two_is_done_on_one_day() -> None:
    """In the morning the helper alone is there; the two of them meet in the evening of the day after at the latest."""
    carry, lift = task("carry", 60, crew=Crew(2)), task("lift", 60, crew=Crew(1, (("lifts", 1),)))
    problem = _plan(lift, replace(carry, not_before=DAY))
    assert _gathered(problem) == (2, 1)


def test_a_day_that_is_needed_stays() -> None:
    carry, lift = (
        task("carry", 60, crew=Crew(2)),
        task("lift", 60, crew=Crew(1, (("lifts", 1),)), finish_by=DAY),
    )
    assert _gathered(_plan(lift, replace(carry, not_before=DAY))) == (2, 2)


def test_a_date_and_pay_count_more() -> None:
    clean = task("clean", 60, crew=Crew(1), due=12 * 60)
    assert _gathered(_plan(clean)) == (1, 1)
    dear = replace(KEEPER, cents_per_hour=900)
    assert _gathered(_plan(task("clean", 60, crew=Crew(1)), people=(dear, HELPER))) == (1, 1)


def test_other_work_of_a_full_evening_gives_way() -> None:
    """The keeper's own work fills the one evening on which the helper's may be done, and goes to the next."""
    sort = task("sort", 180, crew=Crew(1, named=("keeper",)))
    clean = task("clean", 60, crew=Crew(1), finish_by=DAY)
    assert _gathered(_plan(sort, clean)) == (1, 0)


@pytest.mark.parametrize("engine", ["serial", "exact"])
def test_both_engines_ask_for_few_days(engine: str) -> None:
    found = solve(_plan(task("clean", 60, crew=Crew(1))), replace(LITTLE, engine=engine))  # type: ignore[arg-type]
    assert found.of("clean").people == ("keeper",)


def test_of_a_move_nothing_that_counts_more_gets_worse_and_no_tied_day_changes() -> None:
    spared = 0
    for seed in range(6):
        problem = move(60, 4, seed)
        people = (problem.people[0], *(replace(one, helps=True) for one in problem.people[1:]))
        problem = replace(problem, people=people)
        frame, found = searched(problem)
        before, stood = dict(found.values), as_schedule(found.desk)
        fewer_dates(frame, found)
        after, stands = dict(found.values), as_schedule(found.desk)
        assert broken(problem, found.desk) == ()
        assert all(after[name] <= before[name] for name in (LATENESS, EXPOSURE, MONEY) if name in before)
        tied = [one.id for one in problem.network.tasks if one.day]
        assert [stands.of(name) for name in tied] == [stood.of(name) for name in tied]
        spared += before[DATES] - after[DATES]
    assert spared > 0
