from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from moveplan.errors import PlanFileError
from moveplan.journal.file.coding import stamp
from moveplan.journal.now.failure import Failed
from moveplan.journal.records import Begun, Counted, Done, Entry, Met, Note, Reading, Record, Shut, Undo
from moveplan.journal.state import state_of
from moveplan.journal.taking.known import Known, known_of
from moveplan.journal.taking.marks import counts_told, told_by_marks
from moveplan.journal.taking.progress import read_progress, told_by_ticks
from moveplan.journal.taking.slip import KINDS, Mark, can_be_written, index_of, read_slip, slip_text
from moveplan.journal.taking.taken import WHY, Told
from moveplan.journal.taking.taken import taken as taken_as_told
from moveplan.network.task import Kind, State
from tests.journal.builders import PLAN_ID, T0, entries, snapshot
from tests.journal.taking.outside import parsed

INDEX = index_of(snapshot(), PLAN_ID)
MARKS = st.lists(
    st.builds(
        Mark,
        at=st.integers(T0, T0 + 200_000),
        kind=st.sampled_from([kind for kind in KINDS if INDEX.named(kind) == INDEX.tasks]),
        name=st.sampled_from(INDEX.tasks),
        time=st.integers(0, 35),
        person=st.sampled_from(INDEX.people),
        back=st.booleans(),
    )
    | st.builds(
        Mark,
        at=st.integers(T0, T0 + 40_000),
        kind=st.sampled_from(["lid-on", "lid-off", "topped-up", "air-on", "air-off"]),
        name=st.sampled_from(INDEX.containers),
        person=st.sampled_from(INDEX.people),
        back=st.booleans(),
    )
    | st.builds(
        Mark,
        at=st.integers(T0, T0 + 200_000),
        kind=st.sampled_from(["failed", "works"]),
        name=st.sampled_from(INDEX.things),
        person=st.sampled_from(INDEX.people),
        back=st.booleans(),
    )
    | st.builds(
        Mark,
        at=st.integers(T0, T0 + 200_000),
        kind=st.just("moved"),
        name=st.sampled_from(INDEX.named("moved")),
        person=st.sampled_from(INDEX.people),
        back=st.booleans(),
    )
    | st.builds(
        Mark,
        at=st.integers(T0, T0 + 200_000),
        kind=st.just("read"),
        name=st.sampled_from(INDEX.readings),
        time=st.integers(0, 1295),
        person=st.sampled_from(INDEX.people),
        back=st.booleans(),
    )
    | st.builds(
        Mark,
        at=st.integers(T0, T0 + 200_000),
        kind=st.just("noted"),
        name=st.sampled_from(INDEX.named("noted")),
        person=st.sampled_from(INDEX.people),
        back=st.booleans(),
    )
    | st.builds(
        Mark,
        at=st.integers(T0, T0 + 200_000),
        kind=st.sampled_from(["lost", "added"]),
        name=st.sampled_from(INDEX.groups),
        time=st.integers(1, 99),
        person=st.sampled_from(INDEX.people),
        back=st.booleans(),
    ),
    min_size=1,
    max_size=40,
    unique=True,
)
ONE = Mark(T0 + 5, "begun", "draw-water", 0, "ines")


def taken(
    marks: Sequence[Mark], journal: Sequence[Entry], known: Known, now: int
) -> tuple[list[tuple[Record, str]], list[str]]:
    """Take records of phones."""
    return taken_as_told(told_by_marks(marks, known), journal, known, now)


@given(marks=MARKS)
def test_what_is_written_is_read_whatever_the_chat_makes_of_it(marks: list[Mark]) -> None:
    text = slip_text(marks, INDEX)
    assert read_slip(text, [INDEX]) == tuple(sorted(marks))
    assert read_slip(f" {text[:9].upper()}\n{text[9:]} ", [INDEX]) == tuple(sorted(marks))
    quoted = "\n>> ".join(text[at : at + 31] for at in range(0, len(text), 31))
    said = f"Ana, 14:05: here it is\n>> {quoted}\nBye - Tom-Bea-a-- mp2, see you"
    assert read_slip(said, [INDEX]) == tuple(sorted(marks))
    assert read_slip(f"{text} and {slip_text([ONE], INDEX)}", [INDEX]) == tuple(sorted({*marks, ONE}))


@given(marks=MARKS)
def test_an_outside_reader_finds_the_same_by_what_the_guide_says(marks: list[Mark]) -> None:
    plan = snapshot()
    tasks, people = sorted(task.id for task in plan.tasks), sorted(plan.people)
    boxes = sorted({number for stay in plan.stays for number, _ in stay.containers})
    vehicles = [f"vehicle:{one}" for one in sorted(plan.vehicles)]  # this plan tells of no places
    things = [f"person:{one}" for one in people] + vehicles + [f"tank:{one}" for one in sorted(plan.systems)]
    troubles = ("animal-gasps", "animal-missing", "container-leaks", "device-dead", "fish-not-caught")
    groups = [f"{box}@clowns" for box in ("", *boxes)]
    named = {
        **dict.fromkeys(("begun", "done", "met", "not-met"), tasks),
        **dict.fromkeys(("lid-on", "lid-off", "topped-up", "air-on", "air-off", "read-in"), boxes),
        "failed": things,
        "works": [*things, *(f"{box}@{what}" for box in ("", *boxes) for what in troubles)],
        "moved": [f"{box}@{vehicle}" for box in boxes for vehicle in vehicles],
        "lost": groups,
        "added": groups,
        "noted": [f"{box}@{what}" for box in ("", *boxes) for what in troubles],
        "read": [
            f"{what}@reef"
            for what in (
                "temperature",
                "salinity",
                "ammonia",
                "nitrite",
                "ph",
                "alkalinity",
                "nitrate",
                "oxygen",
            )
        ],
    }
    assert set(named) == set(KINDS)
    rows = [(one.at, one.kind, one.name, one.time, one.person, one.back) for one in marks]
    assert sorted(parsed(slip_text(marks, INDEX), named, people)) == sorted(rows)


def test_a_daily_look_goes_on_for_longer_than_a_month() -> None:
    marks = tuple(Mark(T0 + at * 1440, "done", "daily-look", at, "tom") for at in range(1, 90))
    assert read_slip(slip_text(marks, INDEX), [INDEX]) == marks
    assert can_be_written(replace(marks[0], time=7775), INDEX)
    assert not can_be_written(replace(marks[0], time=7776), INDEX)


def test_thirty_records_take_at_most_four_hundred_characters() -> None:
    marks = [Mark(T0 + at, "done", INDEX.tasks[at % 6], at % 30, "tom") for at in range(30)]
    assert len(slip_text(marks, INDEX)) <= 400


@given(at=st.integers(0, 400), other=st.sampled_from("0123456789abcdefghijklmnopqrstuvwxyz-"))
def test_a_changed_character_is_noticed(at: int, other: str) -> None:
    text = slip_text([ONE, Mark(T0 + 9, "done", "draw-water", 0, "ines")], INDEX)
    at %= len(text)
    if text[at] != other:
        with pytest.raises(PlanFileError):
            read_slip(text[:at] + other + text[at + 1 :], [INDEX])


def test_half_a_text_and_another_plans_are_refused_in_words() -> None:
    text = slip_text([ONE], INDEX)
    with pytest.raises(PlanFileError, match="the text is not whole; copy it again"):
        read_slip(text[:-3], [INDEX])
    with pytest.raises(PlanFileError, match="the text belongs to another plan"):
        read_slip(text, [index_of(snapshot(), "reef-2")])


def test_each_record_is_taken_once_in_whatever_order() -> None:
    known = known_of(snapshot())
    marks = (
        Mark(T0 + 5, "begun", "draw-water", 0, "ines"),
        Mark(T0 + 40, "done", "draw-water", 0, "ines"),
        Mark(T0 + 41, "lid-on", "B1", 0, "tom"),
        Mark(T0 + 42, "met", "water-matched-reef", 0, "ines"),
        Mark(T0 + 43, "not-met", "water-matched-reef", 0, "ines"),
    )
    rows, left = taken(marks, (), known, T0 + 100)
    assert left == []
    assert [type(record) for record, _ in rows] == [Begun, Done, Shut, Met, Note]
    met = rows[3][0]
    assert isinstance(met, Met)
    assert (met.by, met.but, len(met.lacking)) == ("Ines Farrow", ("drive-van",), 1)
    written = entries(*(record for record, _ in rows))
    journal = [Entry(entry.line, entry.record, key) for entry, (_, key) in zip(written, rows, strict=True)]
    assert taken(marks, journal, known, T0 + 100) == ([], [])
    back = (Mark(T0 + 40, "done", "draw-water", 0, "ines", back=True),)
    undone, _ = taken((*marks, *back), journal, known, T0 + 100)
    assert [record for record, _ in undone] == [Undo(at=T0 + 100, line=2)]
    after = [*journal, Entry(6, undone[0][0], undone[0][1])]
    assert state_of(after).of("draw-water").state is State.IN_PROCESS
    assert taken((*marks, *back), after, known, T0 + 100) == ([], [])


def test_a_drive_that_a_phone_begins_with_what_has_failed_is_kept_with_a_but() -> None:
    failed = Failed(at=T0 + 1, what="vehicle", name="van")
    begun = (Mark(T0 + 5, "begun", "drive-van", 0, "ines"),)
    rows, left = taken(begun, entries(failed), known_of(snapshot()), T0 + 9)
    assert left == []
    assert [record for record, _ in rows] == [
        Begun(at=T0 + 5, task="drive-van", but=("vehicle:van",), reason=WHY)
    ]


def test_what_was_taken_back_before_it_came_is_never_counted() -> None:
    back = replace(ONE, back=True)
    rows, _ = taken((back,), (), known_of(snapshot()), T0 + 100)
    assert [type(record) for record, _ in rows] == [Note]
    journal = [Entry(1, rows[0][0], rows[0][1])]
    assert taken((ONE,), journal, known_of(snapshot()), T0 + 100) == ([], [])
    assert taken((back,), journal, known_of(snapshot()), T0 + 100) == ([], [])


def test_what_cannot_be_true_is_left_out_and_named() -> None:
    wrong = Mark(T0 + 5, "done", "water-matched-reef", 0, "ines")
    rows, left = taken((wrong,), (), known_of(snapshot()), T0 + 100)
    assert rows == []
    assert left[0].startswith("left out, water-matched-reef: “4. Water matched reef” is a hold point")


def test_what_is_done_again_in_the_minute_in_which_it_was_taken_back_counts() -> None:
    marks = (Mark(T0, "done", "draw-water", 0, "ines", back=True), Mark(T0, "done", "draw-water", 1, "ines"))
    rows, left = taken(marks, (), known_of(snapshot()), T0 + 100)
    assert left == []
    assert rows[1][0] == Done(at=T0, task="draw-water")


def test_a_phone_whose_clock_runs_ahead_loses_nothing() -> None:
    ahead = Mark(T0 + 500, "done", "draw-water", 0, "ines")
    rows, said = taken((ahead,), (), known_of(snapshot()), T0 + 100)
    assert [(record.at, key) for record, key in rows] == [(T0 + 100, ahead.key)]
    assert said == ["taken as of now, draw-water: the clock of that phone is 400 min ahead"]
    journal = [Entry(1, rows[0][0], rows[0][1])]
    assert taken((ahead,), journal, known_of(snapshot()), T0 + 600) == ([], [])


def test_work_of_the_moving_day_that_is_said_long_before_it_is_taken_and_told() -> None:
    day = snapshot()
    tied = known_of(replace(day, tasks=tuple(replace(task, day="move") for task in day.tasks)))
    marks = [Mark(T0 - at, "done", "draw-water", 0, "tom") for at in (30 * 1440, 1440)]
    early, near = (taken((mark,), (), tied, T0 + 100) for mark in marks)
    assert early[0][0][0].at == T0 - 30 * 1440
    assert early[1] == [
        "taken as it says, draw-water: 30 days before it is planned; if the clock of that phone was wrong, "
        "take it back and record it again"
    ]
    assert near[1] == []
    assert (
        taken((marks[0],), (), known_of(day), T0 + 100)[1] == []
    )  # what no moving day asks for may be early


def test_what_is_long_before_the_records_of_what_it_waits_for_is_taken_and_told() -> None:
    day = replace(snapshot(), waits={"catch-fish": ("draw-water",)})
    done = [Mark(T0 + at, "done", name, 0, "tom") for at, name in ((20, "catch-fish"), (90, "draw-water"))]
    told = taken(done, (), known_of(day), T0 + 200)[1]
    assert told == [
        "taken as it says, catch-fish: before “1. Draw water”, which it waits for and which was recorded at "
        "Sat 13 Mar 2027 09:30; if the clock of that phone was wrong, take it back and record it again"
    ]
    soon = [done[0], replace(done[1], at=T0 + 70)]  # pressed when it was thought of
    assert taken(soon, (), known_of(day), T0 + 200)[1] == []


def test_what_ends_before_it_began_by_another_clock_is_taken_too() -> None:
    known = known_of(snapshot())
    begun = Mark(T0 + 25, "begun", "draw-water", 0, "tom")
    rows, left = taken((begun,), (), known, T0 + 100)
    journal = [Entry(1, rows[0][0], rows[0][1])]
    done = Mark(T0 + 10, "done", "draw-water", 0, "ines")
    rows, left = taken((done,), journal, known, T0 + 100)
    assert left == []
    assert [(record.at, key) for record, key in rows] == [(T0 + 25, done.key)]


def test_a_reading_of_a_phone_is_a_reading_of_its_water() -> None:
    mark = Mark(T0 + 25, "read", "temperature@reef", 512, "tom")
    rows, left = taken((mark,), (), known_of(snapshot()), T0 + 100)
    assert left == []
    wanted = Reading(at=T0 + 25, what="temperature", value=25.6, unit="°C", said="25.6 °C", system="reef")
    assert rows == [(wanted, mark.key)]


def test_lost_animals_leave_their_container_once_whether_they_come_as_text_or_in_a_file(
    tmp_path: Path,
) -> None:
    known = known_of(snapshot())
    one = Mark(T0 + 25, "lost", "B2@clowns", 1, "tom")
    marks = (one, Mark(T0 + 30, "lost", "@clowns", 1, "tom"), Mark(T0 + 40, "added", "@clowns", 1, "ines"))
    rows = [
        {
            "kind": mark.kind,
            "container": mark.name.partition("@")[0],
            "group": "clowns",
            "count": mark.time,
            "at": stamp(mark.at),
            "by": mark.person,
        }
        for mark in marks
    ]
    journal: list[Entry] = []
    for told in (told_by_marks(marks[1:], known), _ticks(tmp_path, rows), told_by_marks(marks, known)) * 2:
        written, left = taken_as_told(told, journal, known, T0 + 100)
        assert left == []
        journal += [Entry(len(journal) + at, *row) for at, row in enumerate(written, start=1)]
    assert len(journal) == 3
    assert Counted(at=T0 + 25, group="clowns", change=-1, container="B2") in [each.record for each in journal]
    assert state_of(journal).lost == {"clowns": (("B2", 1), ("", 1), ("", -1))}
    assert sorted(counts_told(journal))[1:] == [
        f"lost @clowns {T0 + 30} 1",
        f"lost B2@clowns {one.at} 1",
    ]
    written, _ = taken_as_told(_ticks(tmp_path, [rows[0] | {"back": True}]), journal, known, T0 + 100)
    undone = [*journal, *(Entry(4, *row) for row in written)]
    assert state_of(undone).lost == {"clowns": (("", 1), ("", -1))}
    assert len(counts_told(undone)) == 2


@pytest.mark.parametrize("change", [{"count": 0}, {"count": "1"}, {"kind": "done"}, {"group": None}])
def test_a_file_with_half_a_record_of_animals_is_refused(tmp_path: Path, change: dict[str, object]) -> None:
    row = {"kind": "lost", "container": "", "group": "clowns", "count": 1, "at": stamp(T0), "by": "tom"}
    assert len(_ticks(tmp_path, [row])) == 1
    with pytest.raises(PlanFileError, match="animals"):
        _ticks(tmp_path, [row | change])


def _ticks(folder: Path, animals: list[dict[str, object]]) -> list[Told]:
    """Save a file as the page does and read it."""
    path = folder / "progress.json"
    path.write_text(json.dumps({"format": 1, "plan": PLAN_ID, "animals": animals}), encoding="utf-8")
    return told_by_ticks(read_progress(path, PLAN_ID), known_of(snapshot()), "")


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("B2@animal-gasps", "B2: animal gasps, says Tomas Reddy"),
        ("@device-dead", "device dead, says Tomas Reddy"),
    ],
)
def test_what_goes_wrong_is_kept_in_words(name: str, said: str) -> None:
    mark = Mark(T0 + 25, "noted", name, 0, "tom")
    rows, left = taken((mark,), (), known_of(snapshot()), T0 + 100)
    number, _, trouble = name.partition("@")
    note = Note(at=T0 + 25, text=said, trouble=trouble, container=number)
    assert (rows, left) == ([(note, mark.key)], [])


def test_two_records_of_one_task_are_both_kept_and_the_earlier_counts() -> None:
    known = known_of(snapshot())
    first = Mark(T0 + 40, "done", "draw-water", 0, "ines")
    second = Mark(T0 + 30, "done", "draw-water", 0, "tom")
    later = Mark(T0 + 50, "begun", "draw-water", 0, "tom")
    rows, left = taken((first, second, later), (), known, T0 + 100)
    assert (len(rows), left) == (3, [])
    journal = [Entry(at, record, key) for at, (record, key) in enumerate(rows, start=1)]
    found = state_of(journal).of("draw-water")
    assert (found.state, found.done) == (State.COMPLETED, T0 + 30)
    back = [*journal, Entry(4, Undo(at=T0 + 90, line=2), "back")]
    assert state_of(back).of("draw-water").done == T0 + 40
    assert taken((first, second, later), journal, known, T0 + 100) == ([], [])


def test_records_of_one_minute_are_taken_as_they_follow_each_other_in_the_plan() -> None:
    """The text lists them by their names: what waits came before what it waits for, and was said to lack it."""
    plan = snapshot()
    after, before = next((after, ties[0]) for after, ties in plan.waits.items() if after < ties[0])
    assert plan.task(before) is not None
    point = Kind.HOLD_POINT
    kinds = {one.id: "met" if one.kind is point else "done" for one in plan.tasks}
    marks = tuple(Mark(T0 + 5, kinds[name], name, 0, "ines") for name in sorted((after, before)))
    rows, _ = taken(marks, (), known_of(plan), T0 + 100)
    assert [record.task for record, _ in rows if isinstance(record, Done | Met)] == [before, after]
