"""What was promised, from what is done: it agrees with the simulation of the plan, and goes with the day."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache
from math import sqrt
from zoneinfo import ZoneInfo

import pytest
from scipy import stats

from moveplan.journal.file.kept import snapshot_data, snapshot_of
from moveplan.journal.file.snapshot import PlannedTask, Snapshot
from moveplan.journal.now.next_up import next_up
from moveplan.journal.records import Begun, Done, Met, Out, Record
from moveplan.journal.rest.luck import POINTS, REACH, quantiles
from moveplan.journal.rest.promised import RUNS, Kept, promise_ahead
from moveplan.journal.state import state_of
from moveplan.network.task import Kind
from moveplan.outputs.accepted import snapshot_of_outlook
from moveplan.outputs.outlook import Outlook
from moveplan.pipeline import judge, judge_again, renew
from moveplan.stages.reading import Settings
from moveplan.times import to_local
from tests.examples import scheduled
from tests.journal.builders import entries
from tests.journal.replay import SETTINGS
from tests.practice.late_days import stopped

SIMULATED = 10_000


@cache
def outlook(name: str) -> Outlook:
    return judge(*scheduled(name), Settings(runs=SIMULATED))


@cache
def accepted(name: str) -> Snapshot:
    """As it comes back from the journal."""
    data = json.loads(json.dumps(snapshot_data(snapshot_of_outlook(outlook(name)))))
    return snapshot_of(data, "test")


def kept(snapshot: Snapshot, *records: Record, now: int | None = None) -> Kept:
    moment = snapshot.now if now is None else now
    found = promise_ahead(snapshot, state_of(entries(*records)), moment)
    assert found is not None
    return found


def done(task: PlannedTask, late_min: int = 0) -> list[Record]:
    """Records of a task that began on time or so much later, and took as long as it was told."""
    if task.kind is Kind.HOLD_POINT:
        return [Met(at=task.finish + late_min, task=task.id, by="ines")]
    return [
        Begun(at=task.start + late_min, task=task.id),
        Done(at=task.finish + late_min, task=task.id),
    ]


def in_order(snapshot: Snapshot, until: int, late_min: int = 0) -> list[Record]:
    over = [task for task in snapshot.tasks if task.times == 1 and task.finish + late_min <= until]
    rows = [record for task in over for record in done(task, late_min if task.day else 0)]
    return sorted(rows, key=lambda row: row.at)


def day_start(snapshot: Snapshot) -> int:
    return min(task.start for task in snapshot.tasks if task.day)


@pytest.mark.parametrize("likely", [2.0, 3.1, 7.0, 12.0])
def test_quantiles_are_those_of_the_beta_distribution(likely: float) -> None:
    low, high = 2.0, 12.0
    rise = 4 * (likely - low) / (high - low)
    middles = [(at + 0.5) * 2 * REACH / POINTS - REACH for at in range(POINTS)]
    expected = low + (high - low) * stats.beta.ppf(stats.norm.cdf(middles), 1 + rise, 5 - rise)
    assert quantiles(low, likely, high) == pytest.approx(expected, abs=0.05)


def test_no_spread_is_a_constant() -> None:
    assert set(quantiles(7.0, 7.0, 7.0)) == {7.0}


@pytest.mark.parametrize(
    "name", ["house_move", "house_move_with_gap", "several_systems", "short_plan", "small_tank_move"]
)
def test_before_anything_is_done_it_is_what_was_promised(name: str) -> None:
    """By other code with other luck: within three standard errors of both counts, each thing that breaks as well."""
    risk = outlook(name).risk
    assert risk is not None
    assert risk.promise is not None
    found = kept(accepted(name))

    def agrees(share: float, chance: float) -> bool:
        error = sqrt(max(chance * (1 - chance), 1 / RUNS) * (1 / RUNS + 1 / SIMULATED))
        return abs(share - chance) <= 3 * error

    assert agrees(found.kept, risk.promise.kept)
    shares = {(what, name): chance for what, name, chance in found.breaks}
    told = {(one.what, one.id): one.chance for one in risk.promise.breaks}
    for key in shares.keys() | told.keys():
        assert agrees(shares.get(key, 0.0), told.get(key, 0.0)), key


def test_a_day_that_runs_late_keeps_less_and_names_whose_hours() -> None:
    snapshot = accepted("house_move")
    noon = day_start(snapshot) + 360
    on_time = kept(snapshot, *in_order(snapshot, noon), now=noon)
    late = kept(snapshot, *in_order(snapshot, noon, late_min=300), now=noon)
    assert on_time.kept > 0.9 > 0.75 > late.kept
    assert late.breaks[0][0] == "hours"


def test_the_day_slips_no_more_once_it_has_begun() -> None:
    snapshot = accepted("house_move")
    before, begun = day_start(snapshot) - 60, day_start(snapshot) + 60
    assert any(what == "day" for what, _, _ in kept(snapshot).breaks)
    assert not any(
        what == "day" for what, _, _ in kept(snapshot, *in_order(snapshot, begun), now=begun).breaks
    )
    assert kept(snapshot, *in_order(snapshot, before), now=before).kept > kept(snapshot).kept - 0.05


def test_no_figure_counts_on_who_is_out() -> None:
    """The animals that last too short as it goes do so in most runs, and the hours are those of who takes over."""
    snapshot = accepted("house_move")
    noon = day_start(snapshot) + 360
    day = to_local(noon, ZoneInfo(snapshot.zone)).date()
    records = in_order(snapshot, noon, late_min=150)
    out = [Out(at=noon, person=one, first=day, last=day) for one in ("bea", "tomas")]
    found = kept(snapshot, *records, *out, now=noon)
    short = {
        one.stay.group
        for one in next_up(snapshot, state_of(entries(*records, *out)), noon).travelling
        if one.spare_min is not None and one.spare_min < -90
    }
    chances = {(what, name): chance for what, name, chance in found.breaks}
    assert short
    assert all(chances["safe-time", group] > 0.5 for group in short)
    assert chances["hours", "ines"] > chances.get(("hours", "bea"), 0.0) == 0.0
    assert found.kept < 0.1 < 0.9 < kept(snapshot, *records, now=noon).kept
    assert found.helpless > 3
    assert kept(snapshot, *records, now=noon).helpless == 0


def test_a_day_that_was_planned_again_under_way_slips_no_more() -> None:
    project, story = stopped("house_move", 0.5, 60)
    settings = replace(SETTINGS, runs=200)
    hung, again = renew(project, story, settings)
    snapshot = snapshot_of_outlook(judge_again(hung, again, story, settings))
    found = promise_ahead(snapshot, story.state, story.now + 120)
    assert found is not None
    assert not any(what == "day" for what, _, _ in found.breaks)


def test_what_is_over_is_kept() -> None:
    snapshot = accepted("small_tank_move")
    last = max(task.finish for task in snapshot.tasks)
    over = kept(snapshot, *in_order(snapshot, last), now=last)
    assert (over.kept, over.breaks) == (1.0, ())


def test_the_same_records_tell_the_same() -> None:
    snapshot = accepted("small_tank_move")
    noon = day_start(snapshot) + 240
    records = in_order(snapshot, noon)
    assert kept(snapshot, *records, now=noon) == kept(snapshot, *records, now=noon)


def test_a_schedule_without_what_was_simulated_promises_nothing() -> None:
    from tests.journal.builders import snapshot as small

    assert promise_ahead(small(), state_of(()), small().now) is None
