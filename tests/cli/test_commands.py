"""``check``, ``show`` and ``why`` on examples, as text and as data, and what start-up loads."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner

from moveplan import __version__
from moveplan.cli.app import app
from tests.cli.command import EXAMPLES, FOOTBRIDGE, ROOT, Run, ended, process

SHORT = ROOT / "examples" / "short_plan.yaml"
IMPOSSIBLE = ROOT / "examples" / "impossible_dates.yaml"
QUICK = ("--solver-seconds", "0.2")
HEAVY = (
    "numpy",
    "networkx",
    "ortools",
    "gsw",
    "icalendar",
    "jinja2",
    "pydantic",
    "babel",
    "holidays",
    "yaml",
    "dateutil",
)


@pytest.mark.parametrize("plan", EXAMPLES, ids=lambda path: path.stem)
def test_check_lists_what_was_assumed(run: Run, plan: Path) -> None:
    ran = run("check", plan)
    assert ran.err == ""
    assert ran.status in (0, 1)
    assert "\nAssumed (" in ran.out
    assert "\nCautions (local codes and licensed practice have the last word)\n" in ran.out


def test_check_gives_the_same_facts_as_data(run: Run) -> None:
    ran = run("check", SHORT, "--json")
    data = json.loads(ran.out)
    assert (ran.status, ran.err) == (0, "")
    assert list(data) == [
        "id",
        "title",
        "purpose",
        "problems",
        "findings",
        "cautions",
        "assumptions",
        "quantities",
        "water_choices",
    ]
    text = run("check", SHORT).out
    for row in data["assumptions"]:
        assert f"  {row['key']}: " in text
        assert row["why"]
    for row in data["quantities"]:
        assert row["low"] <= row["likely"] <= row["high"]
        assert f"  {row['name']}: " in text


def test_show_prints_weeks_then_the_day(run: Run) -> None:
    ran = run("show", SHORT, *QUICK, "--runs", "0")
    assert (ran.status, ran.err) == (0, "")
    weeks = [line for line in ran.out.splitlines() if line.startswith("Week of ")]
    assert len(weeks) >= 6
    assert weeks == sorted(weeks, key=weeks.index)
    day = ran.out.partition("\nThe moving day, Saturday, June 5, 2027\n")[2]
    order = [
        task
        for task in ("draw-keep-water", "tank-off", "drive", "fill-tank", "watch-evening")
        if f"[{task}" in day
    ]
    assert order == ["draw-keep-water", "tank-off", "drive", "fill-tank", "watch-evening"]
    places = [day.index(f"[{task}") for task in order]
    assert places == sorted(places)


def test_show_gives_the_same_data_as_build(run: Run, tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(FOOTBRIDGE, encoding="utf-8")
    now = ("--now", "2027-02-01T08:00+00:00")
    shown = json.loads(run("show", plan, "--json", *now).out)
    run("build", plan, "--out", tmp_path / "out", *now)
    assert shown == json.loads((tmp_path / "out" / "result.json").read_text("utf-8"))


def test_show_says_why_not(run: Run) -> None:
    ran = run("show", IMPOSSIBLE, *QUICK, "--runs", "0")
    assert (ran.status, ran.err) == (1, "")
    assert ran.out.startswith(
        "Too much for one morning: it cannot be done as written (everything in one day)\n"
    )
    assert "; proven impossible\n" in ran.out
    assert "\nWHY NOT\n" in ran.out
    assert "Week of" not in ran.out


def test_why_goes_down_to_the_source(run: Run) -> None:
    ran = run("why", SHORT, "make-water", *QUICK)
    assert (ran.status, ran.err) == (0, "")
    lines = ran.out.splitlines()
    assert lines[0].endswith(" (make-water)")
    depths = [len(line) - len(line.lstrip()) for line in lines if line.lstrip().startswith("- ")]
    assert depths[:4] == [0, 2, 4, 6]
    assert "TEOS-10" in ran.out
    assert "\n  Cannot begin earlier: “Start making purified water” comes first\n" in ran.out
    before = run("why", SHORT, "start-water", *QUICK)
    assert "\n  Not begun earlier: it is best done late, shortly before “" in before.out
    assert "\n  Could begin between " in ran.out
    assert "\n  If this takes " in ran.out
    assert "  “Start making purified water”: the unit runs from then on\n" in ran.out


def test_why_tells_what_holds_a_task_from_the_other_side(run: Run) -> None:
    """What has to come soon after it, so that it must not be earlier, never comes first."""
    data = json.loads(run("show", SHORT, "--json", *QUICK, "--runs", "0").out)
    befores = {(link["to"], link["from"]) for link in data["links"]}
    held = [
        task["id"]
        for task in data["tasks"]
        if task["driver"]["kind"] == "link" and (task["id"], task["driver"]["task"]) not in befores
    ]
    for task in held[:3]:
        told = run("why", SHORT, task, *QUICK).out
        assert re.search(
            r"\n  Must not be earlier: “[^”]+” has to follow (at once|within [^(]+) and cannot begin", told
        )
        assert "comes first" not in told
    first = next(
        task["id"]
        for task in data["tasks"]
        if task["driver"]["kind"] == "link" and (task["id"], task["driver"]["task"]) in befores
    )
    assert "” comes first\n" in run("why", SHORT, first, *QUICK).out


def test_why_as_data_is_the_task_and_its_chain(run: Run) -> None:
    ran = run("why", SHORT, "make-water", "--json", *QUICK)
    data = json.loads(ran.out)
    assert (ran.status, ran.err) == (0, "")
    assert data["id"] == "make-water"
    assert set(data["driver"]) <= {"kind", "task", "resource"}
    chain, depth = data["why"], 0
    while "inputs" in chain:
        chain, depth = chain["inputs"][0], depth + 1
        assert chain["low"] <= chain["likely"] <= chain["high"]
        assert chain["basis"]
    assert depth >= 3


def test_why_of_a_task_that_does_not_exist(run: Run) -> None:
    ran = run("why", SHORT, "make-watr", *QUICK)
    assert (ran.status, ran.out) == (2, "")
    assert ran.err == (
        'there is no task "make-watr"; did you mean make-water or mix-water or fetch-water?\n'
        "1 problem in short_plan.yaml; nothing was written.\n"
    ) or ran.err.startswith('there is no task "make-watr"; did you mean make-water')


def test_why_of_a_name_like_none_offers_none(run: Run) -> None:
    ran = run("why", SHORT, "xyzzy-qux", *QUICK)
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith('there is no task "xyzzy-qux"; moveplan show lists the tasks\n')


def test_why_of_a_plan_that_cannot_be_done_still_explains_durations(run: Run) -> None:
    ran = run("why", IMPOSSIBLE, "tank-off-reef", *QUICK)
    assert (ran.status, ran.err) == (1, "")
    assert "How long: " in ran.out
    assert "When: " not in ran.out


def test_version_and_help() -> None:
    runner = CliRunner()
    for command in ("check", "build", "show", "why"):
        told = runner.invoke(app, [command, "--help"])
        assert told.exit_code == 0
        assert f"Example: moveplan {command} " in " ".join(told.stdout.split())
    nothing = runner.invoke(app, [])
    assert nothing.exit_code == 2


def test_help_loads_nothing_heavy() -> None:
    listing = (
        "import sys\nsys.argv = ['moveplan', '--help']\nfrom moveplan.cli.app import main\n"
        "try:\n    main()\nexcept SystemExit as end:\n    assert not end.code\n"
        "print('LOADED', *sorted({name.partition('.')[0] for name in sys.modules}))\n"
    )
    found = subprocess.run(
        [sys.executable, "-c", listing],
        cwd=ROOT,
        env=dict(os.environ) | {"PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    loaded = found.stdout.rpartition("LOADED")[2].split()
    assert "typer" in loaded
    assert sorted(set(HEAVY) & set(loaded)) == []


def test_a_reader_that_stops_reading_sees_no_traceback() -> None:
    started = process("check", "examples/house_move.yaml")
    assert started.stdout is not None
    started.stdout.close()
    started.stdout = None
    assert ended(started).err == ""


def test_text_from_the_plan_never_moves_the_cursor(run: Run, tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(FOOTBRIDGE.replace("Pour the footing", '"\\x1b[2J right \\u202e left"'), encoding="utf-8")
    ran = run("show", plan, "--now", "2027-02-01T08:00+00:00")
    assert "\x1b" not in ran.out + ran.err


def test_a_plan_full_of_shapes_from_other_languages_is_built(run: Run, tmp_path: Path) -> None:
    plan = tmp_path / "plan ünï.yaml"
    plan.write_text(
        FOOTBRIDGE.replace("title: Footbridge", 'title: "Steg | [x](y) <b> \\u05d0\\u05d1 ,;:"'),
        encoding="utf-8",
    )
    ran = run("build", plan, "--out", tmp_path / "öut", "--now", "2027-02-01T08:00+00:00")
    assert (ran.status, ran.err) == (0, "")
    assert "<b>" not in (tmp_path / "öut" / "index.html").read_text("utf-8").partition("<body>")[2]


def test_standard_output_that_is_not_utf_8_is_no_fault() -> None:
    environment = dict(os.environ) | {"PYTHONPATH": str(ROOT), "PYTHONIOENCODING": "ascii"}
    found = subprocess.run(
        [sys.executable, "-m", "moveplan", "check", "examples/house_move.yaml"],
        cwd=ROOT,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    assert "Traceback" not in found.stderr
    assert "fault in moveplan" not in found.stderr


FULL = Path("/dev/full")


@pytest.mark.skipif(not FULL.exists(), reason="no device here that is always full")
@pytest.mark.parametrize(
    "arguments", [("check", "house_move"), ("kinds",), ("--help",)], ids=lambda one: one[0]
)
def test_a_full_device_is_an_output_that_cannot_be_written(arguments: tuple[str, ...]) -> None:
    with FULL.open("w") as full:
        found = subprocess.run(
            [sys.executable, "-m", "moveplan", *arguments],
            env=dict(os.environ) | {"PYTHONPATH": str(ROOT)},
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
            timeout=60,
        )
    assert found.returncode == 3
    assert found.stderr == "what was to be printed could not be written: No space left on device\n"


@pytest.mark.parametrize("encoding", ["latin-1", "cp437", "cp850", "cp1252", "ascii"])
def test_any_encoding_shows_what_it_can(encoding: str, tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(FOOTBRIDGE.replace("title: Footbridge", 'title: "Steg 🐠 – ünï"'), encoding="utf-8")
    environment = dict(os.environ) | {"PYTHONPATH": str(ROOT), "PYTHONIOENCODING": encoding}
    found = subprocess.run(
        [sys.executable, "-m", "moveplan", "show", plan, "--now", "2027-02-01T08:00+00:00"],
        env=environment,
        capture_output=True,
        check=False,
        timeout=60,
    )
    assert (found.returncode, found.stderr) == (0, b"")
    assert found.stdout.startswith(b"Steg ? ")
    if encoding == "ascii":
        assert found.stdout.isascii()


def test_an_example_goes_by_its_name(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    by_name = run("check", "short_plan")
    assert by_name.status == 0
    assert by_name.out == run("check", SHORT).out == run("check", "examples/short_plan.yaml").out
    assert run("check", "short_plam").err.startswith(
        'short_plam: there is no such file or example; did you mean "short_plan"?\n'
    )
    assert run("check", "one_to_many").err.startswith(
        'one_to_many: there is no such file or example; did you mean "one_too_many"?\n'
    )
    assert run("check", "plan.txt").err.startswith("plan.txt: there is no such file; look at the name")
    Path("short_plan").write_text("title: Mine\n", encoding="utf-8")
    assert run("check", "short_plan").status == 2  # a file of that name comes first


def test_check_takes_several_plans_and_one_that_is_broken_keeps_none_from_being_read(
    run: Run, tmp_path: Path
) -> None:
    broken = tmp_path / "broken.yaml"
    broken.write_text("title: Mine\n", encoding="utf-8")
    ran = run("check", "short_plan", broken, "house_move")
    assert ran.status == 2
    assert "Small reef to the new flat (short_plan.yaml)\n" in ran.out
    assert "Reef to Harbour Lane (house_move.yaml)\n" in ran.out
    assert "broken.yaml" in ran.err
    data = json.loads(run("check", "short_plan", broken, "--json").out)
    assert [one.get("title", one.get("file")) for one in data] == ["Small reef to the new flat", str(broken)]
    assert {"message", "where", "remedy"} >= set(data[1]["problems"][0])


def test_check_says_first_whether_all_is_well_and_quietly_nothing_where_it_is(
    run: Run, tmp_path: Path
) -> None:
    assert run("check", "short_plan").out.splitlines()[1].startswith("No problems found.")
    ran = run("check", *(path for path in EXAMPLES if path != IMPOSSIBLE), "--quiet")
    assert (ran.status, ran.out, ran.err) == (0, "", "")
    ran = run("check", IMPOSSIBLE, "--quiet")
    assert (ran.status, ran.err) == (1, "")
    assert "\n\nTHIS CANNOT WORK\n" in ran.out
    plan = tmp_path / "plan.yaml"
    text = SHORT.read_text("utf-8").replace("payload: 2200 lb", "payload: 150 lb")
    hunter = "livestock:\n  lion: {kind: lionfish, count: 1, size: 8 in, wished: yes}\n"
    plan.write_text(text.replace("livestock:\n", hunter), encoding="utf-8")
    ran = run("check", "short_plan", plan, "--quiet")
    assert ran.status == 1
    assert ran.out.startswith("Small reef to the new flat (plan.yaml)\n\nTHIS CANNOT WORK\n")
    assert "\n\nNOT SAFE FOR THE ANIMALS\n" in ran.out
    assert "Assumed" not in ran.out


def test_kinds_lists_every_kind_and_tells_all_of_one(run: Run) -> None:
    from moveplan.science.animals.livestock import kinds

    listed = run("kinds").out
    for kind in kinds().values():
        assert re.search(rf"^  {kind.id} ", listed, re.MULTILINE), kind.id
    assert f"{len(kinds())} kinds." in listed
    one = run("kinds", "lionfish").out
    assert "kind: lionfish" in one
    assert "endangers      small fish, shrimp, crab" in one
    assert "venomous spines" in one
    tangs = run("kinds", "tang").out
    assert "see also       yellow-tang, palette-tang" in tangs
    snails = run("kinds", "snails").out
    assert "snail" in snails
    assert "clownfish" not in snails


def test_kinds_names_what_is_near(run: Run) -> None:
    ran = run("kinds", "clownfsh")
    assert (ran.status, ran.out) == (2, "")
    assert 'did you mean "clownfish"' in ran.err


def test_guide_lists_its_pages_and_prints_one(run: Run) -> None:
    pages = sorted((ROOT / "moveplan" / "guide").glob("*.md"))
    listed = run("guide").out
    for page in pages:
        text = page.read_text("utf-8")
        assert f"moveplan guide {page.stem}" in listed
        assert text.splitlines()[0].lstrip("# ") in listed
        assert run("guide", page.stem).out == text
    ran = run("guide", "fone")
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith('there is no page "fone"; did you mean "phone"?')


def test_results_name_what_they_were_made_with(run: Run) -> None:
    made = json.loads(run("show", SHORT, "--json", *QUICK, "--runs", "0").out)["made_with"]
    assert made["moveplan"] == __version__
    assert {"python", "numpy", "gsw", "tzdata"} <= set(made)
    told = run("--version").out
    assert told.startswith(f"moveplan {__version__} (python ")
    assert all(f"{name} {version}" in told for name, version in made.items())


def test_log_is_another_name_of_record() -> None:
    """For one version; it is not shown."""
    runner = CliRunner()
    assert " record " in runner.invoke(app, ["--help"]).stdout
    assert " log " not in runner.invoke(app, ["--help"]).stdout
    old, new = (runner.invoke(app, [name, "--help"]).stdout for name in ("log", "record"))
    assert old.replace(" log ", " record ") == new


def test_no_sentence_of_the_help_is_cut() -> None:
    shown = CliRunner().invoke(app, ["--help"], terminal_width=60).stdout.partition("\nCommands:\n")[2]
    assert "..." not in shown
    assert "…" not in shown
    assert shown.index("  new ") < shown.index("  build ") < shown.index("  schema ")


NEAR = """\
title: A move
as-of: {now} 09:00
timezone: Europe/Dublin
dates: {{move-day: 2027-03-13}}
places: {{old: {{}}, new: {{distance: 20 km}}}}
systems: {{reef: {{tank: {{length: 90 cm, width: 45 cm, height: 45 cm}}}}}}
livestock: {{one: {{kind: clownfish, count: 2}}}}
people: {people}
"""
NOT_TO_BE_DONE = {
    "too near": ("2027-03-10", "{ines: {drives: yes}, tom: {}}"),
    "nobody drives": ("2027-01-04", "{ines: {drives: no}, tom: {}}"),
    "nobody cares for animals": ("2027-01-04", "{ines: {cares: no}, tom: {}}"),
    "nobody is there": ("2027-01-04", "{ines: {away: 2027-03-10 to 2027-03-20}, tom: {}}"),
}


@pytest.mark.parametrize("name", NOT_TO_BE_DONE)
def test_check_and_build_give_one_verdict(run: Run, tmp_path: Path, name: str) -> None:
    """What is seen without a schedule is told by both, in the same words."""
    now, people = NOT_TO_BE_DONE[name]
    plan = tmp_path / "plan.yaml"
    plan.write_text(NEAR.format(now=now, people=people), encoding="utf-8")
    checked = run("check", plan, "--json")
    built = run("build", plan, "--out", tmp_path / "out", *QUICK)
    assert (checked.status, built.status) == (1, 1), checked.out[:200] + built.out[:600]
    first = json.loads(checked.out)["problems"]
    second = json.loads((tmp_path / "out" / "result.json").read_text("utf-8"))["problems"]
    assert [one["message"] for one in first] == [one["message"] for one in second]


def test_a_task_that_waits_for_nothing_there_is_wrong_everywhere(run: Run, tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    text = NEAR.format(now="2027-01-04", people="{ines: {drives: yes}, tom: {}}")
    plan.write_text(f"{text}tasks: {{paint: {{duration: 1 h, after: [move-sofa]}}}}\n", encoding="utf-8")
    for command in (("check",), ("show",), ("build", "--out", tmp_path / "out")):
        ran = run(command[0], plan, *command[1:])
        assert ran.status == 2, ran.out
        assert f'{plan}:9 tasks.paint.after: there is no task "move-sofa"' in ran.err or (
            'plan.yaml:9 tasks.paint.after: there is no task "move-sofa"' in ran.err
        )


def test_a_plan_without_animals_says_so(run: Run, tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    text = NEAR.format(now="2027-01-04", people="{ines: {drives: yes}, tom: {}}")
    plan.write_text("\n".join(row for row in text.splitlines() if "livestock" not in row), encoding="utf-8")
    assert "the plan names no animals" in run("check", plan).out


def test_a_word_in_the_plan_is_offered_before_anything_is_bought(run: Run, tmp_path: Path) -> None:
    """An ordinary move that only one may handle animals at; the other two may as well: tried, and named first."""
    plan = tmp_path / "plan.yaml"
    plan.write_text(
        "title: N\nas-of: 2027-03-01 09:00\ntimezone: America/Chicago\nunits: us\ndates: {move-day: 2027-06-12}\n"
        "places: {old: {}, new: {distance: 10 miles}}\n"
        "systems: {reef: {tank: {length: 48 in, width: 18 in, height: 21 in}}}\n"
        "livestock: {clowns: {kind: clownfish, count: 2}, tang: {kind: tang}, wrasse: {kind: wrasse},\n"
        "  gob: {kind: goby, count: 2}, snails: {kind: snail, count: 30}, hermits: {kind: hermit-crab, count: 15},\n"
        "  lps: {kind: frogspawn, count: 6}, sps: {kind: sps, count: 6}, soft: {kind: soft-coral, count: 3}}\n"
        'people: {dan: {drives: yes, moving-day: "06:30-18:00"}, kim: {moving-day: "06:30-18:00"},\n'
        '  lee: {moving-day: "06:30-18:00"}}\nvehicles: {van: {payload: 2200 lb}}\n',
        encoding="utf-8",
    )
    ran = run("build", plan, "--out", tmp_path / "out", *QUICK)
    assert ran.status == 1
    first = next(line for line in ran.out.splitlines() if "what would help" in line)
    assert first.endswith('(tried, it works); write "people.kim.cares: yes" and "people.lee.cares: yes"')


@pytest.mark.parametrize("command", [["next"], ["look-back"], ["record"]])
@pytest.mark.parametrize("name", ["house_move", "house_move.yaml"])
def test_a_command_of_the_journal_says_how_to_make_a_plan_of_an_example(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, command: list[str], name: str
) -> None:
    monkeypatch.chdir(tmp_path)
    further = ["accept"] if command == ["record"] else []
    ran = run(*command, name, *further)
    assert ran.err.splitlines()[0] == (
        f"{name}: an example has no journal; make a plan of your own from it: "
        "moveplan new my_move.yaml --like house_move"
    )
    assert (ran.status, ran.out) == (2, "")
