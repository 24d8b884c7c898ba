"""Another day with the dates and hires that have to move along: told only where it works, and no more than it takes."""

from __future__ import annotations

from dataclasses import replace

from moveplan.network.graph import Network
from moveplan.network.task import Crew, Task
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.problem import Person, SchedulingProblem, TiedDay, Vehicle
from moveplan.scheduling.schedule import Status
from moveplan.scheduling.solve import solve
from tests.network.builders import link, task
from tests.scheduling.instances import DAY, day, hours

DAYS = 40


def late_parcel(*, keys_by: int, hire: bool = False) -> SchedulingProblem:
    """A parcel takes 5 days; the work with it needs the long hours of a moving day, which is the third."""
    van = Vehicle("van", "the van", (hours(2, 6, 22),), cents_per_day=4000)
    work: Task = task("work", 600, crew=Crew(1), day="move", vehicles=("van",) if hire else ())
    keys = replace(task("keys", 10, crew=Crew(1)), finish_by=keys_by)
    short = tuple(hours(number, 18, 21) for number in range(DAYS) if number != 2)
    person = Person("p", "Ann", tuple(sorted((*short, hours(2, 8, 20)))))
    return SchedulingProblem(
        Network((task("parcel", 5 * DAY), work, keys), (link("parcel", "work"), link("work", "keys"))),
        0,
        DAYS * DAY,
        tuple(day(number) for number in range(DAYS)),
        people=(person,),
        vehicles=(van,) if hire else (),
        tied_days=(TiedDay("move", (day(2),), "p.yaml:3"),),
    )


def said(problem: SchedulingProblem) -> str:
    found = solve(problem, Effort(seconds=0.3))
    assert found.status is Status.INFEASIBLE
    return " ".join(str(reason) for reason in found.reasons)


def test_a_later_day_brings_its_hours_along() -> None:
    assert (
        "take a move day 3 days after the last one allowed, with the same hours for everybody (it was tried"
        in said(late_parcel(keys_by=30 * DAY))
    )


def test_a_date_that_is_in_the_way_moves_along() -> None:
    text = said(late_parcel(keys_by=4 * DAY))
    assert (
        "take a move day 7 days after the last one allowed, with the same hours for everybody and let keys"
        in text
    )
    assert "one more person" not in text


def test_a_hire_moves_along_too() -> None:
    text = said(late_parcel(keys_by=4 * DAY, hire=True))
    assert "take a move day 7 days after the last one allowed" in text
    assert "let keys finish by" in text
    assert "have the van from 9 days 8 h" in text
    assert "1 day of hire at 40.00 a day, 40.00 in all" in text


def test_what_need_not_move_stays() -> None:
    text = said(late_parcel(keys_by=30 * DAY, hire=True))
    assert "have the van" in text
    assert "let keys" not in text
