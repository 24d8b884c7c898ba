"""``moveplan new``: the interview through a pseudo-terminal, answers as options, and examples as a beginning."""

from __future__ import annotations

import json
import os
import re
import select
import signal
import subprocess
import sys
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

import pytest

from moveplan.cli.starting.copying import with_paces
from moveplan.cli.starting.questions import questions
from moveplan.planfile import read_plan
from moveplan.planfile.starter import read_answer, yaml_scalar
from moveplan.planfile.text import composed
from moveplan.times import to_local
from tests.cli.command import EXAMPLES, ROOT, Run

PURPOSES = ("house-move", "larger-tank", "house-move-larger-tank", "shut-down")
LONGEST_S, SILENCE_S = 60, 5


@dataclass(frozen=True, slots=True)
class Talk:
    """What was said in a terminal."""

    status: int
    said: str


def _at_a_keyboard(inside: int) -> None:
    """Let Ctrl-C and Ctrl-D reach the process, also where the tests run in the background and ignore interrupts."""
    os.login_tty(inside)
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def talk(
    folder: Path,
    *answers: str,
    end: bytes = b"\x04",
    zone: str = "Europe/Dublin",
    python: tuple[str, ...] = (),
) -> Talk:
    """Hold an interview about plan.yaml in a terminal of 80 columns; at its end a key is struck."""
    terminal, inside = os.openpty()
    child = subprocess.Popen(
        [sys.executable, *python, "-m", "moveplan", "new", "plan.yaml"],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT), "TZ": zone, "COLUMNS": "80"},
        preexec_fn=lambda: _at_a_keyboard(inside),
        pass_fds=[inside],
    )
    os.close(inside)
    said, waiting = b"", [*(answer.encode() + b"\n" for answer in answers), end]
    silences = LONGEST_S // SILENCE_S
    while silences:
        if not select.select([terminal], [], [], SILENCE_S)[0]:
            silences -= 1
            if (
                end == b"\x03" and not waiting
            ):  # struck between a prompt and the wait for an answer it is not heard
                os.write(terminal, end)
            continue
        try:
            said += os.read(terminal, 65536)
        except OSError:  # the other side is gone
            break
        if said.endswith(b"\n> "):
            os.write(terminal, waiting.pop(0) if waiting else b"\x04")
            said += b" "
    os.close(terminal)
    status = child.wait(LONGEST_S)
    text = said.decode().replace("\r", "")
    assert "Traceback" not in text
    return Talk(status, text)


def files(folder: Path) -> list[str]:
    return sorted(file.name for file in folder.iterdir())


def asked(text: str) -> list[str]:
    return re.findall(r"(?m)^(\d+/\d+)  ", text)


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("TZ", "Europe/Dublin")
    return tmp_path


# --- the interview -------------------------------------------------------------------------------------


def test_enter_alone_makes_a_plan(home: Path, run: Run) -> None:
    held = talk(home, *[""] * 18)
    assert held.status == 0
    assert asked(held.said) == [f"{n}/18" for n in range(1, 19)]
    assert "quit keeps it" in held.said.partition("1/18")[0]
    assert "Enter for: 90 x 45 x 45 cm (a common size; measure yours)" in held.said
    assert files(home) == ["plan.yaml"]
    assert "moveplan check plan.yaml" in held.said.partition("Look at these first:")[2]
    assert max(map(len, held.said.partition("Look")[0].splitlines())) <= 80
    assert run("check", "plan.yaml").status == 0


def test_enter_alone_makes_a_plan_in_the_units_of_the_place(home: Path) -> None:
    held = talk(home, *[""] * 18, zone="America/Chicago")
    assert held.status == 0
    assert "! " not in held.said
    assert "rate: 50 US gal/day" in (home / "plan.yaml").read_text("utf-8")


def test_answers_that_say_one_thing_against_another_are_asked_for_again(home: Path) -> None:
    """Rock that no such tank holds: what is wrong is said, and its question comes once more."""
    held = talk(home, *[""] * 11, "900 kg rock", *[""] * 6, "30 kg rock")
    assert (held.status, asked(held.said)[18:]) == (0, ["12/18"])
    assert "How much rock and sand" in held.said.partition("  ! is there 900 kg of rock")[2]
    assert "plan.yaml:" not in held.said.partition("  ! ")[2].partition("Look")[0]
    assert "rock: 30 kg" in (home / "plan.yaml").read_text("utf-8")


def test_a_step_back_a_wrong_answer_and_the_questions_that_follow(home: Path) -> None:
    held = talk(
        home,
        "Reef: the #1 move",
        "2",
        "<",
        "3",
        "",
        "us",
        *[""] * 6,
        "12",
        *[""] * 4,
        "3 bicycles",
    )
    assert "Enter for: larger-tank (your answer)" in held.said
    assert '  ! "12" is not length x width x height; write for example "120 x 60 x 55 cm"' in held.said
    assert '  ! no kind of animal is called "bicycles"; write a kind such as clownfish,' in held.said
    assert "Enter for: 36 x 18 x 18 in" in held.said
    assert "15/20  Which animals" in held.said
    assert "same spot" not in held.said


def test_a_slip_asks_for_that_animal_alone(home: Path) -> None:
    """Near names are offered one by one, and the rest of the row is kept."""
    held = talk(
        home, *[""] * 12, "2 tangg 5 cm, 3 clown, a bicycle, 10 snailz", "", "-", "3 nassarius", *[""] * 5
    )
    assert held.status == 0
    assert asked(held.said) == [f"{n}/18" for n in range(1, 19)]
    offered = held.said.partition('  ! no kind of animal is called "tangg"')[2]
    assert "     1  2 tang 5 cm\n" in offered
    assert "Enter for: 2 tang 5 cm (the nearest name)" in offered.partition("\n> ")[0]
    assert 'Write "a bicycle" again; - leaves it out. The rest is kept.' in offered
    tangs, clowns, snails = read_plan(home / "plan.yaml").livestock
    assert (tangs.kind, tangs.count, tangs.size_cm) == ("tang", 2, 5)
    assert (clowns.kind, clowns.count, snails.name, snails.count) == ("clownfish", 3, "Nassarius", 3)


@pytest.mark.parametrize(
    ("question", "row", "replies", "kept"),
    [
        ("gear", "8 tubbs 60 l, 2 heaters 300 W", ["1"], "8 tub 60 l, 2 heaters 300 W"),
        ("contents", "30 kg rock, 20 l sand", ["20 kg sand"], "30 kg rock, 20 kg sand"),
        ("roles", "Inse: drives; Tom: lift", [""], "Ines: drives; Tom: lift"),
        ("animals", "2 tangg, 3 clown", ["<", "3 clown"], "3 clown"),
        ("animals", "2 tangg, 3 clown", ["?", "2 bicycles", "a goby"], "a goby, 3 clown"),
        ("animals", "2 tangg", ["1 tang"], "1 tang"),
        ("animals", "2 bicycles, a house", ["-", "-", "1 tang"], "1 tang"),
    ],
)
def test_a_slip_in_one_part_of_an_answer(
    home: Path, question: str, row: str, replies: list[str], kept: str
) -> None:
    keys = [one.key for one in questions() if one.applies({})]
    before = ["" if key != "people" else "Ines, Tom" for key in keys[: keys.index(question)]]
    held = talk(home, *before, row, *replies, "quit")
    assert held.status == 0
    if question == keys[-1]:
        assert "count: 8" in (home / "plan.yaml").read_text("utf-8")
    else:
        assert json.loads((home / "plan.yaml.draft").read_text("utf-8"))[question] == kept


@pytest.mark.parametrize(("replies", "kept"), [(["", "yes"], "80x50x50 cm"), (["150x50x50"], "150x50x50 cm")])
def test_a_larger_tank_that_is_smaller_is_asked_about(home: Path, replies: list[str], kept: str) -> None:
    """Sizes by hand: 10 x 5 x 5 dm are 250 l, 8 x 5 x 5 dm are 200 l."""
    keys = [one.key for one in questions() if one.applies({"purpose": "larger-tank"})]
    answers = ["", "larger-tank", *[""] * (keys.index("tank") - 2), "100x50x50", "", "80x50x50", *replies]
    held = talk(home, *answers, "quit")
    assert held.said.count("  ? 200 l after 250 l: is that meant?") == 1
    assert f"/{len(keys)}  Does the new tank get the same spot" in held.said
    assert json.loads((home / "plan.yaml.draft").read_text("utf-8"))["new-tank"] == kept


def test_a_tank_that_is_no_smaller_is_not_asked_about(home: Path) -> None:
    held = talk(home, "", "larger-tank", *[""] * 18)
    assert held.status == 0
    assert "is that meant?" not in held.said


def test_quit_and_go_on(home: Path) -> None:
    first = talk(home, "Reef: the #1 move", "larger-tank", "", "quit")
    assert first.status == 0
    assert "Nothing is written yet. Run the same command again to go on from here." in first.said
    assert files(home) == ["plan.yaml.draft"]
    second = talk(home, *[""] * 14)
    assert asked(second.said)[0] == "4/17"
    assert second.status == 0
    assert files(home) == ["plan.yaml"]
    plan = read_plan(home / "plan.yaml")
    assert (plan.title, plan.purpose) == ("Reef: the #1 move", "larger-tank")


def test_an_interrupt_keeps_the_answers(home: Path) -> None:
    held = talk(home, "Kept", end=b"\x03")
    assert held.status == 130
    assert files(home) == ["plan.yaml.draft"]
    assert json.loads((home / "plan.yaml.draft").read_text("utf-8")) == {"title": "Kept"}


@pytest.mark.parametrize(
    "draft", ["", "[1]", '{"title": 3, "purpose": "own-tasks", "x": "y"}', "[" * 50_000, "\x00"]
)
def test_a_draft_that_is_none_is_passed_over(home: Path, draft: str) -> None:
    (home / "plan.yaml.draft").write_text(draft, "utf-8")
    held = talk(home, "quit")
    assert asked(held.said)[0] == "1/18"
    assert "was begun" not in held.said


def test_a_computer_that_is_nowhere_offers_no_zone(home: Path) -> None:
    held = talk(home, "", "", "", "Europe/Dublinn", "Europe/Oslo", "quit", zone="UTC")
    assert "There is no usual answer." in held.said
    assert '  ! "Europe/Dublinn" is not a time zone; did you mean "Europe/Dublin"?' in held.said
    assert "4/18  Units" in held.said


def test_without_a_terminal_nothing_is_asked(home: Path, run: Run) -> None:
    ran = run("new")
    assert ran.err.splitlines() == [
        "there is no terminal to ask in; add --no-questions, and answers as options",
        "1 problem in the options; nothing was written.",
    ]
    assert (ran.status, files(home)) == (2, [])


# --- answers as options --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("purpose", "units"), [("house-move", "metric"), ("house-move", "us"), ("larger-tank", "us")]
)
def test_the_usual_answers_make_a_plan_that_builds(home: Path, run: Run, purpose: str, units: str) -> None:
    """With room to spare, so that the least effort finds a schedule, and with one drive of the van."""
    assert run("new", "--no-questions", "--purpose", purpose, "--units", units).status == 0
    ran = run("build", "plan.yaml", "--out", "plan", "--solver-seconds", "0.2", "--runs", "0")
    assert ran.status == 0, ran.out + ran.err
    assert ": it can be done (" in ran.out
    assert "trips" not in run("check", "plan.yaml").out.partition("Quantities")[0]


@pytest.mark.parametrize("purpose", PURPOSES)
def test_a_plan_of_every_purpose_builds_at_once(home: Path, run: Run, purpose: str) -> None:
    ran = run("new", "--no-questions", "--purpose", purpose, "--people", "Ines Farrow, Tomás, Tomás")
    assert (ran.status, ran.err) == (0, "")
    plan = read_plan(home / "plan.yaml")
    assert [person.id for person in plan.people] == ["ines-farrow", "tom-s", "tom-s-2"]
    assert [person.name for person in plan.people] == ["Ines Farrow", "Tomás", "Tomás"]
    assert plan.purpose == purpose
    text = (home / "plan.yaml").read_text("utf-8")
    assert "\n\n\n" not in text
    assert all(line == line.rstrip() for line in text.splitlines())
    ran = run("build", "plan.yaml", "--out", "plan", "--solver-seconds", "0.5", "--runs", "0")
    assert ran.status == 0, ran.out + ran.err


def test_every_commented_key_is_a_key_that_may_stand_there(home: Path, run: Run) -> None:
    for purpose in PURPOSES:
        run("new", f"{purpose}.yaml", "--no-questions", "--purpose", purpose)
        file = home / f"{purpose}.yaml"
        text = file.read_text("utf-8")
        opened = re.sub(r"(?m)^(\s*)# ( *(?:- \{|[a-z-]+:))", r"\1\2", text.partition("\nid:")[2])
        file.write_text(f"id:{opened}", "utf-8")
        assert "# " in file.read_text("utf-8")
        assert read_plan(file).gear


def test_ids_are_new_each_time(home: Path, run: Run) -> None:
    run("new", "a.yaml", "--no-questions")
    run("new", "b.yaml", "--no-questions")
    assert read_plan(home / "a.yaml").id != read_plan(home / "b.yaml").id


def test_wrong_options_are_all_told(home: Path, run: Run) -> None:
    ran = run(
        "new",
        "--no-questions",
        "--tank",
        "48",
        "--move-day",
        "2020-02-30",
        "--purpose",
        "own-tasks",
        "--people",
        "Ana",
    )
    assert ran.err.splitlines() == [
        '--purpose: "own-tasks" is not known here; write one of: house-move, larger-tank, '
        "house-move-larger-tank, shut-down",
        "--move-day: 2020-02-30 is not a date; February 2020 has 29 days",
        '--tank: "48" is not length x width x height; write for example "120 x 60 x 55 cm"',
        "--people: an empty tank is carried by two at least; name a second person",
        "4 problems in the options; nothing was written.",
    ]
    assert (ran.status, files(home)) == (2, [])


def test_a_zone_that_is_not_known_has_to_be_named(
    home: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TZ", "UTC")
    ran = run("new", "--no-questions")
    first = ran.err.splitlines()[0]
    assert first == "--timezone: this has no usual answer here; add --timezone Continent/City"
    assert (ran.status, files(home)) == (2, [])


def test_nothing_is_written_over_unless_told(home: Path, run: Run) -> None:
    (home / "plan.yaml").write_text("mine", "utf-8")
    ran = run("new", "--no-questions")
    assert ran.err.splitlines() == [
        "plan.yaml: there is a file of this name already; name another one, or say --force",
        "1 problem in plan.yaml; nothing was written.",
    ]
    assert (ran.status, (home / "plan.yaml").read_text("utf-8")) == (2, "mine")
    assert run("new", "--no-questions", "--force").status == 0
    assert read_plan(home / "plan.yaml").title == "My reef moves"


def test_a_place_that_cannot_be_written(home: Path, run: Run) -> None:
    (home / "dir").write_text("a file in the way", "utf-8")
    ran = run("new", "dir/plan.yaml", "--no-questions")
    assert ran.status == 3
    assert ran.err == "dir is a file, not a folder; choose another name; nothing was written\n"


HOSTILE = [
    "a: b",
    "- x",
    "# no comment",
    "{{ 1 }}",
    "'",
    '"',
    "yes",
    "[x",
    "\u202eabc",
    "*x",
    "!x",
    "{% raw %}",
    "é\t|",
]


@pytest.mark.parametrize("title", HOSTILE)
def test_names_come_out_as_themselves(home: Path, run: Run, title: str) -> None:
    ran = run("new", "--no-questions", "--title", title, "--people", f"{title.replace(',', '')}, B")
    assert ran.status == 0, ran.err
    plan = read_plan(home / "plan.yaml")
    assert plan.title == " ".join(title.split())
    assert plan.people[0].name == " ".join(title.split())


@pytest.mark.parametrize("text", [*HOSTILE, "20 km", "1.5", "12:30", "~", "null"])
def test_scalars_are_read_back(text: str) -> None:
    root, faults = composed(f"x: {yaml_scalar(text)}")
    assert not faults
    assert isinstance(root.value, dict)
    assert root.value["x"].value == text


@pytest.mark.parametrize(
    ("key", "text"),
    [
        ("tank", "4 ft x 2 ft x 22 in"),
        ("tank", "120x60×55cm"),
        ("tank", "1.2 m x 60 cm x 0.55 m"),
        ("animals", "clownfish"),
        ("animals", "2x clownfish 7 cm, 12 snails, Soft Coral 4 in"),
        ("water", "0 l/day"),
        ("delivery", "0 days"),
    ],
)
def test_answers_that_are_taken(key: str, text: str) -> None:
    assert read_answer(key, text, date(2027, 1, 4)) == text


@pytest.mark.parametrize(
    ("key", "text", "units", "kept"),
    [
        ("payload", "800", "metric", "800 kg"),
        ("payload", "2,200 lb", "us", "2200 lb"),
        ("payload", "2200", "us", "2200 lb"),
        ("distance", "12", "us", "12 miles"),
        ("water", "190", "metric", "190 l/day"),
        ("delivery", "6", "metric", "6 weeks"),
        ("tank", "120x50x50", "metric", "120x50x50 cm"),
        ("tank", "48 by 18 by 21", "us", "48 by 18 by 21 in"),
        ("tank", "1.2 m x 60 cm x 0.55 m", "us", "1.2 m x 60 cm x 0.55 m"),
    ],
)
def test_a_number_alone_is_in_the_units_of_the_plan(key: str, text: str, units: str, kept: str) -> None:
    assert read_answer(key, text, date(2027, 1, 4), {"units": units}) == kept


def test_animals_may_be_counted_in_words(home: Path, run: Run) -> None:
    ran = run("new", "--no-questions", "--animals", "a tang, pair of clownfish, about 20 snails, an anemone")
    assert (ran.status, ran.err) == (0, "")
    assert {one.kind: one.count for one in read_plan(home / "plan.yaml").livestock} == {
        "tang": 1,
        "clownfish": 2,
        "snail": 20,
        "anemone": 1,
    }


def test_options_without_units_follow_those_of_the_plan(home: Path, run: Run) -> None:
    run("new", "--no-questions", "--payload", "2,200", "--tank", "48x18x21", "--units", "us")
    text = (home / "plan.yaml").read_text("utf-8")
    assert "payload: 2200 lb" in text
    assert "width: 18 in" in text


@pytest.mark.parametrize("zone", ["America/Chicago", "US/Central"])
def test_options_without_units_follow_those_of_the_place(home: Path, run: Run, zone: str) -> None:
    run("new", "--no-questions", "--timezone", zone, "--payload", "2,200", "--water", "50 US gal/day")
    text = (home / "plan.yaml").read_text("utf-8")
    assert "payload: 2200 lb" in text
    assert "rate: 50 US gal/day" in text


@pytest.mark.parametrize(("letters", "place"), [("EST", "America/New_York"), ("CST", "America/Chicago")])
def test_letters_are_no_time_zone(home: Path, run: Run, letters: str, place: str) -> None:
    ran = run("new", "--no-questions", "--timezone", letters)
    assert (ran.status, place in ran.err, (home / "plan.yaml").exists()) == (2, True, False)


def test_what_an_american_would_write_is_taken(home: Path, run: Run) -> None:
    options = {
        "--timezone": "America/Chicago",
        "--water": "75 gpd",
        "--payload": "2,200 lb",
        "--move-day": "June 12",
        "--people": "Me, two friends",
        "--animals": "pair of clowns, about 20 snails, a royal gramma",
        "--tank": "48 by 18 by 21 inches",
    }
    ran = run("new", "plan.yaml", "--no-questions", *(word for pair in options.items() for word in pair))
    assert ran.status == 0, ran.err
    text = (home / "plan.yaml").read_text("utf-8")
    for part in (
        "rate: 75 US gal/day",
        "payload: 2200 lb",
        "-06-12\n",
        "name: Friend 1\n",
        "name: Friend 2\n",
    ):
        assert part in text, part
    assert run("check", "plan.yaml", "--quiet").status == 0


def test_a_question_mark_explains(home: Path) -> None:
    held = talk(home, "?", "Mine", "?", "quit")
    assert asked(held.said) == ["1/18", "2/18"]
    assert "Any words will do, such as: Reef to Mill Terrace." in held.said
    assert "Write the word or its number." in held.said
    assert json.loads((home / "plan.yaml.draft").read_text("utf-8")) == {"title": "Mine"}


# --- examples as a beginning ---------------------------------------------------------------------------


WORKING = [path for path in EXAMPLES if not path.stem.startswith("impossible")]


@pytest.mark.parametrize("example", WORKING, ids=lambda path: path.stem)
def test_like_an_example(home: Path, run: Run, example: Path) -> None:
    """All but the dates is the example's; those lie as far ahead as the example's lay when it was written."""
    ran = run("new", "--like", example.stem, "--title", "Ours: now")
    assert (ran.status, ran.err) == (0, "")
    text = (home / "plan.yaml").read_text("utf-8")
    assert "as-of:" not in text
    ours, theirs = read_plan(home / "plan.yaml"), read_plan(example)
    assert ours.title == "Ours: now"
    assert ours.id != theirs.id
    assert (ours.livestock, ours.systems) == (theirs.livestock, theirs.systems)
    assert ours.dates is not None
    assert theirs.dates is not None
    written = to_local(theirs.now, theirs.zone).date()
    (day, *_), (before, *_) = ours.dates.move_days, theirs.dates.move_days
    assert day.weekday() == before.weekday()
    assert timedelta() <= (day - date.today()) - (before - written) < timedelta(weeks=1)  # noqa: DTZ011
    assert "examples" not in text.partition("\n")[2]


def test_what_is_invented_in_an_example_is_named_first(home: Path, run: Run) -> None:
    ran = run("new", "--like", "house_move")
    first = ran.out.partition("Look at these first:\n")[2].splitlines()
    runs = re.findall(r"(\d+)(?: to (\d+))?", first[0])
    named = [number for begin, end in runs for number in range(int(begin), int(end or begin) + 1)]
    assert "invented: write your own" in first[1]
    lines = (home / "plan.yaml").read_text("utf-8").splitlines()
    told = "\n".join(lines[number - 1] for number in named)
    for text in ('phone: "', "cost: 95 per day", "cost: 18 per hour", "salt: 3.20 per kg", "value: 120"):
        assert text in told
    assert "hours:" not in told
    moved = r"# Copied from house_move; its dates were moved \d+ weeks? (earlier|later)\."
    assert re.fullmatch(moved, lines[0])
    assert read_plan(home / "plan.yaml").title == "My move, like house_move"


def test_like_an_old_plan(home: Path, run: Run) -> None:
    """Its own prices are the keeper's own."""
    (home / "old.yaml").write_text((ROOT / "examples" / "short_plan.yaml").read_text("utf-8"), "utf-8")
    ran = run("new", "mine.yaml", "--like", "old.yaml")
    assert (ran.status, ran.err) == (0, "")
    assert "invented" not in ran.out
    assert read_plan(home / "mine.yaml").title == "My move, like old"
    assert run("check", "mine.yaml", "--quiet").status == 0


def test_what_was_learnt_goes_into_the_policy() -> None:
    paces = {"pace-moving-day": 1.3}
    assert with_paces("title: x\n", paces).endswith(
        "\n\npolicy:\n  pace-moving-day: 1.3   # learnt from the move before\n"
    )
    text = with_paces("policy:\n  pace-moving-day: 1.1\n  other: 2\npeople: {}\n", paces)
    assert text == "policy:\n  pace-moving-day: 1.3   # learnt from the move before\n  other: 2\npeople: {}\n"


def test_like_no_example(home: Path, run: Run) -> None:
    ran = run("new", "--like", "short-plan")
    assert ran.err.splitlines() == [
        '--like: there is no example or plan file "short-plan"; did you mean "short_plan"?',
        "1 problem in the options; nothing was written.",
    ]
    assert run("new", "--like", "impossible_dates").status == 2
    ran = run("new", "--like", "short_plan", "--distance", "3 km")
    assert ran.err.splitlines() == [
        "--distance: the plan that is copied answers this already; leave it out, and change the file afterwards",
        "1 problem in the options; nothing was written.",
    ]
    assert (ran.status, files(home)) == (2, [])


def test_usual_days_lie_far_enough_ahead(home: Path, run: Run) -> None:
    run("new", "--no-questions")
    dates = read_plan(home / "plan.yaml").dates
    assert dates is not None
    (day,) = dates.move_days
    assert day.weekday() == 5
    assert timedelta(weeks=10) <= day - date.today() < timedelta(weeks=11)  # noqa: DTZ011


# --- the first question --------------------------------------------------------------------------------

DEPENDENCIES = {
    "babel", "dateutil", "gsw", "holidays", "icalendar", "jinja2", "markupsafe", "networkx", "numpy", "ortools",
    "pandas", "rectpack", "scipy", "yaml",
}  # fmt: skip
"""What a plan is made with; typer is not among them, nor pydantic, with which typer itself reads options."""


def test_the_first_question_comes_at_once(home: Path) -> None:
    """Nothing that a plan is made with is loaded before it, and of the program no more than asks; after it much is."""
    before, _, after = talk(home, "Ours", "quit", python=("-X", "importtime")).said.partition("\n> ")
    assert asked(before) == ["1/18"]
    first = loaded(before)
    assert {"typer", "moveplan.cli.starting.interview"} <= first
    assert not {name.partition(".")[0] for name in first} & DEPENDENCIES
    ours = {name for name in first if name.partition(".")[0] == "moveplan"}
    assert {name for name in ours if not name.startswith("moveplan.cli")} == {"moveplan", "moveplan.errors"}
    assert "moveplan.planfile.starter" in loaded(after)


def loaded(said: str) -> set[str]:
    """Name the modules that a process has told of, asked to tell of each that it imports."""
    return set(re.findall(r"(?m)^import time: +\d+ \| +\d+ \| +(\S+)$", said))


def test_a_form_is_written_and_opens_the_plan_that_is_there(home: Path, run: Run) -> None:
    form = home / "form.html"
    ran = run("new", home / "mine.yaml", "--form", form)
    assert ran.status == 0
    assert "form.html is written." in " ".join(ran.out.split())
    empty = form.read_text("utf-8")
    assert '<script type="application/json" id="opened">null</script>' in empty
    assert "http" not in empty.replace("http-equiv", "")
    (home / "mine.yaml").write_text("title: Mine\n", encoding="utf-8")
    assert run("new", home / "mine.yaml", "--form", form).status == 2
    assert run("new", home / "mine.yaml", "--form", form, "--force").status == 0
    assert '"title: Mine\\n"' in form.read_text("utf-8")
    assert (home / "mine.yaml").read_text("utf-8") == "title: Mine\n"


# --- answers that say several things -------------------------------------------------------------------


def test_at_most_twenty_questions_each_with_a_usual_answer() -> None:
    from datetime import date

    from moveplan.cli.starting.questions import usual_answer

    today = date(2027, 1, 4)
    for purpose in PURPOSES:
        answers = {"purpose": purpose, "timezone": "Europe/Dublin"}
        asked_now = [question for question in questions() if question.applies(answers)]
        assert len(asked_now) <= 20, purpose
        for question in asked_now:
            answers.setdefault(question.key, usual_answer(question, answers, today))
            assert answers[question.key] or question.key == "timezone", question.key


def test_what_decides_a_plan_is_asked_and_written(home: Path, run: Run) -> None:
    ran = run(
        "new", "--no-questions", "--move-day", "2027-03-13", "--keys", "2027-03-12 18:00, 2027-03-14",
        "--distance", "25", "--old-floor", "2", "--lift", "new", "--tank", "120x50x50",
        "--contents", "30 kg rock, sand 20, no sump", "--animals", "a royal gramma, 2 frogspawn 12, 20 snails",
        "--people", "Ines, Tom, Bea", "--roles", "Ines: drives, animals; Tom: lifts, animals; Bea: lifts",
        "--payload", "hired, 800", "--gear", "8 tubs 60, 2 air pumps 24 h, 2 heaters 300", "--units", "metric",
    )  # fmt: skip
    assert (ran.status, ran.err) == (0, "")
    plan = read_plan(home / "plan.yaml")
    assert plan.dates is not None
    assert plan.dates.access_from is not None
    assert plan.dates.keys_back is not None
    old, new = plan.places
    assert (old.floor, old.lift, new.lift) == (2, False, True)
    reef = plan.systems[0]
    assert (reef.rock_kg, reef.sand_kg, reef.sump_l) == (30, 20, 0)
    assert [(one.name, one.kind, one.count, one.size_cm) for one in plan.livestock] == [
        ("Royal gramma", "basslet", 1, 7.0),
        ("Frogspawn", "large-polyp-coral", 2, 12.0),
        ("Snail", "snail", 20, 3.0),
    ]
    roles = [(one.drives, one.cares, one.lifts) for one in plan.people]
    assert roles == [(True, True, False), (False, True, True), (False, False, True)]
    assert (plan.vehicles[0].hired, plan.vehicles[0].payload_kg) == (True, 800)
    assert [(one.kind, one.count) for one in plan.gear] == [("tub", 8), ("air-pump", 2), ("heater", 2)]
    assert (plan.gear[0].volume_l, plan.gear[1].battery_h, plan.gear[2].power_w) == (60, 24, 300)


@pytest.mark.parametrize(
    ("option", "text", "said"),
    [
        ("--keys", "2027-03-20, 2027-03-21", "2027-03-20 is after the move on 2027-03-13"),
        ("--keys", "-, 2027-03-01", "2027-03-01 is before the move on 2027-03-13"),
        ("--keys", "soon", '"soon" is not a date'),
        ("--lift", "perhaps", '"perhaps" is not known here; write one of: none, old, new, both'),
        ("--contents", "30 kg", '"30 kg" does not say of what'),
        ("--contents", "30 cm rock", '"30 cm" is a length, not a mass'),
        ("--roles", "Inse: drives", 'nobody is called "Inse"; did you mean "Ines"?'),
        ("--roles", "Ines: cooks", '"cooks" is nothing that is asked for'),
        ("--payload", "hired, 3 kg", '"3 kg" is less than 50 kg'),
        ("--gear", "8 tubbs", 'no gear is called "tubbs"; did you mean "tub"?'),
        ("--gear", "2 lifters 30 cm", "a size says nothing of a lifters"),
    ],
)
def test_answers_that_say_several_things_wrongly(
    home: Path, run: Run, option: str, text: str, said: str
) -> None:
    ran = run("new", "--no-questions", "--move-day", "2027-03-13", "--people", "Ines, Tom", option, text)
    assert ran.status == 2
    assert f"{option}: {said}" in ran.err
    assert files(home) == []


def test_values_in_comments_are_those_that_are_used(home: Path, run: Run) -> None:
    """Every commented key whose value is assumed says what is assumed."""
    for units in ("metric", "us"):
        assert run("new", "--no-questions", "--units", units, "--force").status == 0
        text = (home / "plan.yaml").read_text("utf-8")
        assumed = {one.key.rpartition(".")[2]: one.value for one in read_plan(home / "plan.yaml").assumptions}
        for key in ("rock", "sand", "sump", "carry", "load-space", "water-temperature", "temperature"):
            found = re.search(rf"(?m)^ +# {key}: (.*?)(?:   #|$)", text)
            assert found is not None, key
            assert found[1] == assumed[key], key


def test_arrow_keys_edit_the_line(home: Path) -> None:
    """Left and a letter: where the terminal has line editing, the letter goes in before the last one."""
    pytest.importorskip("readline")
    held = talk(home, "Ref\x1b[De", "quit")
    assert held.status == 0
    assert json.loads((home / "plan.yaml.draft").read_text("utf-8"))["title"] == "Reef"


def test_a_kind_alone_keeps_the_count_and_the_name_of_the_keeper(home: Path) -> None:
    held = talk(home, *[""] * 12, "two clownfish and 3 blue spangled wobblers 6 cm", "chromis", *[""] * 6)
    assert held.status == 0
    clowns, wobblers = read_plan(home / "plan.yaml").livestock
    assert (clowns.kind, clowns.count, clowns.name) == ("clownfish", 2, "Clownfish")
    assert (wobblers.kind, wobblers.count, wobblers.size_cm) == ("chromis", 3, 6)
    assert wobblers.name == "Blue spangled wobblers"


@pytest.mark.parametrize(
    ("said", "count", "kind"),
    [
        ("two clownfish", 2, "clownfish"),
        ("A dozen turbo snails", 12, "turbo-snail"),
        ("a couple of gobies", 2, "goby"),
        ("six line wrasse", 1, "six-line-wrasse"),
        ("a six line wrasse", 1, "six-line-wrasse"),
        ("one spot foxface", 1, "foxface"),
    ],
)
def test_counts_may_be_said_in_words(run: Run, home: Path, said: str, count: int, kind: str) -> None:
    assert run("new", "--no-questions", "--animals", said).status == 0
    (group,) = read_plan(home / "plan.yaml").livestock
    assert (group.count, group.kind) == (count, kind)


@pytest.mark.parametrize("keys", ["18 June 9:00, 20 June", "June 18th 09:00 and 20th of June 2027"])
def test_days_of_keys_may_be_named_by_their_month(run: Run, home: Path, keys: str) -> None:
    """As the day of the move may."""
    assert run("new", "--no-questions", "--move-day", "19 June 2027", "--keys", keys).status == 0
    text = (home / "plan.yaml").read_text("utf-8")
    assert re.search(r'access-from: "2027-06-18 0?9:00" .*\n  keys-back: 2027-06-20 ', text)


def test_a_number_alone_is_asked_of_what_it_is(home: Path) -> None:
    held = talk(home, *[""] * 11, "30 kg rock, 20", "sand", *[""] * 7)
    assert held.status == 0
    assert "sand: 20 kg" in (home / "plan.yaml").read_text("utf-8")
