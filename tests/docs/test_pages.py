"""README.md, DEVELOPERS.md and the guide say what is so."""

from __future__ import annotations

import re
import shlex
import shutil
import subprocess
import sys
import tomllib
import xml.etree.ElementTree as ET
from pathlib import Path
from urllib.parse import unquote

import html5lib  # type: ignore[import-untyped]
import pytest
import typer
from markdown_it import MarkdownIt
from typer.testing import CliRunner

from moveplan.cli.app import app
from moveplan.cli.recording.log import app as log
from moveplan.cli.shipped import plan_path
from tests.cli.command import Run
from tests.docs.pages import (
    CUT,
    GUIDE,
    PAGES,
    ROOT,
    TABLES,
    Shown,
    as_printed_here,
    blocks,
    cut,
    made,
    pictured,
    printed,
    shown,
    without_hours,
)
from tests.docs.picture import PICTURE, PLAN, PLAN_OUT

SHOWN = tuple(shown())
MOST_BYTES = 150_000


def commands() -> dict[str, list[str]]:
    """Every command of the program, with the long names of its options."""
    group = typer.main.get_group(app)
    return {
        name: [option for one in command.params for option in one.opts if option.startswith("--")]
        for name, command in group.commands.items()
        if not command.hidden
    }


@pytest.mark.parametrize("one", SHOWN, ids=lambda one: one.command)
def test_output_on_the_page_is_what_is_printed(one: Shown) -> None:
    real = cut(printed(one.command), one.lines)
    if as_printed_here():
        assert list(one.lines) == real, "run: python -m tests.docs.pages, and look at what changed"
    # With other versions of the libraries hours may differ, and with them the lines of a day; not the rest.
    head = one.lines.index(CUT) if CUT in one.lines else len(one.lines)
    assert without_hours(one.lines[:head]) == without_hours(real[:head])


def test_tables_of_the_guide_are_what_the_program_has() -> None:
    there = list(made())
    assert sorted(name for _page, name, _text in there) == sorted(TABLES)
    for page, name, text in there:
        assert text == TABLES[name](), f"{page}: run: python -m tests.docs.pages"


def test_the_picture_is_that_of_the_example() -> None:
    content = (ROOT / PICTURE).read_text("utf-8")
    assert len(content) < MOST_BYTES
    whole = ET.fromstring(content)  # noqa: S314 - a file of this repository
    assert whole.tag == "{http://www.w3.org/2000/svg}svg"
    assert "foreignObject" not in content  # not drawn by every program that shows a picture
    assert "href" not in content
    if as_printed_here():
        assert content == pictured(), "run: python -m tests.docs.pages, and look at the picture"


def test_the_plan_of_the_guide_is_the_example() -> None:
    (plan,) = blocks("moveplan/guide/plan_file.md", "yaml")
    assert plan == (ROOT / "examples" / "short_plan.yaml").read_text("utf-8")


@pytest.mark.parametrize("page", GUIDE)
def test_commands_of_the_guide_run(
    page: str, run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In a folder with the examples, and one of them as the keeper's own plan."""
    shutil.copytree(ROOT / "examples", tmp_path / "examples")
    shutil.copy(ROOT / "examples" / "short_plan.yaml", tmp_path / "my_move.yaml")
    monkeypatch.chdir(tmp_path)
    for line in (line for text in blocks(page, "sh") for line in text.splitlines()):
        program, *words = shlex.split(line.partition(" #")[0])
        assert program == "moveplan"
        ran = run(*words)
        assert ran.status == 0, line + ran.err


def test_the_readme_shows_the_main_job_and_a_plan_that_cannot_work() -> None:
    assert {one.command.split()[1] for one in SHOWN} >= {"build", "show", "why"}
    assert any("impossible" in one.command for one in SHOWN)


def parts() -> list[list[str]]:
    """The two commands of the README, each cut into its steps."""
    lines = [line for text in blocks("README.md", "sh") for line in text.splitlines()]
    assert len(lines) == 2
    return [line.split(" && ") for line in lines]


def test_the_two_commands_make_an_environment_install_and_run() -> None:
    main_job, tests = parts()
    assert main_job[0] == tests[0] == "python3 -m venv .venv"
    assert main_job[1] == ".venv/bin/pip install -q '.[exact]'"
    assert tests[1] == ".venv/bin/pip install -q '.[test]'"
    assert main_job[2] == f".venv/bin/moveplan build {PLAN} --out {PLAN_OUT}"
    assert tests[2] == ".venv/bin/python -m pytest -q -n auto --dist loadfile"


def test_what_the_commands_name_is_there() -> None:
    main_job, _tests = parts()
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    assert project["scripts"] == {"moveplan": "moveplan.cli.app:main"}
    assert {"exact", "test"} <= set(project["optional-dependencies"])
    program, command, plan, option, _folder = shlex.split(main_job[2])
    assert program.endswith("/moveplan")
    assert option in commands()[command]
    assert (ROOT / plan).is_file()


def test_examples_carry_the_day_they_were_written() -> None:
    for plan in sorted((ROOT / "examples").glob("*.yaml")):
        assert re.search(r"^as-of: \d{4}-\d\d-\d\d", plan.read_text("utf-8"), re.MULTILINE), plan.name


def test_the_table_of_examples_has_all_of_them_and_no_other() -> None:
    text = (ROOT / "README.md").read_text("utf-8")
    told = re.findall(r"^\| `(\w+\.yaml)` \|", text, re.MULTILINE)
    assert sorted(told) == sorted(path.name for path in (ROOT / "examples").glob("*.yaml"))


def test_the_plan_on_the_page_is_the_example() -> None:
    (plan,) = blocks("README.md", "yaml")
    assert plan == (ROOT / "examples" / "short_plan.yaml").read_text("utf-8")
    assert len(plan.splitlines()) < 40


def test_every_command_stands_in_the_table_and_no_other() -> None:
    rows = re.findall(r"^\| `moveplan ([a-z-]+)", (ROOT / "README.md").read_text("utf-8"), re.MULTILINE)
    assert rows == list(dict.fromkeys(rows))
    assert set(rows) == set(commands())


def test_every_option_on_the_pages_exists() -> None:
    known = {option for options in commands().values() for option in options} | {"--help", "--version"}
    logs = typer.main.get_group(log)
    known |= {option for one in logs.commands.values() for param in one.params for option in param.opts}
    for page in PAGES:
        for text in re.findall(r"`(--[a-z-]+)[ `]", (ROOT / page).read_text("utf-8")):
            assert text in known, f"{page} names {text}"


@pytest.mark.parametrize("command", ["", *commands()])
def test_help_has_an_example_and_the_plan_it_names_is_there(command: str) -> None:
    told = CliRunner().invoke(app, [*filter(None, [command]), "--help"], terminal_width=200)
    assert told.exit_code == 0
    example = re.search(rf"Example: moveplan {command or '[a-z]+'}\b[^\n]*", told.stdout)
    assert example is not None
    plan = shlex.split(example[0])[3:4]
    assert (
        command in ("new", "schema", "kinds", "guide")
        or plan_path(Path(*plan)).is_file()
        or plan == ["my_move.yaml"]
    )


@pytest.mark.parametrize("page", PAGES)
def test_links_lead_somewhere_and_paths_exist(page: str) -> None:
    text = (ROOT / page).read_text("utf-8")
    for target in re.findall(r"\]\(([^)#]+)\)", text):
        assert "://" in target or (ROOT / page).parent.joinpath(target).exists(), target
    tops = "moveplan|templates|tests|examples|\\.ci"
    for path in re.findall(rf"`((?:{tops})/[\w./-]*)`", text):
        assert (ROOT / path).exists(), path


@pytest.mark.parametrize("page", PAGES)
def test_pages_render_and_every_link_and_picture_leads_somewhere(page: str) -> None:
    text = (ROOT / page).read_text("utf-8")
    whole = html5lib.parse(MarkdownIt("commonmark").enable("table").render(text), namespaceHTMLElements=False)
    assert len(whole.findall(".//h1")) == 1
    assert len(whole.findall(".//table")) == len(re.findall(r"^\|(?: ?-+ ?\|)+$", text, re.MULTILINE))
    assert len(whole.findall(".//code[@class]")) == len(re.findall(r"^```\w+$", text, re.MULTILINE))
    assert all(picture.get("alt") for picture in whole.iter("img"))
    for one in (*whole.iter("a"), *whole.iter("img")):
        target, _, anchor = unquote(one.get("href") or one.get("src") or "").partition("#")
        there = (ROOT / page).parent / target if target else ROOT / page
        assert "://" in target or there.is_file(), target
        if anchor and there.suffix == ".md":
            titles = re.findall(r"^#+ (.*)$", there.read_text("utf-8"), re.MULTILINE)
            slugs = [re.sub(r"[^\w -]", "", title.casefold()).replace(" ", "-") for title in titles]
            assert anchor in slugs, one.get("href")


def test_commands_for_contributors_run() -> None:
    lines = [line for text in blocks("DEVELOPERS.md", "sh") for line in text.splitlines()]
    commands_only = [line.partition(" #")[0].strip() for line in lines]
    assert commands_only[:2] == [".ci/run quick", ".ci/run"]
    for line in commands_only:
        words = shlex.split(line)
        if words[0].startswith(".ci"):
            subprocess.run(["bash", "-n", words[0]], cwd=ROOT, check=True, timeout=30)
        elif words[:3] == ["python", "-m", "pytest"]:
            listed = subprocess.run(
                [sys.executable, *words[1:3], "-q", "--collect-only", *words[3:]],
                cwd=ROOT,
                capture_output=True,
                text=True,
                timeout=120,
                check=False,
            )
            assert listed.returncode == 0, line + listed.stdout
        else:
            assert words[:2] == ["python", "-m"], line
            assert (ROOT / Path(*words[2].split("."))).with_suffix(".py").is_file(), line


def test_the_checking_script_runs_the_tests_as_the_readme_says() -> None:
    script = (ROOT / ".ci" / "run").read_text("utf-8")
    assert "grep -m 1 -e '-m pytest' README.md" in script
    asked = subprocess.run(
        [ROOT / ".ci" / "run", "nonsense"], capture_output=True, text=True, timeout=30, check=False
    )
    assert (asked.returncode, asked.stderr) == (2, "usage: .ci/run [quick]\n")
