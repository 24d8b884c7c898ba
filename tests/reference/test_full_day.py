"""A trade fact against the whole computation: moving even a small tank takes a day.

Common practice, no source: moving a small tank some tens of kilometres takes two people with a large van a full day,
here read as 7 to 14 hours from the first reading at the old home to the end of the watch at the new one. More rock,
more stairs or a longer drive each lengthens the work, and one helper fewer the day. Run with ``-s`` to see the parts.
"""

from __future__ import annotations

import pytest

from moveplan.network.task import Kind, Task
from moveplan.plan.move import Plan
from moveplan.practice.compose import project_of
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.solve import solve
from tests.quantities.plans import TEXT, edited, plan_of

SMALL = (
    TEXT.replace("length: 90 cm, width: 45 cm, height: 45 cm", "length: 60 cm, width: 40 cm, height: 40 cm")
    .replace("water-height: 40 cm", "water-height: 36 cm")
    .replace("wall: 10 mm, base: 10 mm", "wall: 8 mm, base: 8 mm")
    .replace("sump: 40 l", "sump: 0 l")
    .replace("stand: 40 kg", "stand: 20 kg")
    .replace("rock: 20 kg", "rock: 9 kg")
    .replace("sand: 18 kg", "sand: 8 kg")
)
"""Some 70 litres, two clownfish, a goby, ten snails and four small corals; 30 km."""
THIRD = ("  leo: {name: Leo", "  ada: {name: Ada, lifts: yes, cares: yes}\n  leo: {name: Leo")
DAY_H = (7.0, 14.0)


def moving_day(plan: Plan) -> list[Task]:
    """The tasks of the moving day."""
    return [task for task in project_of(plan).network.tasks if task.day]


def content_h(plan: Plan) -> float:
    """Hours of work, drive and waiting of the moving day, one after the other; without the breaks of each. [h]."""
    return sum(task.minutes for task in moving_day(plan) if task.kind is not Kind.REST) / 60


def span_h(plan: Plan) -> float:
    """Hours from the first task of the moving day to the end of the last, as scheduled. [h]."""
    project = project_of(plan)
    tied = {task.id for task in project.network.tasks if task.day}
    found = solve(project.scheduling, Effort(seconds=0.5))
    assert found.placements, [str(reason) for reason in found.reasons]
    placed = [one for one in found.placements if one.task in tied]
    return (max(one.finish for one in placed) - min(one.start for one in placed)) / 60


def told(name: str, plan: Plan) -> None:
    """Print what a moving day consists of."""
    tasks = moving_day(plan)
    phases = dict.fromkeys(task.phase for task in tasks)
    parts = [f"{phase}: {sum(t.minutes for t in tasks if t.phase == phase) / 60:.1f} h" for phase in phases]
    waits = sum(task.minutes for task in tasks if task.kind is Kind.WAIT) / 60
    drive = sum(task.minutes for task in tasks if task.kind is Kind.TRAVEL) / 60
    print(f"\n{name}: {'; '.join(parts)}; of it waiting {waits:.1f} h, driving {drive:.1f} h")  # noqa: T201


def test_a_small_tank_takes_a_day() -> None:
    plan = plan_of(SMALL)
    told("the day", plan)
    found = span_h(plan)
    print(f"span as scheduled: {found:.1f} h")  # noqa: T201
    assert DAY_H[0] <= found <= DAY_H[1]


HARDER = {
    "more rock": (TEXT, ("rock: 20 kg", "rock: 45 kg")),
    "more stairs": (TEXT, ("steps: 14", "steps: 60")),
    "a longer drive": (TEXT, ("distance: 30 km", "distance: 75 km")),
    "more corals": (TEXT, ("small-polyp-coral, count: 4", "small-polyp-coral, count: 16")),
}


@pytest.mark.parametrize(("text", "change"), HARDER.values(), ids=HARDER.keys())
def test_what_makes_it_harder_makes_it_longer(text: str, change: tuple[str, str]) -> None:
    easy, hard = plan_of(text), edited(change, text=text)
    told("easy", easy)
    told("hard", hard)
    assert content_h(hard) > content_h(easy)


def test_one_helper_fewer_makes_it_longer() -> None:
    three, two = edited(THIRD), plan_of()
    told("three people", three)
    told("two people", two)
    # Not the sum of all tasks: what three share out, two do one after the other.
    days_h = {name: span_h(plan) for name, plan in (("two", two), ("three", three))}
    print(f"span as scheduled: {days_h}")  # noqa: T201
    assert days_h["two"] > days_h["three"]
