"""What a phone's terminal shows of a journal: short lines, few of them, and the same as JSON."""

from __future__ import annotations

import json
from collections.abc import Iterator
from zoneinfo import ZoneInfo

import typer

from moveplan.cli.recording.diary import Diary
from moveplan.cli.terminal.journal_data import back_data, next_data, promise_data, readings_data
from moveplan.cli.terminal.paper import show_text
from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.now.next_up import NextUp, next_up
from moveplan.journal.now.travelling import Travelling
from moveplan.journal.records import Reading
from moveplan.journal.rest.promised import promise_ahead
from moveplan.journal.state import JournalState
from moveplan.journal.taking.up_to import answers_asked
from moveplan.journal.waters.contained import stands_c, with_animals
from moveplan.outputs.wording.journal import at_hand, fill
from moveplan.times import MINUTES_A_DAY
from moveplan.units import show_duration

_MOST = 4
"""Lines of one list on the screen; JSON has all of them. [-]"""


def say_clock(diary: Diary, zone: ZoneInfo) -> None:
    """Say that the clock went back where it did."""
    back = diary.gone_back_min(zone)
    if back:
        typer.echo(
            f"the clock stands {show_duration(back)} before the last record: look at it, or at the time of that record",
            err=True,
        )


def print_next(diary: Diary, *, as_json: bool) -> None:
    """Print what to do now and next."""
    snapshot = diary.snapshot()
    zone = ZoneInfo(snapshot.zone)
    found = next_up(snapshot, diary.state, diary.now(zone))
    slipped = list(_slipped(diary, snapshot))
    promise = None if found.moved else promise_ahead(snapshot, diary.state, found.now)
    say_clock(diary, zone)
    if as_json:
        data = next_data(found, snapshot, zone) | {"later_minutes": dict(slipped)}
        data["readings"] = readings_data(_read_in(diary.state, found.now), snapshot, zone)
        if promise is not None:
            data["promise"] = promise_data(promise)
        typer.echo(json.dumps(data, ensure_ascii=False, indent=2))
        return
    boxes: dict[str, list[Travelling]] = {}
    for one in found.travelling:
        boxes.setdefault(one.number or one.stay.group, []).append(one)
    values = {
        "next": found,
        "boxes": boxes.values(),
        "read": (read := _read_in(diary.state, found.now)),
        "apart": {number: rows for number, rows in read.items() if number not in boxes},
        "animals": with_animals(snapshot),
        "stands": stands_c(snapshot.policy),
        "plan": snapshot,
        "most": _MOST,
        "slipped": slipped,
        "promise": promise,
        "answers": _answers(found, snapshot, diary),
        **at_hand(found, snapshot),
    }
    show_text(fill("next", zone, found.now, values))


def _read_in(state: JournalState, now: int) -> dict[str, list[Reading]]:
    """Give what was read last of each thing in each container within a day."""
    last = {(one.container, one.what): one for one in state.contained if now - MINUTES_A_DAY <= one.at <= now}
    found: dict[str, list[Reading]] = {}
    for (number, _), one in sorted(last.items()):
        found.setdefault(number, []).append(one)
    return found


def _answers(found: NextUp, snapshot: Snapshot, diary: Diary) -> str:
    """Give what the line that records the days before has to answer."""
    if found.unlogged is None:
        return ""
    return answers_asked(found.unlogged.id, snapshot, diary.state, found.unlogged.finish)


def print_ways_on(diary: Diary) -> None:
    """Print what there is to do about what has failed, and who takes over."""
    snapshot = diary.snapshot()
    zone = ZoneInfo(snapshot.zone)
    found = next_up(snapshot, diary.state, diary.now(zone))
    values = {
        "next": found,
        "plan": snapshot,
        "most": _MOST,
        "over": found.taken_over,
        **at_hand(found, snapshot),
    }
    for name, there in (("taken_over", found.taken_over), ("ways_on", found.ways_on)):
        if there:
            show_text(fill(name, zone, found.now, values))


def _slipped(diary: Diary, last: Snapshot) -> Iterator[tuple[str, int]]:
    """By how many minutes each milestone is later than in the schedule that was accepted first."""
    accepted = diary.state.accepted
    if len(accepted) < 2 or accepted[0] == accepted[-1]:
        return
    first = diary.snapshot(accepted[0])
    for name, task in last.milestones.items():
        then, now = first.task(first.milestones.get(name, "")), last.task(task)
        if then is not None and now is not None and then.finish != now.finish:
            yield name, now.finish - then.finish


def print_back(diary: Diary, *, as_json: bool) -> None:
    """Print what was planned against what happened."""
    from moveplan.journal.back import look_back

    plan = diary.agreed()
    zone = ZoneInfo(plan.zone)
    back = look_back(plan, diary.state)
    say_clock(diary, zone)
    if as_json:
        typer.echo(json.dumps(back_data(back, zone), ensure_ascii=False, indent=2))
        return
    show_text(fill("look_back", zone, diary.now(zone), {"back": back, "plan": plan}))
