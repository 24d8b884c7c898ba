"""Everything up to here: what is recorded, in which order, and what is asked first."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.errors import PlanFileError
from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.records import Begun, Done, Met, Record
from moveplan.journal.state import state_of
from moveplan.journal.taking.answers import Answers
from moveplan.journal.taking.up_to import up_to
from moveplan.network.task import Kind
from moveplan.times import Interval
from tests.journal.builders import T0, entries, planned, snapshot

NOW = T0 + 200


def said(task: str, person: str = "", *before: Record, plan: Snapshot | None = None) -> list[tuple[str, int]]:
    rows = up_to(task, person, plan or snapshot(), state_of(entries(*before)), NOW)
    return [(row.task, row.at - T0) for row in rows]


def test_what_stands_before_it_is_done_when_it_was_planned_to() -> None:
    assert said("drive-van") == [("draw-water", 30), ("catch-fish", 90)]
    assert said("draw-water") == []


def test_nothing_ends_later_than_now_or_before_it_was_begun() -> None:
    begun = Begun(at=T0 + 120, task="catch-fish")
    assert said("drive-van", "", begun) == [("draw-water", 30), ("catch-fish", 120)]
    late = up_to("drive-van", "", snapshot(), state_of(()), T0 + 50)
    assert [row.at - T0 for row in late] == [30, 50]


def test_what_is_done_is_not_done_again() -> None:
    assert said("drive-van", "", Done(at=T0 + 20, task="draw-water")) == [("catch-fish", 90)]


def test_only_the_list_of_who_is_named_and_what_the_task_needs() -> None:
    assert said("drive-van", "tom") == [("catch-fish", 90)]
    needs = replace(snapshot(), waits={"drive-van": ("draw-water",)})
    assert said("drive-van", "tom", plan=needs) == [("draw-water", 30), ("catch-fish", 90)]


def test_of_recurring_care_each_time_that_is_over_is_done_and_none_twice() -> None:
    day = snapshot()
    look = day.task("daily-look")
    assert look is not None
    early = tuple(Interval(T0 + at, T0 + at + 15) for at in (-1440, 0, 100))
    day = replace(day, tasks=tuple(replace(one, segments=early) if one is look else one for one in day.tasks))

    def times(at: int, *before: Record, person: str = "") -> list[tuple[int | None, int]]:
        rows = up_to("drive-van", person, day, state_of(entries(*before)), T0 + at)
        return [(row.time, row.at - T0) for row in rows if isinstance(row, Done) and row.task == look.id]

    assert day.task("drive-van").start == T0 + 90  # type: ignore[union-attr]
    assert times(200) == [(1, -1425), (2, 15)]  # the third comes after it
    assert times(10) == [(1, -1425)]
    assert times(200, Done(at=T0 - 1420, task=look.id, time=1)) == [(2, 15)]
    assert times(200, person="tom") == []
    own = up_to(look.id, "ines", day, state_of(()), T0 + 200, time=3)
    assert [row.time for row in own if isinstance(row, Done) and row.task == look.id] == [1, 2]


def test_a_hold_point_among_them_has_to_be_signed() -> None:
    with pytest.raises(PlanFileError, match="met 4 --by NAME"):
        said("release-fish")


def test_hold_points_that_somebody_signed_are_met_after_what_they_wait_for() -> None:
    answers = Answers({"water-matched-reef": "Ines"}, "as planned")
    late = Done(at=T0 + 330, task="drive-van")
    rows = up_to("release-fish", "", snapshot(), state_of(entries(late)), T0 + 400, answers)
    # planned for 300 to 315, but the van came at 330 only
    assert rows[-1] == Met(at=T0 + 330, task="water-matched-reef", by="Ines", reason="as planned")
    with pytest.raises(
        PlanFileError, match=r"“3. Drive van” is no hold point that is open before “5. Release fish”"
    ):
        up_to("release-fish", "", snapshot(), state_of(entries(late)), NOW, Answers({"drive-van": "Ines"}))


def test_waits_that_run_by_themselves_are_not_recorded() -> None:
    plan = snapshot()
    wait = planned("cool-down", 5, 20, kind=Kind.WAIT, number=9)
    assert "cool-down" not in dict(said("drive-van", plan=replace(plan, tasks=(*plan.tasks, wait))))
