"""What the options of ``build`` make of the calendars, on the short example, composed and scheduled once for all."""

from __future__ import annotations

import signal
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from typer.testing import CliRunner

from moveplan import pipeline
from moveplan.cli.app import app
from moveplan.errors import MoveplanError, OutputError, PlanFileError
from moveplan.plan.move import Plan
from moveplan.practice.project import Project
from moveplan.scheduling.schedule import Schedule
from tests.cli.command import ROOT
from tests.outputs.calendar.rules import Block, faults, parsed

ADDRESS = "9 Elm Row"
SHORT = (ROOT / "examples" / "short_plan.yaml").read_text("utf-8")
PLAN = SHORT.replace("old: {floor: 2,", f"old: {{address: {ADDRESS}, floor: 2,")
DOCUMENTS = {"index.html", "checklist.md", "summary.md", "result.json", "shopping.md", "tasks.csv"}

Build = Callable[..., str]
"""Takes options; gives what was printed."""


@pytest.fixture(scope="module")
def kept() -> list[tuple[Project, Schedule]]:
    return []


@pytest.fixture(scope="module")
def composed() -> dict[str, Project]:
    return {}


@pytest.fixture
def build(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    kept: list[tuple[Project, Schedule]],
    composed: dict[str, Project],
) -> Iterator[Build]:
    """Build into the folder ``out``; raises what the program would tell."""
    compose, schedule, before = pipeline.compose, pipeline.schedule, signal.getsignal(signal.SIGINT)

    def _compose(plan: Plan) -> Project:
        key = repr(plan)
        if key not in composed:
            composed[key] = compose(plan)
        return composed[key]

    def _schedule(project: Project, settings: pipeline.Settings) -> tuple[Project, Schedule]:
        if not kept:
            kept.append(schedule(project, settings))
        hung, found = kept[0]
        return replace(hung, plan=project.plan), found

    def _build(*options: str, every_task: bool = True) -> str:
        quick = ("--out", "out", "--solver-seconds", "0.1", "--runs", "0", *["--every-task"][:every_task])
        result = CliRunner().invoke(app, ["build", "plan.yaml", *quick, *options])
        if isinstance(result.exception, MoveplanError):
            raise result.exception
        assert result.exit_code == 0, result.output
        return result.stdout

    monkeypatch.setattr(pipeline, "compose", _compose)
    monkeypatch.setattr(pipeline, "schedule", _schedule)
    monkeypatch.chdir(tmp_path)
    Path("plan.yaml").write_text(PLAN, encoding="utf-8")
    yield _build
    signal.signal(signal.SIGINT, before)


def names() -> set[str]:
    return {path.name for path in Path("out").iterdir()} - DOCUMENTS


def read(name: str) -> Block:
    data = (Path("out") / name).read_bytes()
    assert faults(data) == []
    return parsed(data)


def keys(calendar: Block) -> set[str]:
    return {item.value("X-MOVEPLAN-KEY") for item in calendar.items}


def test_without_options_there_is_one_calendar_a_person(build: Build) -> None:
    printed = build(every_task=False)

    keeper, helper = read("calendar.ics"), read("calendar-joel.ics")
    assert names() == {"calendar.ics", "calendar-joel.ics"}
    assert keeper.value("NAME") == "Small reef to the new flat: Mara"
    assert helper.value("NAME") == "Small reef to the new flat: Joel"
    assert keeper.value("UID") != helper.value("UID")
    assert not keys(keeper) & keys(helper)
    assert len(helper.items) <= 25  # somebody without hours of their own gets half of the work
    assert len(keeper.items) <= 30
    days = [
        item
        for calendar in (keeper, helper)
        for item in calendar.items
        if ":day:" in item.value("X-MOVEPLAN-KEY")
    ]
    assert len(days) == 2
    assert all(item.value("SUMMARY") == "Moving day: Small reef to the new flat" for item in days)
    assert all(len([one for one in item.blocks if one.name == "VALARM"]) == 1 for item in days)
    assert (
        f"  calendar.ics: {len(keeper.items)} new\n  calendar-joel.ics: {len(helper.items)} new\n" in printed
    )
    kept = {name: (Path("out") / name).read_bytes() for name in names()}
    again = build(every_task=False)
    assert f"  calendar.ics: {len(keeper.items)} unchanged\n" in again
    assert {name: (Path("out") / name).read_bytes() for name in names()} == kept


def test_going_over_to_every_task_and_back_cancels_what_was_told_before(build: Build) -> None:
    """Nobody is left with an evening twice, once whole and once in pieces."""
    build(every_task=False)
    told = keys(read("calendar.ics"))
    build()
    whole = {item.value("X-MOVEPLAN-KEY"): item.value("STATUS") for item in read("calendar.ics").items}
    assert {whole[key] for key in told} == {"CANCELLED"}
    assert "CONFIRMED" in {whole[key] for key in whole.keys() - told}
    build(every_task=False)
    back = {item.value("X-MOVEPLAN-KEY"): item.value("STATUS") for item in read("calendar.ics").items}
    assert "CANCELLED" not in {back[key] for key in told}
    assert {back[key] for key in back.keys() - told} == {"CANCELLED"}


def test_with_every_task_there_is_the_whole_calendar_alone(build: Build) -> None:
    build()

    whole = read("calendar.ics")
    assert names() == {"calendar.ics"}
    assert whole.value("NAME") == "Small reef to the new flat"
    assert any(item.blocks for item in whole.items)
    assert ADDRESS in {item.value("LOCATION").partition("\\, ")[2] for item in whole.items}


@pytest.mark.parametrize(
    ("options", "name", "title"),
    [
        (("--only-person", "mara"), "calendar-mara.ics", "Mara"),
        (("--only-phase", "Make ready"), "calendar-phase-make-ready.ics", "Make ready"),
        (("--moving-day-only",), "calendar-moving-day.ics", "moving day"),
        (("--only-person", "joel", "--moving-day-only"), "calendar-joel-moving-day.ics", "Joel: moving day"),
    ],
)
def test_a_selection_is_a_further_calendar_beside_the_whole(
    build: Build, options: tuple[str, ...], name: str, title: str
) -> None:
    build()
    before = Path("out/calendar.ics").read_bytes()
    printed = build(*options)

    selection, whole = read(name), read("calendar.ics")
    assert Path("out/calendar.ics").read_bytes() == before
    assert names() == {"calendar.ics", name}
    assert selection.value("UID") != whole.value("UID")
    assert selection.value("NAME") == f"Small reef to the new flat: {title}"
    assert set() < keys(selection) < keys(whole)
    assert f"  out/{name}\n" in printed
    assert printed.endswith(
        f"  calendar.ics: {len(whole.items)} unchanged\n  {name}: {len(selection.items)} new\n"
    )
    assert f" {len(selection.items)} unchanged\n" in build(*options).splitlines(keepends=True)[-1]


def test_a_person_is_called_only_for_what_they_do(build: Build) -> None:
    build("--only-person", "mara")

    for item in read("calendar-mara.ics").items:
        assert "Mara" in item.value("DESCRIPTION") or item.value("X-MOVEPLAN-KEY").startswith("start-by:")


@pytest.mark.parametrize(
    ("options", "message"),
    [
        (("--only-person", "marta"),
         'there is nobody called "marta" to make a calendar for; the plan has mara, joel'),
        (("--only-phase", "Nothing"),
         'there is no phase called "Nothing" to make a calendar for; the plan has "Look and ask", "'),
    ],
)  # fmt: skip
def test_nobody_and_nothing_are_refused_before_the_search(
    build: Build, monkeypatch: pytest.MonkeyPatch, options: tuple[str, ...], message: str
) -> None:
    monkeypatch.setattr(pipeline, "schedule", lambda *_: pytest.fail("searched"))

    with pytest.raises(PlanFileError) as caught:
        build(*options)

    assert str(caught.value).startswith(message)
    assert not Path("out").exists()


def test_a_selection_that_is_not_made_again_is_named_as_out_of_date(build: Build) -> None:
    build("--only-person", "mara", "--todos")
    printed = build()

    assert printed.endswith(
        "  out/calendar-mara.ics is of an earlier build and out of date\n"
        "  out/todos-mara.ics is of an earlier build and out of date\n"
        "  out/todos.ics is of an earlier build and out of date\n"
    )


def test_no_alarms(build: Build) -> None:
    build("--no-alarms")

    assert not any(item.blocks for item in read("calendar.ics").items)


def test_private(build: Build) -> None:
    build("--private", "--todos")

    items = [*read("calendar.ics").items, *read("todos.ics").items]
    assert {item.value("CLASS") for item in items} == {"PRIVATE"}


def test_no_addresses(build: Build) -> None:
    build("--no-addresses", "--todos")

    assert not any(item.all("LOCATION") for item in read("calendar.ics").items)
    assert ADDRESS.encode() not in Path("out/calendar.ics").read_bytes() + Path("out/todos.ics").read_bytes()


def test_links(build: Build) -> None:
    build("--links")

    linked = {line.value for item in read("calendar.ics").items for line in item.all("RELATED-TO")}
    assert linked
    assert linked <= {item.value("UID") for item in read("calendar.ics").items}


def test_to_dos_carry_their_stamps_over(build: Build) -> None:
    build("--todos", "--now", "2027-04-05T09:00-05:00")
    before = Path("out/todos.ics").read_bytes()
    build("--todos", "--now", "2027-04-06T09:00-05:00")
    assert Path("out/todos.ics").read_bytes() == before

    Path("plan.yaml").write_text(f"id: another\n{PLAN}", encoding="utf-8")
    Path("out/calendar.ics").unlink()
    with pytest.raises(
        OutputError, match=r"the earlier todos\.ics cannot be built upon: it is another plan's"
    ):
        build("--todos")
    assert Path("out/todos.ics").read_bytes() == before
    assert names() == {"todos.ics"}


def test_one_file_an_event(build: Build) -> None:
    build("--one-file-an-event", "--moving-day-only")

    assert names() == {"calendar.ics", "calendar-moving-day.ics", "events", "events-moving-day"}
    for calendar, folder in (("calendar.ics", "events"), ("calendar-moving-day.ics", "events-moving-day")):
        files = {path.name for path in (Path("out") / folder).iterdir()}
        assert files == {f"{item.value('UID')}.ics" for item in read(calendar).items}


def test_a_file_of_an_event_that_is_gone_is_named_and_left_alone(build: Build) -> None:
    build("--one-file-an-event")
    gone = Path("out/events/0af314f7-9c51-57f0-a597-0a683088daa2.ics")
    for path in (gone, Path("out/events/dentist.ics")):
        path.write_bytes(b"somebody's")

    stale = "is of an earlier build and out of date\n"
    assert build("--one-file-an-event").endswith(f" unchanged\n  {gone} {stale}")
    assert build().endswith(f" unchanged\n  out/events {stale}")
    assert gone.read_bytes() == Path("out/events/dentist.ics").read_bytes() == b"somebody's"


def test_into_an_existing_calendar(build: Build) -> None:
    build("--into-existing", "--only-person", "mara")

    for name in ("calendar.ics", "calendar-mara.ics"):
        assert read(name).all("NAME") == read(name).all("X-WR-CALNAME") == []


def test_a_lost_folder_goes_on_from_an_earlier_calendar(build: Build) -> None:
    build("--only-person", "mara", "--now", "2027-04-05T09:00-05:00")
    old = {name: (Path("out") / name).read_bytes() for name in ("calendar.ics", "calendar-mara.ics")}
    for name, data in old.items():
        Path(f"old-{name}").write_bytes(data)
        (Path("out") / name).unlink()

    build("--previous", "old-calendar.ics", "--now", "2027-04-06T09:00-05:00")
    assert Path("out/calendar.ics").read_bytes() == old["calendar.ics"]
    build("--only-person", "mara", "--previous", "old-calendar-mara.ics", "--now", "2027-04-06T09:00-05:00")
    assert {name: (Path("out") / name).read_bytes() for name in old} == old

    with pytest.raises(OutputError, match=r"the earlier calendar\.ics .* another selection's"):
        build("--previous", "old-calendar-mara.ics")
    with pytest.raises(OutputError) as caught:
        build("--previous", "none.ics")
    assert str(caught.value) == "none.ics: there is no such calendar; leave --previous out for a first export"
    assert {name: (Path("out") / name).read_bytes() for name in old} == old


def test_each_option_is_explained() -> None:
    shown = CliRunner().invoke(app, ["build", "--help"], env={"COLUMNS": "200"}).stdout

    for option in (
        "--every-task",
        "--only-person ID", "--only-phase PHASE", "--moving-day-only", "--no-alarms", "--private", "--no-addresses",
        "--links", "--todos", "--one-file-an-event", "--into-existing", "--previous OLD.ics",
    ):  # fmt: skip
        (line,) = [line.strip() for line in shown.splitlines() if f"{line.strip()} ".startswith(f"{option} ")]
        assert line.removeprefix(option).strip()
