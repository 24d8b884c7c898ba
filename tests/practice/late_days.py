"""Days that run late, put together: stopped on the way, gone on later, without one of the people or things.

``python -m tests.practice.late_days`` goes through all of them and names those that do not hold;
``python -m tests.practice.late_days house_move 40`` through 40 of one example.
"""

from __future__ import annotations

import random
import sys
import traceback
from collections.abc import Iterator
from functools import cache
from itertools import product
from typing import NamedTuple

from moveplan import pipeline
from moveplan.journal.file.kept import snapshot_data
from moveplan.journal.now.failure import POWER, TANK, VEHICLE, Failed
from moveplan.journal.records import Accepted, Entry, Out, Record
from moveplan.journal.state import state_of
from moveplan.outputs.documents.checklist import checklist_md
from moveplan.outputs.outlook import Outlook
from moveplan.practice.compose import project_of
from moveplan.practice.project import Project
from moveplan.practice.under_way.renew import Renewed
from moveplan.practice.under_way.story import Story, told
from moveplan.times import to_local
from tests.journal.replay import EXAMPLES, SETTINGS, Replay, outlook_of

MOVES = (
    "house_move",
    "house_move_into_larger_tank",
    "house_move_with_gap",
    "larger_tank_other_spot",
    "larger_tank_same_spot",
    "service_firm_office_tank",
    "several_systems",
    "short_plan",
    "shut_down_and_restart",
    "small_tank_move",
    "tight_day",
)
DELAYS_MIN = (15, 45, 120, 240, 360)
HASTY = 0.5
"""Who is quick does all before the stop in half of the planned time. [-]"""
OVERNIGHT_MIN = 20 * 60
"""How long what fails on a moving day is out, so that it ends on the next. [min]"""


class Case(NamedTuple):
    """A late day: example, share of its moving days, delay in minutes, who falls out then, and what fails until when.

    Empty: nobody, nothing. What was done before took as long as planned, times the pace.
    """

    example: str
    share: float
    delay_min: int
    out: str = ""
    failed: tuple[str, str] = ("", "")
    lasting_min: int | None = None
    pace: float = 1.0


def cases(example: str) -> Iterator[Case]:
    """List the late days of an example: stopped at each tenth, by each delay, with nobody or one person out.

    And after work that was quick, and with each thing that may fail, into the next day.
    """
    plan = outlook_of(example).project.plan
    people = outlook_of(example).project.scheduling.people
    for tenth, delay_min, out in product(range(10), DELAYS_MIN, ("", *(one.id for one in people))):
        yield Case(example, tenth / 10, delay_min, out)
    for tenth in range(10):
        yield Case(example, tenth / 10, DELAYS_MIN[0], pace=HASTY)
    things = [
        *((VEHICLE, one.id) for one in plan.vehicles),
        *((TANK, one.id) for one in plan.systems),
        *((POWER, one.id) for one in plan.places),
    ]
    for tenth, thing in product(range(10), things):
        yield Case(example, tenth / 10, DELAYS_MIN[0], failed=thing, lasting_min=OVERNIGHT_MIN)


def drawn(example: str, count: int, seed: int) -> list[Case]:
    """Draw some of them."""
    return random.Random(seed).sample(list(cases(example)), count)


@cache
def _history(example: str, pace: float) -> tuple[Replay, tuple[tuple[int, int], ...]]:
    """Carry an example out at a pace: how many records there are at each moment."""
    replay = Replay(outlook_of(example), (pace, pace), seed=1)
    return replay, tuple((now, len(replay.records)) for now in replay.moments())


def _moment(replay: Replay, share: float) -> int:
    """Give the moment at a share of the moving days, one after the other."""
    spans: dict[str, tuple[int, int]] = {}
    for task in replay.snapshot.tasks:
        if task.day:
            first, last = spans.get(task.day, (task.start, task.finish))
            spans[task.day] = min(first, task.start), max(last, task.finish)
    days = sorted(spans.values())
    at = share * len(days)
    first, last = days[int(at)]
    return first + round((at - int(at)) * (last - first))


def stopped(
    example: str,
    share: float,
    delay_min: int,
    out: str = "",
    failed: tuple[str, str] = ("", ""),
    lasting_min: int | None = None,
    pace: float = 1.0,
) -> tuple[Project, Story]:
    """Stop an example at a share of its moving day, and go on so much later, without one of its people or things."""
    replay, counts = _history(example, pace)
    stop = _moment(replay, share)
    logged = max(count for at, count in counts if at <= stop)
    outlook = outlook_of(example)
    records: list[Record] = [
        Accepted(at=outlook.now, schedule=snapshot_data(replay.snapshot)),
        *replay.records[:logged],
    ]
    now = stop + delay_min
    if out:
        today = to_local(now, outlook.project.plan.zone).date()
        records.append(Out(at=now, person=out, first=today, last=today))
    if failed[0]:
        until = None if lasting_min is None else now + lasting_min
        records.append(Failed(at=now, what=failed[0], name=failed[1], until=until))
    entries = tuple(Entry(number, record) for number, record in enumerate(records, start=1))
    story = Story(state_of(entries), replay.snapshot, replay.snapshot, now, entries=entries)
    plan, _ = pipeline.begin(EXAMPLES / f"{example}.yaml", SETTINGS)
    return project_of(told(plan, story)), story


def nothing_unsaid(project: Project, again: Renewed, story: Story) -> None:
    placed = {one.task: one for one in again.shown.placements}
    said = {(link.before, link.after) for link in again.broken}
    for link in project.network.links:
        if link.max_gap_min is None or link.after in again.behind:
            continue
        before, after = placed[link.before], placed[link.after]
        gap = (after.finish if link.relation.to_finish else after.start) - (
            before.finish if link.relation.from_finish else before.start
        )
        if gap > link.max_gap_min + project.scheduling.grid_min:
            assert (link.before, link.after) in said
    words = " ".join(problem.message for problem in again.given_way)
    for person in project.scheduling.people:
        beyond = [
            one.task
            for one in again.found.placements
            if one.task not in again.behind
            for piece, crew in zip(
                one.segments, one.segment_people or [one.people] * len(one.segments), strict=True
            )
            if person.id in crew
            and not any(
                hour.start <= piece.start and piece.finish <= hour.finish for hour in person.available
            )
        ]
        assert not beyond or person.name in words, beyond


def animals_first(outlook: Outlook, again: Renewed) -> None:
    """Find the animals before people and things, whether or not the engine had to let those give way."""
    dangers = outlook.drift.dangers if outlook.drift else ()
    assert outlook.problems[: len(dangers)] == dangers
    assert set(again.given_way) <= set(outlook.problems[len(dangers) :])


def on_paper(outlook: Outlook) -> None:
    """Read the list: what is broken first, then every task."""
    assert outlook.follow
    text = checklist_md(outlook)
    first = text.index(". **Go through the plan with everybody")
    for problem in outlook.problems:
        assert text.index(problem.message[:40].replace("_", "\\_")) < first
    assert text.count("- [") >= len(outlook.schedule.placements)


def hold(case: Case) -> bool:
    """Check one late day: a list, animals first, nothing past a limit unsaid; whether there is no way back."""
    project, story = stopped(*case)
    hung, again = pipeline.renew(project, story, SETTINGS)
    outlook = pipeline.judge_again(hung, again, story, SETTINGS)
    if not again.late:
        assert outlook.schedule.placements or outlook.problems
        return False
    assert len(again.found.placements) == len(project.network.tasks)
    nothing_unsaid(hung, again, story)
    _nobody_who_is_out(case.out, hung, again, story)
    animals_first(outlook, again)
    on_paper(outlook)
    return True


def _nobody_who_is_out(out: str, project: Project, again: Renewed, story: Story) -> None:
    today = to_local(story.now, project.plan.zone).date()
    theirs = [
        one.task
        for one in again.found.placements
        if one.task not in again.behind
        for piece, crew in zip(
            one.segments, one.segment_people or [one.people] * len(one.segments), strict=True
        )
        if out in crew and to_local(piece.start, project.plan.zone).date() == today
    ]
    assert not theirs


def main() -> int:
    """Go through all late days, or those of one example; how many do not hold."""
    names = sys.argv[1:2] or MOVES
    red = 0
    for name in names:
        chosen = drawn(name, int(sys.argv[2]), 1) if len(sys.argv) > 2 else list(cases(name))
        late = 0
        for case in chosen:
            try:
                late += hold(case)
            except Exception:
                red += 1
                sys.stdout.write(f"{case} {traceback.format_exc(limit=-2)}")
        sys.stdout.write(f"{name}: {len(chosen)} late days, {late} with no way back; {red} red so far\n")
        sys.stdout.flush()
    return red


if __name__ == "__main__":
    sys.exit(min(main(), 1))
