"""The journal from the command line, on an accepted schedule that nobody had to solve."""

from __future__ import annotations

import json
import re
import shlex
import shutil
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from typer.testing import CliRunner

from moveplan.cli.app import app
from moveplan.errors import MoveplanError
from moveplan.journal.file.kept import snapshot_data
from moveplan.journal.file.snapshot import Tie
from moveplan.journal.file.store import append, journal_path
from moveplan.journal.now.next_up import next_up
from moveplan.journal.records import Accepted, Note
from moveplan.journal.rest.promised import Kept
from moveplan.journal.state import state_of
from moveplan.network.link import Relation
from moveplan.network.task import Kind
from moveplan.outputs.wording.journal import fill
from moveplan.times import Interval
from tests.examples import EXAMPLES
from tests.journal.builders import DAY, PLAN_ID, T0, accepted, entries, plan_file, planned, snapshot
from tests.journal.now.test_ways_on import CAUGHT, VAN_FAILS, day

runner = CliRunner()
NOW = "2027-03-13T09:30"


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """Give a plan whose schedule was accepted the day before."""
    path = plan_file(tmp_path)
    append(path, PLAN_ID, lambda _: [(accepted(), "")])
    return path


def _log(plan: Path, *words: str, now: str = NOW) -> str:
    found = runner.invoke(app, ["log", str(plan), *words, "--now", now])
    if found.exception is not None and not isinstance(found.exception, SystemExit):
        raise found.exception
    assert found.exit_code == 0, found.output
    return str(found.stdout)


def _refused(plan: Path, *words: str, now: str = NOW) -> MoveplanError:
    before = journal_path(plan).read_bytes()
    found = runner.invoke(app, ["log", str(plan), *words, "--now", now])
    assert isinstance(found.exception, MoveplanError), found.output
    assert journal_path(plan).read_bytes() == before
    return found.exception


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("begin", "draw-water"), "2. 09:30  begun: Draw water [draw-water]\n"),
        (
            ("done", "draw-water", "--took", "50 min", "--at", "2027-03-13 08:55"),
            "2. 08:55  done: Draw water [draw-water], took 50 min\n",
        ),
        (("done", "daily-look", "--time", "2"), "2. 09:30  done: Daily look [daily-look], time 2\n"),
        (
            ("drop", "draw-water", "--reason", "no need"),
            "2. 09:30  dropped: Draw water [draw-water]: no need\n",
        ),
        (("read", "ammonia", "0.2 mg/l"), "2. 09:30  read: ammonia 0.2 mg/l as N\n"),
        (("read", "ammonia", "0.2"), "2. 09:30  read: ammonia 0.2 mg/l as N\n"),
        (
            ("read", "temperature", "25.5 C", "--system", "reef"),
            "2. 09:30  read: temperature 25.5 C in Reef\n",
        ),
        (("move", "keys-back", "2027-03-28T12:00"), "2. 09:30  moved: keys-back to Sun 28 Mar 12:00\n"),
        (("move", "move-day", "2027-03-20"), "2. 09:30  moved: move-day to 2027-03-20\n"),
        (
            ("out", "tom", "2027-03-14 to 2027-03-15"),
            "2. 09:30  not there: Tomas Reddy, 2027-03-14 to 2027-03-15\n",
        ),
        (("vehicle", "van", "--payload", "900 kg"), "2. 09:30  changed: Hired van, payload 900.0 kg\n"),
        (("lost", "clowns", "1"), "2. 09:30  lost: 1 × Clownfish\n"),
        (("added", "clowns", "2", "--reason", "gift"), "2. 09:30  added: 2 × Clownfish: gift\n"),
        (("shut", "clowns"), "2. 09:30  closed: Clownfish, BUT not logged before it: “2. Catch fish”\n"),
        (("open", "clowns"), "2. 09:30  opened: Clownfish\n"),
        (("works", "Hired van"), "2. 09:30  works again: Hired van\n"),
        (("back", "tomas"), "2. 09:30  there after all: Tomas Reddy, 2027-03-13 to 2027-03-13\n"),
        (("spent", "12.50", "salt"), "2. 09:30  spent: 12.50 on salt\n"),
        (("note", "van smells of fish"), "2. 09:30  note: van smells of fish\n"),
        (("undo",), "2. 09:30  line 1 does not count: schedule accepted\n"),
        (("done", "2"), "2. 09:30  done: Catch fish [catch-fish]\n"),
        (("begin", "--by", "Tomas"), "2. 09:30  begun: Catch fish [catch-fish]\n"),
        (("lid", "on", "b1"), "2. 09:30  lid on: B1, BUT not logged before it: “2. Catch fish”\n"),
        (("lid", "off", "B2"), "2. 09:30  lid off: B2\n"),
        (("lid", "B2", "off"), "2. 09:30  lid off: B2\n"),
        (("tend", "B1", "topped-up"), "2. 09:30  B1: topped up\n"),
        (("tend", "B1", "moved", "--to", "Hired van"), "2. 09:30  B1: moved to Hired van\n"),
        (
            ("met", "water-matched-reef", "--by", "Ines", "--reason", "meter broken"),
            "2. 09:30  met: Water matched reef [water-matched-reef], signed by Ines, although temperature must be "
            "24 to 27 °C; it was not read yet, BUT not logged before it: “3. Drive van”. Reason: meter broken\n",
        ),
    ],
)
def test_what_is_logged_is_said(plan: Path, words: tuple[str, ...], said: str) -> None:
    assert _log(plan, *words) == said
    assert len(journal_path(plan).read_text().splitlines()) == 2


@pytest.mark.parametrize(
    ("words", "message", "status"),
    [
        (("done", "draw-water", "--at", "2027-03-14 08:00"), "Sun 14 Mar 2027 08:00 is in the future", 2),
        (("read", "temperature", "45"), '"45" has no unit; write "45 C" or "45 F"', 2),
        (("met", "water-matched-reef", "--by", "Ines"), "“4. Water matched reef” stays shut", 1),
        (
            ("fails", "ship"),
            'there is no vehicle, tank or place called "ship"; write one of vehicle van, tank reef',
            2,
        ),
        (("fails", "van", "--until", "2027-03-13 09:00"), "it works again before it failed", 2),
        (("move", "dates", "soon"), '"soon" is no number of days; write it like "+14 days"', 2),
        (("move", "party", "2027-03-20"), '"party" is no date that moves', 2),
        (("spent", "much", "salt"), '"much" is no amount', 2),
        (("vehicle", "van"), "nothing is said about the vehicle", 2),
        (("drop", "draw-water", "--reason", " "), "a task is dropped for a reason", 2),
        (("undo", "7"), "line 7 of the journal is no record", 2),
    ],
)
def test_what_is_refused_is_said_and_nothing_written(
    plan: Path, words: tuple[str, ...], message: str, status: int
) -> None:
    error = _refused(plan, *words)
    assert message in str(error)
    assert error.exit_status == status


def test_the_last_records_are_listed_with_what_was_undone(plan: Path) -> None:
    _log(plan, "note", "one")
    _log(plan, "undo")
    found = runner.invoke(app, ["log", str(plan), "--now", NOW])
    assert found.stdout == (
        "1. Fri 12 Mar 08:00  schedule accepted\n2. 09:30  (undone) note: one\n"
        "3. 09:30  line 2 does not count: note: one\n"
    )


def _progress(folder: Path, **changes: object) -> Path:
    data = {
        "format": 1,
        "plan": PLAN_ID,
        "saved": "2027-03-13T09:20:00+00:00",
        "records": [
            {"task": "draw-water", "state": "COMPLETED", "at": "2027-03-13T08:40:31+00:00"},
            {"task": "daily-look", "time": 1, "state": "COMPLETED", "at": "2027-03-13T09:00:10+00:00"},
            {"task": "water-matched-reef", "state": "COMPLETED", "at": "2027-03-13T09:10:00+00:00"},
            {"task": "gone", "state": "COMPLETED", "at": "2027-03-13T09:10:00+00:00"},
        ],
        "containers": {"clowns/30082110": {"closed": "2027-03-13T08:41:00+00:00"}},
    }
    path = folder / "progress.json"
    path.write_text(json.dumps(data | changes), encoding="utf-8")
    return path


def test_progress_of_the_page_is_merged_once(plan: Path, tmp_path: Path) -> None:
    progress = _progress(tmp_path)
    (tmp_path / "reef.yaml").write_text(f"id: {PLAN_ID}\ntitle: Small invented reef\n")
    found = runner.invoke(app, ["log", str(plan), "--from", str(progress), "--now", NOW])
    assert found.stdout == (
        "2. 08:40  done: Draw water [draw-water]\n"
        "3. 08:41  closed: Clownfish, BUT not logged before it: “2. Catch fish”. Reason: recorded on the page\n"
        "4. 09:00  done: Daily look [daily-look], time 1\n"
    )
    assert "“4. Water matched reef” is a hold point; somebody has to sign it" in found.stderr
    assert 'left out, gone: there is no task "gone"' in found.stderr
    again = runner.invoke(app, ["log", str(plan), "--from", str(progress), "--now", NOW])
    assert again.stdout == "nothing to record\n"


def test_what_was_merged_and_undone_is_not_merged_again(plan: Path, tmp_path: Path) -> None:
    progress = _progress(tmp_path, containers={})
    runner.invoke(app, ["log", str(plan), "--from", str(progress), "--now", NOW])
    _log(plan, "undo", "2")
    again = runner.invoke(app, ["log", str(plan), "--from", str(progress), "--now", NOW])
    assert again.stdout == "nothing to record\n"


def test_a_tick_that_was_logged_by_hand_is_not_doubled(plan: Path, tmp_path: Path) -> None:
    _log(plan, "done", "draw-water")
    progress = _progress(tmp_path, containers={})
    found = runner.invoke(app, ["log", str(plan), "--from", str(progress), "--now", NOW])
    assert found.stdout == "3. 09:00  done: Daily look [daily-look], time 1\n"


def test_ticked_hold_points_are_signed_by_who_is_named(plan: Path, tmp_path: Path) -> None:
    _log(plan, "read", "temperature", "25 C", "--at", "2027-03-13 09:05")
    _log(plan, "done", "drive-van", "--at", "2027-03-13 09:00")
    progress = _progress(
        tmp_path,
        containers={},
        records=[{"task": "water-matched-reef", "state": "COMPLETED", "at": "2027-03-13T09:10:00+00:00"}],
    )
    found = runner.invoke(app, ["log", str(plan), "--from", str(progress), "--by", "Ines", "--now", NOW])
    assert found.stdout == "4. 09:10  met: Water matched reef [water-matched-reef], signed by Ines\n"


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"plan": "other"}, 'it belongs to the plan "other", this plan is "reef-1"'),
        ({"format": 9}, "it is no progress file of this version"),
        ({"records": [{"task": 1}]}, "a record names no task"),
        ({"records": [{"task": "a", "at": "now"}]}, "a moment such as 2027-03-13T08:00Z belongs there"),
        ({"containers": []}, "it is no progress file of this version"),
    ],
)
def test_a_progress_file_that_is_none(
    plan: Path, tmp_path: Path, changes: dict[str, object], message: str
) -> None:
    progress = _progress(tmp_path, **changes)
    found = runner.invoke(app, ["log", str(plan), "--from", str(progress), "--now", NOW])
    assert isinstance(found.exception, MoveplanError)
    assert message in str(found.exception)
    assert found.exception.exit_status == 2


def test_next_on_the_screen_of_a_phone(plan: Path) -> None:
    _log(plan, "done", "draw-water", "--at", "2027-03-13 08:40")
    _log(plan, "begin", "catch-fish", "--at", "2027-03-13 08:45")
    found = runner.invoke(app, ["next", str(plan), "--now", NOW])
    assert (
        found.stdout
        == """\
Small invented reef, Sat 13 Mar 2027 09:30
1 of 6 done

ANIMALS IN CONTAINERS
  B1: 1 × Clownfish: 5 h 55 min left (since 08:45)
  B2: 1 × Clownfish: 5 h 55 min left (since 08:45)

NOW
  Ines Farrow: at 2. Catch fish [catch-fish] since 08:45
      then 13:00  4. Water matched reef [water-matched-reef]
  Tomas Reddy: at 2. Catch fish [catch-fish] since 08:45
      then 09:45  3. Drive van [drive-van]

HOLD POINTS
  13:00  4. Water matched reef [water-matched-reef]
      temperature must be 24 to 27 °C; it was not read yet
      waits for 3. Drive van
"""
    )
    assert len(found.stdout.splitlines()) <= 40
    _log(plan, "done", "catch-fish")
    # driving, hold point and release last 1 h 30 min, and the release was to be over at 13:50
    in_time = runner.invoke(app, ["next", str(plan), "--now", "2027-03-13T12:00"]).stdout
    assert "behind" not in in_time
    said = runner.invoke(app, ["next", str(plan), "--now", "2027-03-13T13:00"]).stdout
    # 400 minutes from 08:45 end at 15:25
    assert said.splitlines()[2] == (
        "the day runs 40 min behind; as it goes settled 14:30 (planned 13:50); B1: Clownfish with 55 min to spare"
    )
    assert "B1: 1 × Clownfish: 2 h 25 min left, 55 min to spare (since 08:45)" in said
    late = runner.invoke(app, ["next", str(plan), "--now", "2027-03-13T14:00"]).stdout.splitlines()[2]
    assert late.startswith("the day runs 1 h 40 min behind; ")
    assert late.endswith("; B1: Clownfish 5 min too short")


def test_next_says_how_to_make_good_for_days_without_records(plan: Path) -> None:
    words = "moveplan record PLAN done 5 --and-before --at 2027-03-13T13:50 --met 4=Ines --read 'temperature VALUE'"
    line = f"nothing was recorded before today; where all of it went as planned: {words}"
    asked = ["next", str(plan), "--now", "2027-03-14T09:30"]
    assert line in runner.invoke(app, asked).stdout.splitlines()
    assert line not in runner.invoke(app, ["next", str(plan), "--now", NOW]).stdout.splitlines()
    bare = words.split()[3:8]
    refused = _refused(plan, *bare, "--by", "Ines Farrow", now="2027-03-14T09:30")
    line = (
        "done 5 --and-before --at 2027-03-13T13:50 --by 'Ines Farrow' --met 4=Ines --read 'temperature VALUE'"
    )
    assert line in str(refused)
    _log(plan, *shlex.split(words.replace("VALUE", "25"))[3:], now="2027-03-14T09:30")
    assert "nothing was recorded" not in runner.invoke(app, asked).stdout


def test_next_says_how_long_each_box_lasts_in_the_vehicle_and_where_to_with_it(tmp_path: Path) -> None:
    path, day = plan_file(tmp_path), snapshot()
    places = (
        ("Mill", "catch-fish", "start"),
        ("Hired van", "drive-van", "start"),
        ("Harbour", "drive-van", "finish"),
    )
    rides = replace(day, stays=(replace(day.stays[0], in_vehicle_min=150, aboard_min=50, places=places),))
    append(path, PLAN_ID, lambda _: [(Accepted(at=T0 - 1440, schedule=snapshot_data(rides)), "")])
    _log(path, "done", "catch-fish", "--at", "2027-03-13 09:30")
    _log(path, "begin", "drive-van", "--at", "2027-03-13 11:00", now="2027-03-13T11:00")
    said = runner.invoke(app, ["next", str(path), "--now", "2027-03-13T11:10"]).stdout
    assert "  B1 must be out of the vehicle by 11:50, expected out 11:45\n" in said
    said = runner.invoke(app, ["next", str(path), "--now", "2027-03-13T11:55"]).stdout
    assert "OVER by 5 min, carry it, lid on, into a room or car at room temperature (since" in said
    assert "  B1 must be out of the vehicle by 11:50, expected out 11:55: that will NOT do\n" in said
    _log(path, "fails", "van", now="2027-03-13T11:55")
    said = runner.invoke(app, ["next", str(path), "--now", "2027-03-13T11:55"]).stdout
    assert (
        "was to last, Hired van: until 11:50; now carry it, lid on, into a room or car at room temperature"
        in said
    )


@pytest.mark.parametrize(
    ("tie", "said"),
    [
        (Tie("draw-water", "catch-fish"), "waits for Draw water [draw-water] (Ines Farrow)"),
        (
            Tie("draw-water", "catch-fish", Relation.STARTTOSTART),
            "once begun: Draw water [draw-water] (Ines Farrow)",
        ),
        (
            Tie("daily-look", "catch-fish", gap_min=120),
            "not before 10:40: 2 h after Daily look [daily-look]",
        ),
    ],
)
def test_next_says_what_holds_a_task_back(tmp_path: Path, tie: Tie, said: str) -> None:
    """What is done is named with the hour only, and of what has only to begin that is said."""
    tasks = tuple(replace(one, times=1) for one in snapshot().tasks)
    tied = replace(snapshot(), tasks=tasks, waits={"catch-fish": (tie.before,)}, gaps=(tie,))
    plan = plan_file(tmp_path)
    append(plan, PLAN_ID, lambda _: [(Accepted(at=T0 - 1440, schedule=snapshot_data(tied)), "")])
    _log(plan, "done", "daily-look", "--at", "2027-03-13 08:40")
    _log(plan, "done", "drive-van", "--at", "2027-03-13 08:40")
    lines = runner.invoke(app, ["next", str(plan), "--now", NOW]).stdout.splitlines()
    waits = lines.index("  Tomas Reddy: waits; then 2. Catch fish [catch-fish]")
    assert lines[waits + 1] == f"      {said}"


def test_next_as_data(plan: Path) -> None:
    data = json.loads(runner.invoke(app, ["next", str(plan), "--json", "--now", NOW]).stdout)
    assert data["now"] == "2027-03-13T09:30:00+00:00"
    assert data["behind_minutes"] == 0
    assert [(row["number"], row["left_minutes"]) for row in data["containers"]] == [("B1", 340), ("B2", 340)]
    assert data["next"][0] == {
        "person": "ines",
        "name": "Ines Farrow",
        "task": "draw-water",
        "number": 1,
        "title": "Draw water",
        "start": "2027-03-13T09:30:00+00:00",
        "finish": "2027-03-13T10:00:00+00:00",
        "people": ["ines"],
        "place": "",
        "ready": True,
        "runs": False,
        "waits_for": [],
        "without": [],
    }


def test_next_without_an_accepted_schedule(tmp_path: Path) -> None:
    plan = plan_file(tmp_path)
    found = runner.invoke(app, ["next", str(plan)])
    assert isinstance(found.exception, MoveplanError)
    assert str(found.exception) == f'no schedule was accepted yet; run "moveplan record {plan} accept" first'


def test_a_reading_past_a_limit_says_what_to_do(plan: Path) -> None:
    # 10 mg N/l to a quarter of it: two halvings, 1 - (1 - 0.5)^2 = 0.75 (mass balance)
    assert _log(plan, "read", "nitrite", "10 mg/l N") == (
        "2. 09:30  read: nitrite 10 mg/l N\n"
        "PAST A LIMIT: nitrite 10 mg/l N is above 5.0 mg N/l\n"
        "  change 50 % of the water on 2 days running, with new water of the same temperature and salinity\n"
        "  add no animals, halve the feed, and measure again a day later\n"
        "  if animals suffer, call a vet who treats fish\n"
    )


def test_a_reading_far_from_the_last_is_asked_again(plan: Path) -> None:
    assert "FAR" not in _log(plan, "read", "salinity", "35")
    said = _log(plan, "read", "salinity", "30", now="2027-03-13T09:40")
    assert "FAR FROM THE LAST ONE: salinity was 35 psu at 09:30\n  measure again" in said
    assert "FAR" not in _log(plan, "read", "salinity", "30.2", now="2027-03-13T09:41")


def test_a_reading_of_a_cycle_gives_its_forecast(tmp_path: Path) -> None:
    plan = plan_file(tmp_path)
    tasks = (
        planned("dose-ammonia-reef", -20_000, 15),
        planned("ripen-reef", -19_985, 25_000, kind=Kind.WAIT),
        planned("cycle-done-reef", 5_100, 15, kind=Kind.HOLD_POINT),
    )
    cycling = replace(snapshot(), tasks=tasks, cycles={"reef": {"seeding": "rock", "temperature_c": 26.0}})
    append(plan, PLAN_ID, lambda _: [(Accepted(at=T0 - 30_000, schedule=snapshot_data(cycling)), "")])
    dosed = "2027-03-05T10:00"
    _log(plan, "done", "dose-ammonia-reef", now=dosed)
    said = _log(plan, "read", "ammonia", "1.2 mg/l N")
    assert said.startswith("3. 09:30  read: ammonia 1.2 mg/l N\ncycle of Reef: done about ")
    assert "8 in 10: " in said
    assert said.endswith("(1 readings)\n  a forecast opens nothing: the hold point asks for readings\n")
    assert "PAST A LIMIT" not in said


def test_a_date_that_was_typed_wrong_is_asked_and_a_reason_takes_it(plan: Path) -> None:
    at = ("--at", "2027-02-12T06:40")
    now = ("--now", "2027-03-13T09:30")
    asked = runner.invoke(app, ["record", str(plan), "done", "draw-water", *at, *now])
    assert asked.exit_code == 1
    assert (
        "“1. Draw water” at Fri 12 Feb 2027 06:40: is that so? It is more than a day before now, "
        "Sat 13 Mar 2027 09:30. Write the real moment with --at, or say with --reason why it is so; "
        "the reason is printed from then on."
    ) in str(asked.exception)
    assert "draw-water" not in _log(plan)
    taken = _log(plan, "done", "draw-water", *at, "--reason", "drawn at the shop")
    assert taken.endswith("done: Draw water [draw-water]. Reason: drawn at the shop\n")
    assert _log(plan).endswith("done: Draw water [draw-water]. Reason: drawn at the shop\n")


def test_the_water_of_a_container_is_read_apart_from_the_tank(tmp_path: Path) -> None:
    plan = plan_file(tmp_path)
    day = replace(snapshot(), labels=(("B1", ("Clownfish",)), ("N1", ("new water",))))
    append(plan, PLAN_ID, lambda _: [(Accepted(at=T0 - 1440, schedule=snapshot_data(day)), "")])
    _log(plan, "done", "draw-water", now="2027-03-13T08:30")
    _log(plan, "lid", "on", "B1", now="2027-03-13T08:40")
    said = _log(plan, "read", "temperature", "24,1", "--of", "b1", now="2027-03-13T09:10")
    assert said == "4. 09:10  read: temperature 24.1 C in B1\n"
    _log(plan, "read", "salinity", "35 psu", "--of", "N1", now="2027-03-13T09:15")
    told = runner.invoke(app, ["next", str(plan), "--now", "2027-03-13T09:30"]).stdout
    assert "  B1: 1 × Clownfish: 5 h 50 min left" in told
    assert "(since 08:40) 24.1 C at 09:10\n" in told
    assert "READ IN OTHER CONTAINERS\n  N1: salinity 35 psu at 09:15\n" in told
    cold = _log(plan, "read", "temperature", "18 C", "--of", "B1")
    assert "B1 IS COLDER THAN ITS ANIMALS STAND: 18 C, 22 °C at least" in cold
    assert "carry it, lid on, into a room or car at room temperature" in cold
    assert "FAR FROM THE LAST ONE: temperature was 24.1 C at 09:10" in cold
    assert "no hold point" not in cold
    told = runner.invoke(app, ["next", str(plan), "--now", "2027-03-13T09:30"]).stdout
    assert "18 C at 09:30: TOO COLD, carry it, lid on, into a room or car at room temperature\n" in told
    data = json.loads(runner.invoke(app, ["next", str(plan), "--now", "2027-03-13T09:30", "--json"]).stdout)
    assert [(one["container"], one["what"], one["said"], one["too"]) for one in data["readings"]] == [
        ("B1", "temperature", "18 C", "cold"),
        ("N1", "salinity", "35 psu", None),
    ]
    assert (data["readings"][0]["value"], data["readings"][0]["unit"]) == (18.0, "°C")
    assert data["readings"][0]["at"].startswith("2027-03-13T09:30")
    fits = "COLDER" not in _log(plan, "read", "temperature", "18 C", "--of", "N1")
    assert fits  # no animals in it


def test_what_was_read_in_a_container_signs_no_hold_point_of_a_tank(tmp_path: Path) -> None:
    plan = plan_file(tmp_path)
    append(plan, PLAN_ID, lambda _: [(accepted(), "")])
    _log(plan, "done", "drive-van", now="2027-03-13T09:00")
    _log(plan, "read", "temperature", "25 C", "--of", "B1")
    for more in ((), ("--read", "temperature 25 C in B1")):
        shut = runner.invoke(
            app,
            [
                "record",
                str(plan),
                "met",
                "water-matched-reef",
                "--by",
                "Ines",
                *more,
                "--now",
                "2027-03-13T09:31",
            ],
        )
        assert shut.exit_code != 0
    assert (
        "it was not read yet" in runner.invoke(app, ["next", str(plan), "--now", "2027-03-13T12:31"]).stdout
    )
    _log(plan, "read", "temperature", "25 C")
    _log(plan, "met", "water-matched-reef", "--by", "Ines", now="2027-03-13T09:32")


def test_a_water_that_is_none_is_named_with_what_there_is(plan: Path) -> None:
    wrong = runner.invoke(app, ["record", str(plan), "read", "temperature", "25", "--of", "T9"])
    assert 'there is no water "T9"; there are reef, B1, B2' in str(wrong.exception)


def test_looking_back_offers_what_was_learnt(plan: Path) -> None:
    late = "2027-03-13T23:00"
    for task, took, at in (
        ("draw-water", "60 min", "09:00"),
        ("catch-fish", "90 min", "10:30"),
        ("release-fish", "45 min", "15:40"),
    ):
        reason = ("--reason", "not measured")
        _log(plan, "done", task, "--took", took, "--at", f"2027-03-13 {at}", *reason, now=late)
    _log(plan, "lost", "clowns", "1", "--reason", "jumped", now=late)
    found = runner.invoke(app, ["look-back", str(plan), "--now", late])
    assert (
        found.stdout
        == """\
Small invented reef, looking back at Sat 13 Mar 2027 23:00
against what was last agreed before each task; the last schedule was accepted for Fri 12 Mar 2027 08:00
3 of 6 tasks are neither done nor dropped yet
  settled: planned Sat 13 Mar 2027 13:50, real Sat 13 Mar 2027 15:40, 1 h 50 min later

By phase (done of all; measured work, planned and real)
  Test: 3 of 6; 2 h planned, 3 h 15 min real

By task (measured)
  Draw water [draw-water]: 30 min planned, 1 h real, × 2.0
  Catch fish [catch-fish]: 1 h planned, 1 h 30 min real, × 1.5
  Release fish [release-fish]: 30 min planned, 45 min real, × 1.5

Late
  Release fish [release-fish]: 1 h 50 min late; took 1.5 times as long as planned
  Catch fish [catch-fish]: 1 h late; took 1.5 times as long as planned
  Draw water [draw-water]: 30 min late; took 2.0 times as long as planned

Animals lost
  1 × Clownfish: jumped

Cost
  planned 135.00 EUR, logged as spent 0 EUR

For the next plan: moveplan look-back PLAN --json > learnt.json, and in it "learn: learnt.json"
or, of all that was learnt, only
policy:
  pace-other-work: 1.6  # real over planned, 3 tasks
"""
    )
    data = json.loads(runner.invoke(app, ["look-back", str(plan), "--json", "--now", late]).stdout)
    assert data["policy"] == {"pace-other-work": 1.6}
    assert data["lost"] == [{"group": "clowns", "count": 1, "reasons": ["jumped"]}]


def test_next_says_how_far_the_plan_has_drifted_from_the_first(plan: Path) -> None:
    tasks = tuple(
        replace(task, segments=tuple(Interval(one.start + 120, one.finish + 120) for one in task.segments))
        for task in snapshot().tasks
    )
    later = Accepted(at=T0 - 600, schedule=snapshot_data(replace(snapshot(), tasks=tasks, now=T0 - 600)))
    append(plan, PLAN_ID, lambda _: [(later, "")])
    found = runner.invoke(app, ["next", str(plan), "--now", NOW])
    assert found.stdout.splitlines()[2] == "settled: 2 h later than first accepted"
    data = json.loads(runner.invoke(app, ["next", str(plan), "--json", "--now", NOW]).stdout)
    assert data["later_minutes"] == {"settled": 120}


def test_nothing_heavy_is_imported_by_next(plan: Path) -> None:
    words = f"import sys; sys.argv = ['moveplan', 'next', {str(plan)!r}, '--now', '{NOW}']; import runpy"
    code = f"""{words}
try:
    runpy.run_module("moveplan", run_name="__main__")
except SystemExit:
    pass
heavy = {{"numpy", "gsw", "ortools", "networkx", "babel", "icalendar", "yaml", "holidays"}} & set(sys.modules)
assert not heavy, heavy
assert not [name for name in sys.modules if name.startswith(("moveplan.planfile", "moveplan.practice"))]
"""
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=False
    )
    assert done.returncode == 0, done.stderr


def test_a_task_that_is_on_needs_no_name(plan: Path) -> None:
    assert "nothing was begun and not ended" in str(_refused(plan, "done"))
    assert "several tasks are on: “1. Draw water”, “2. Catch fish”" in str(_refused(plan, "begin"))
    assert 'nobody called "Tom Thumb"; did you mean tom' in str(_refused(plan, "begin", "--by", "Tom Thumb"))
    assert 'nobody called "Tom Thumb"' in str(_refused(plan, "done", "2", "--by", "Tom Thumb"))
    assert "no task has the number 99; write an id, or a number from 1 to 6" in str(
        _refused(plan, "done", "99")
    )
    _log(plan, "begin", "1")
    assert _log(plan, "done") == "3. 09:30  done: Draw water [draw-water]\n"


def test_what_comes_too_early_is_refused_or_said(plan: Path) -> None:
    error = _refused(plan, "begin", "release-fish")
    assert error.exit_status == 1
    assert "“5. Release fish” cannot be begun yet: “4. Water matched reef” must come before it" in str(error)
    assert _log(plan, "begin", "release-fish", "--reason", "they gasp") == (
        "2. 09:30  begun: Release fish [release-fish], BUT not logged before it: “4. Water matched reef”, "
        "“3. Drive van”. Reason: they gasp\n"
    )


def test_a_clock_that_goes_back_is_said(plan: Path) -> None:
    _log(plan, "note", "one")
    found = runner.invoke(app, ["next", str(plan), "--now", "2027-03-13T09:10"])
    assert found.stderr == (
        "the clock stands 20 min before the last record: look at it, or at the time of that record\n"
    )


def test_what_stands_before_the_word_is_meant_for_it_unless_it_says_so_itself(plan: Path) -> None:
    words = ("--now", "2027-03-13T09:40", "--by", "Ann")
    for own, moment in (((), "09:40"), (("--now", "2027-03-13T09:50"), "09:50")):
        found = runner.invoke(app, ["log", str(plan), *words, "note", "rain", *own])
        assert f"{moment}  " in found.stdout, found.output


def test_everything_up_to_here_is_done_in_one_line(plan: Path) -> None:
    said = _log(plan, "begin", "3", "--and-before", "--by", "Tomas")
    assert said == ("2. 09:30  done: Catch fish [catch-fish]\n3. 09:30  begun: Drive van [drive-van]\n")
    assert "before “5. Release fish” stands a hold point" in str(_refused(plan, "done", "5", "--and-before"))
    assert "there is no task" in str(_refused(plan, "done", "no-such", "--and-before"))


def test_care_up_to_here_is_done_a_time_at_a_time(plan: Path) -> None:
    """Times that were planned to be over are recorded each with its number, those to come are not."""
    signed = ("--met", "4=Ines", "--reason", "meter broken")
    line = ("done", "daily-look", "--time", "2", "--and-before", *signed)
    said = [one for one in _log(plan, *line, now="2027-03-14T19:00").splitlines() if "daily-look" in one]
    assert [re.findall(r"(\d\d:\d\d)  done: .*, time (\d)", one) for one in said] == [
        [("18:15", "1")],
        [("19:00", "2")],
    ]


def test_hold_points_on_the_way_are_answered_in_the_same_line(plan: Path) -> None:
    late = "2027-03-13T14:00"
    line = ["done", "release-fish", "--and-before", "--by", "ines"]
    asked = str(_refused(plan, *line, now=late))
    assert asked.endswith(f"moveplan record {plan} {' '.join(line)} --met 4=Ines --read 'temperature VALUE'")
    assert "temperature must be 24 to 27 °C; the last reading is 29 C" in str(
        _refused(plan, *line, "--met", "4=Ines", "--read", "temperature 29 C", now=late)
    )
    assert "no hold point that is signed here asks for nitrite" in str(
        _refused(plan, *line, "--met", "4=Ines", "--read", "nitrite 0.1", "--reason", "no meter", now=late)
    )
    assert '"Ines" names no hold points' in str(_refused(plan, *line, "--met", "Ines", now=late))
    said = _log(plan, *line, "--met", "4=Ines", "--read", "temperature 25.5 C", now=late).splitlines()
    assert said[-3:] == [
        "5. 13:15  read: temperature 25.5 C",
        "6. 13:15  met: Water matched reef [water-matched-reef], signed by Ines",
        "7. 14:00  done: Release fish [release-fish]",
    ]


def test_a_hold_point_is_signed_with_its_readings_and_all_before_it(plan: Path) -> None:
    line = ("met", "4", "--by", "Ines", "--and-before", "--read", "temperature 25.5 C")
    said = _log(plan, *line, now="2027-03-13T13:10").splitlines()
    assert [one.partition("  ")[2].partition(":")[0] for one in said] == ["done"] * 3 + ["read", "met"]


def test_what_fails_says_its_ways_at_once_and_next_goes_on_saying_them(plan: Path) -> None:
    said = _log(plan, "fails", "van", "--until", "2027-03-13 10:00")
    assert said.startswith(
        "2. 09:30  failed: Hired van, expected back 10:00\nFAILED 09:30: Hired van\n"
        "  first: load nothing, drain nothing and strip nothing more; the animals stay indoors, or come back in\n"
        "  hold: 2 containers stay closed with air on; B1 (Clownfish) lasts"
    )
    assert "planned on as if it were over at 10:00" in said
    assert (
        "  call about it: whoever hires one out or lends one (nobody under contacts: has such a role)\n"
        in said
    )
    data = json.loads(runner.invoke(app, ["next", str(plan), "--now", NOW, "--json"]).stdout)
    assert [(one["what"], one["id"], one["held"]) for one in data["failures"]] == [
        ("vehicle", "van", ["drive-van"])
    ]
    assert [turn.get("held") for turn in data["next"] if turn["task"] == "drive-van"] == [True]
    shown = runner.invoke(app, ["next", str(plan), "--now", NOW]).stdout
    assert "FAILED 09:30: Hired van" in shown
    _log(plan, "works", "van")
    assert "FAILED" not in runner.invoke(app, ["next", str(plan), "--now", NOW]).stdout


def test_what_cannot_be_undone_waits_until_another_van_is_sure(tmp_path: Path) -> None:
    path = plan_file(tmp_path)
    rows = (Accepted(at=T0 - 1440, schedule=snapshot_data(day())), *CAUGHT, VAN_FAILS)
    append(path, PLAN_ID, lambda _: [(one, "") for one in rows])
    asked = ["next", str(path), "--now", "2027-03-13T09:35"]
    said = runner.invoke(app, asked).stdout
    assert "  first: load nothing, drain nothing and strip nothing more; the animals stay" in said
    held = "waits for Hired van or another vehicle: Ines Farrow rings"
    assert f"{held}; not before that is sure, as the animals may have to go back; then 3. Drain reef" in said
    refused = _refused(path, "done", "drain-reef", now="2027-03-13T09:36")
    assert str(refused).startswith("“3. Drain reef” waits: Hired van failed at")
    reasoned = _log(path, "done", "drain-reef", "--reason", "it was drained before", now="2027-03-13T09:36")
    assert reasoned.endswith(
        "BUT not logged before it: that Hired van works again. Reason: it was drained before\n"
    )
    said = runner.invoke(app, asked).stdout
    assert f"{held}; then 4. Load van" in said
    # the load was to begin at 09:40, and is planned on from 11:35: all but 10 min of that is made up while it drives
    assert "the day runs 10 min behind; as it goes settled 14:00 (planned 13:50)" in said


def test_tasks_that_count_animals_say_how_many_were_lost(tmp_path: Path) -> None:
    path = plan_file(tmp_path)
    first, *rest = snapshot().tasks
    tasks = (replace(first, title="Feed 2 × Clownfish"), *rest)
    rows = Accepted(at=T0 - 1440, schedule=snapshot_data(replace(snapshot(), tasks=tasks)))
    append(path, PLAN_ID, lambda _: [(rows, "")])
    asked = ["next", str(path), "--now", NOW]
    assert "1. Feed 2 × Clownfish [draw-water]" in runner.invoke(app, asked).stdout
    _log(path, "lost", "clowns", "1")
    assert "1. Feed 2 × Clownfish (less 1 lost) [draw-water]" in runner.invoke(app, asked).stdout
    _log(path, "added", "clowns", "1")
    assert "1. Feed 2 × Clownfish [draw-water]" in runner.invoke(app, asked).stdout


def test_what_was_broken_at_a_container_is_mended(plan: Path) -> None:
    asked = ["next", str(plan), "--now", NOW]
    broken = [
        Note(at=T0 + 80, text=f"{number}: {trouble}", trouble=trouble, container=number)
        for number, trouble in (("B1", "device-dead"), ("B2", "container-leaks"), ("B2", "device-dead"))
    ]
    append(plan, PLAN_ID, lambda _: [(one, "") for one in broken])
    said = runner.invoke(app, asked).stdout
    assert "BROKEN 09:20: B1: device-dead; once it is mended: record PLAN works B1\n" in said
    assert _log(plan, "works", "b1") == "5. 09:30  mended: B1, device dead\n"
    said = runner.invoke(app, asked).stdout
    assert "BROKEN 09:20: B1" not in said
    assert "BROKEN 09:20: B2" in said
    said = str(_refused(plan, "works", "B1"))
    assert "nothing is broken at B1" in said
    said = str(_refused(plan, "works", "B2"))
    assert 'write one of "container-leaks B2", "device-dead B2"' in said
    said = str(_refused(plan, "works", "leak B2"))
    assert "did you mean container-leaks B2" in said
    assert _log(plan, "works", "container-leaks") == "6. 09:30  mended: B2, container leaks\n"
    assert _log(plan, "works", "B2") == "7. 09:30  mended: B2, device dead\n"
    assert "BROKEN" not in runner.invoke(app, asked).stdout
    help_text = runner.invoke(app, ["log", str(plan), "works", "--help"]).stdout
    assert "works X2" in " ".join(help_text.split())


def test_who_was_taken_out_is_put_back(plan: Path) -> None:
    assert "NOT THERE: Tomas Reddy" in _log(plan, "out", "tom")
    assert "NOT THERE" in runner.invoke(app, ["next", str(plan), "--now", NOW]).stdout
    assert "NOT THERE" not in _log(plan, "back", "Tomas Reddy", "2027-03-13")
    assert "NOT THERE" not in runner.invoke(app, ["next", str(plan), "--now", NOW]).stdout


def test_who_is_not_there_today_is_told_what_comes_after(tmp_path: Path) -> None:
    """With all that holds it back left out: it is another day's."""
    path = plan_file(tmp_path)
    tidy = planned("tidy-room", DAY + 60, 20, people=("tom",), number=7)
    plan = replace(
        snapshot(),
        tasks=(*snapshot().tasks, tidy),
        waits={**snapshot().waits, "tidy-room": ("release-fish",)},
    )
    append(path, PLAN_ID, lambda _: [(Accepted(at=T0 - DAY, schedule=snapshot_data(plan)), "")])
    _log(path, "out", "tom")
    lines = runner.invoke(app, ["next", str(path), "--now", NOW]).stdout.splitlines()
    there = lines.index("  Tomas Reddy: not there today; then Sun 14 Mar 09:00  7. Tidy room [tidy-room]")
    assert lines[there + 1 : there + 2] in ([""], [])


def test_nobody_is_told_that_something_is_possible_before_they_have_come(tmp_path: Path) -> None:
    path = plan_file(tmp_path)
    pack = planned("pack-media", 120, 10, people=("tom",), number=7)
    plan = replace(snapshot(), tasks=(*snapshot().tasks, pack))
    append(path, PLAN_ID, lambda _: [(Accepted(at=T0 - DAY, schedule=snapshot_data(plan)), "")])
    said = runner.invoke(app, ["next", str(path), "--now", "2027-03-13T08:10"]).stdout
    assert "  Tomas Reddy: from 08:30: 2. Catch fish [catch-fish]" in said
    assert "possible now" not in said


def test_who_is_on_the_road_with_a_vehicle_that_failed_is_told_so(tmp_path: Path) -> None:
    path = plan_file(tmp_path)
    rows = (Accepted(at=T0 - DAY, schedule=snapshot_data(day())), *CAUGHT)
    append(path, PLAN_ID, lambda _: [(one, "") for one in rows])
    for words in (("done", "drain-reef"), ("done", "load-van"), ("begin", "drive-van")):
        _log(path, *words, now="2027-03-13T10:35")
    said = runner.invoke(app, ["next", str(path), "--now", "2027-03-13T10:40"]).stdout
    assert "  Ines Farrow: at 5. Drive van [drive-van] since 10:35\n" in said  # at no place
    _log(path, "fails", "van", now="2027-03-13T10:35")
    lines = runner.invoke(app, ["next", str(path), "--now", "2027-03-13T10:40"]).stdout.splitlines()
    for name in ("Ines Farrow", "Tomas Reddy"):
        assert (
            f"  {name}: on the road with 5. Drive van [drive-van] since 10:35: off the road and everybody safe; "
            "air on, lids on, doors shut; where there is a room, carry the containers into it; it waits for Hired van "
            "or another vehicle: Ines Farrow rings"
        ) in lines


def test_all_dates_move_in_one_record_and_who_is_asked_again_is_said(plan: Path) -> None:
    said = _log(plan, "move", "dates", "+14 days")
    assert said.startswith(
        "2. 09:30  moved: all dates by +14 days\nmoving day, fall-back day, keys and hire went along"
    )
    assert "  Tomas Reddy: has time on the new day?\n" in said
    assert "  Hired van: free on the new days, and what does the change cost?\n" in said
    assert "    assumed: it costs 90 EUR, 0 of 7 days are left\n" in said
    assert len(journal_path(plan).read_text().splitlines()) == 2


def test_an_empty_text_is_no_progress(plan: Path) -> None:
    found = runner.invoke(app, ["record", str(plan), "--paste", "", "--now", NOW])
    assert str(found.exception).startswith("nothing was recorded: the text is not whole; ")
    assert found.stdout == ""


def test_next_sends_nobody_to_the_old_day_once_the_dates_have_moved(plan: Path) -> None:
    def lines() -> list[str]:
        return runner.invoke(app, ["next", str(plan), "--now", NOW]).stdout.splitlines()

    before = lines()
    assert "NOW" in before
    _log(plan, "move", "dates", "+14 days")
    first, *others = lines()
    assert first.startswith(
        "THE DATES HAVE MOVED by 14 days (recorded 09:30): begin nothing more of the old days, "
    )
    assert first.endswith("then accept it: moveplan build PLAN; moveplan record PLAN accept")
    assert not {"NOW", "HOLD POINTS", "Nothing is left to do."} & set(others)
    said = runner.invoke(app, ["next", str(plan), "--json", "--now", NOW]).stdout
    data = json.loads(said)
    assert [one["days"] for one in data["dates_moved"]] == [14]
    assert (data["next"], data["hold_points"], data["behind_minutes"]) == ([], [], 0)
    _log(plan, "move", "dates", "-14 days")
    assert lines() == before
    _log(plan, "move", "move-day", "2027-03-20")
    assert lines()[0].startswith("THE DATES HAVE MOVED to 2027-03-20 (")


def test_next_tells_how_surely_the_rest_keeps_what_is_promised(tmp_path: Path) -> None:
    example = tmp_path / "small_tank_move.yaml"
    shutil.copy(EXAMPLES / example.name, example)
    told = ["record", str(example), "accept", "--solver-seconds", "0.2"]
    assert runner.invoke(app, told).exit_code == 0
    built = json.loads(runner.invoke(app, ["show", str(example), "--json", "--solver-seconds", "0.2"]).stdout)
    asked = ["next", str(example), "--now", built["now"]]
    promise = json.loads(runner.invoke(app, [*asked, "--json"]).stdout)["promise"]
    assert promise["confidence"] == built["promise"]["confidence"]
    assert promise["kept"] == pytest.approx(built["promise"]["kept"], abs=0.06)
    assert {row["what"] for row in promise["breaks"]} <= {"day", "hours", "hire", "keys", "safe-time"}
    line = next(one for one in runner.invoke(app, asked).stdout.splitlines() if one.startswith("from here"))
    assert "of the trial runs (80 % asked)" in line


@pytest.mark.parametrize("late_min", [0, 400])
def test_a_share_of_runs_beside_what_is_too_short_says_which_limits_they_go_by(late_min: int) -> None:
    """A box that is too short by the cautious end of its safe time is too short in some of the runs only."""
    plan, promise = day(), Kept(0.8, 0.49, 0.01, (("safe-time", "clowns", 0.18),))
    found = next_up(plan, state_of(entries(*CAUGHT)), T0 + 95 + late_min)
    assert any((one.spare_min or 0) < 0 for one in found.travelling) is (late_min > 0)
    values = {"next": found, "plan": plan, "promise": promise}
    lines = fill("forecast", ZoneInfo(plan.zone), found.now, values).splitlines()
    told = "too short means past the cautious end of a safe time; the trial runs go by anything up to its far end"
    assert (told in lines) is (late_min > 0)
    assert "1 in 6: Clownfish longer in a container than is safe" in "\n".join(lines)
