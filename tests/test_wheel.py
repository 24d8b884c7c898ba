"""The templates travel with the package: found in a wheel that was installed, in an editable install, in a checkout."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest
from packaging.requirements import Requirement

from tests.docs.pages import blocks
from tests.docs.test_pages import commands

ROOT = Path(__file__).parents[1]
WHERE = (
    "import moveplan\n"
    "from moveplan.compiled import template_folder\n"
    "print(moveplan.__file__)\nprint(template_folder())\n"
)

MAIN = "import sys\nfrom moveplan.cli.app import main\nmain()\n"


def _built(folder: Path, kind: str) -> Path:
    """Build a wheel into a folder, with the build backend that is there."""
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", kind, "-d", folder],
        cwd=ROOT,
        check=True,
        capture_output=True,
        timeout=120,
    )
    (wheel,) = folder.glob("*.whl")
    return wheel


def _installed(wheel: Path, folder: Path) -> Path:
    """Put a wheel into a folder as pip does."""
    subprocess.run(
        [sys.executable, "-m", "pip", "install", "-q", "--no-deps", "--no-index", "--target", folder, wheel],
        check=True,
        capture_output=True,
        timeout=120,
    )
    return folder


def _python(code: str, folder: Path, *arguments: str, status: int = 0) -> str:
    """Run code with a folder of installed packages in front, far from the checkout; it ends with a status."""
    start = (  # what the folder brings in comes before any other moveplan that may be installed
        "import sys, site\nbefore = list(sys.path)\n"
        f"site.addsitedir({str(folder)!r})\n"
        "sys.path[:] = [one for one in sys.path if one not in before] + before\n"
    )
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    found = subprocess.run(
        [sys.executable, "-P", "-c", start + code, *arguments],
        cwd=folder.parent,
        env=environment,
        check=False,
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=120,
    )
    assert found.returncode == status, found.stdout + found.stderr
    return found.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return _built(tmp_path_factory.mktemp("wheel"), "wheel")


def test_the_wheel_holds_every_template_and_table_and_nothing_of_the_tests(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    folders = {"templates": ROOT / "templates", "examples": ROOT / "examples", "": ROOT / "moveplan"}
    for below, folder in folders.items():
        for file in folder.rglob("*"):
            if file.is_file() and "__pycache__" not in file.parts:
                assert (
                    "/".join(filter(None, ("moveplan", below, file.relative_to(folder).as_posix()))) in names
                )
    tops = {name.partition("/")[0] for name in names}
    assert {top for top in tops if not top.endswith(".dist-info")} == {"moveplan"}
    assert any(name.endswith("licenses/LICENSE") for name in names)


def test_an_installed_wheel_finds_its_templates_and_builds_a_plan(wheel: Path, tmp_path: Path) -> None:
    site = _installed(wheel, tmp_path / "site")
    package, *templates = _python(WHERE, site).splitlines()
    assert Path(package).parent == site / "moveplan"
    assert {Path(folder) for folder in templates} == {site / "moveplan" / "templates"}
    _python(MAIN, site, "new", "plan.yaml", "--like", "short_plan")
    plan = tmp_path / "plan.yaml"
    options = ("build", str(plan), "--out", "out", "--solver-seconds", "0.1", "--runs", "0")
    told = _python(MAIN, site, *options)
    assert "  out/index.html\n" in told
    assert (tmp_path / "out" / "calendar.ics").is_file()


def test_an_installed_wheel_knows_its_examples_kinds_and_guide(wheel: Path, tmp_path: Path) -> None:
    site = _installed(wheel, tmp_path / "site")
    examples = ROOT / "examples"
    for example in (
        *examples.glob("*.yaml"),
        examples / "firm" / "firm.yaml",
        examples / "firm" / "one_too_many.yaml",
    ):
        wrong = example.stem.startswith("impossible")
        for name in (example.stem, example.relative_to(ROOT).as_posix()):
            told = _python(MAIN, site, "check", name, "--quiet", status=int(wrong))
            assert ("\n\nTHIS CANNOT WORK\n" in told) if wrong else told == "", name
    assert _python(MAIN, site, "check", "examples/firm/jobs/late_call.yaml", "--quiet") == ""
    options = ("--out", "out", "--solver-seconds", "0.1", "--runs", "0")
    assert "  out/index.html\n" in _python(MAIN, site, "build", "short_plan", *options)
    assert "clownfish" in _python(MAIN, site, "kinds")
    for page in (ROOT / "moveplan" / "guide").glob("*.md"):
        assert _python(MAIN, site, "guide", page.stem) == page.read_text("utf-8")


FIRST = (
    "check short_plan house_move --quiet",
    "show short_plan --solver-seconds 0.1",
    "why short_plan make-water --solver-seconds 0.1",
    "weigh short_plan --change places.new.floor=0 --solver-seconds 0.1 --runs 0",
    "new other.yaml --no-questions --timezone Europe/Dublin",
    "new other.yaml --form form.html",
    "kinds tang",
    "guide phone",
    "schema",
)
LAST = ("look-back my_move.yaml", "crew nobody.yaml")


def test_every_command_runs_from_an_installed_wheel(wheel: Path, tmp_path: Path) -> None:
    """Those of the page about the journal as they stand there; of a page for several phones only that it is found."""
    site = _installed(wheel, tmp_path / "site")
    (tmp_path / "my_move.yaml").write_bytes((site / "moveplan" / "examples" / "short_plan.yaml").read_bytes())
    guide = [line for text in blocks("moveplan/guide/calendar.md", "sh") for line in text.splitlines()]
    asked = [shlex.split(line.removeprefix("moveplan ")) for line in (*FIRST, *guide, *LAST)]
    for words in asked:
        quick = ("--solver-seconds", "0.1", "--runs", "0") if words[0] == "build" else ()
        _python(MAIN, site, *words, *quick, status=2 * (words[0] == "crew"))
    assert {words[0] for words in asked} == set(commands())
    assert (tmp_path / "out" / "calendar-mara.ics").is_file()
    assert (tmp_path / "form.html").is_file()


def test_the_wheel_says_what_it_is(wheel: Path) -> None:
    archive = zipfile.ZipFile(wheel)
    (name,) = (one for one in archive.namelist() if one.endswith(".dist-info/METADATA"))
    told = archive.read(name).decode("utf-8")
    assert "\nClassifier: Typing :: Typed\n" in told
    assert "\nKeywords: " in told
    assert "\nRequires-Python: >=3.11\n" in told
    assert {"moveplan/py.typed", "moveplan/constraints.txt"} <= set(archive.namelist())


def test_away_from_the_repository_the_readme_names_commands_in_place_of_its_links(wheel: Path) -> None:
    archive = zipfile.ZipFile(wheel)
    (name,) = (one for one in archive.namelist() if one.endswith(".dist-info/METADATA"))
    told = archive.read(name).decode("utf-8")
    readme = (ROOT / "README.md").read_text("utf-8")
    linked = re.findall(r"\]\(moveplan/guide/(\w+)\.md\)", readme)
    assert len(linked) > 5
    assert all(f"(`moveplan guide {page}`)" in told for page in linked)
    assert re.findall(r"\]\((?!https?://)", told) == []
    picture = range(readme.index("!["), readme.index("```bash"))
    plain = [
        one[0]
        for one in re.finditer(r"(?m)^.+$", readme)
        if "](" not in one[0] and one.start() not in picture
    ]
    assert [line for line in plain if line not in told] == []


def test_the_constraints_are_exact_and_cover_what_the_program_needs() -> None:
    lines = (ROOT / "moveplan" / "constraints.txt").read_text("utf-8").splitlines()
    pinned = dict(line.split("==") for line in lines if not line.startswith("#"))
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    extras = project["optional-dependencies"]
    for text in (*project["dependencies"], *extras["crew"], *extras["exact"]):
        needed = Requirement(text)
        assert needed.specifier.contains(pinned[needed.name]), text


def test_the_container_copies_what_is_there_and_installs_with_the_constraints() -> None:
    lines = (ROOT / ".ci" / "Containerfile").read_text("utf-8").splitlines()
    sources = [word for line in lines if line.startswith("COPY ") for word in line.split()[1:-1]]
    assert all((ROOT / source).exists() for source in sources)
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    copied = {"moveplan", *project["tool"]["hatch"]["build"]["targets"]["wheel"]["force-include"]}
    (readme,) = project["tool"]["hatch"]["metadata"]["hooks"]["fancy-pypi-readme"]["fragments"]
    assert copied | {"pyproject.toml", readme["path"], "LICENSE"} == set(sources)
    assert any("--constraint /src/moveplan/constraints.txt '/src[exact,crew]'" in line for line in lines)


def test_an_editable_install_finds_the_templates_of_the_checkout(tmp_path: Path) -> None:
    site = _installed(_built(tmp_path / "wheels", "wheel:editable"), tmp_path / "site")
    package, *templates = _python(WHERE, site).splitlines()
    assert Path(package).parent == ROOT / "moveplan"
    assert {Path(folder) for folder in templates} == {ROOT / "templates"}


def test_a_checkout_finds_its_templates() -> None:
    told = subprocess.run(
        [sys.executable, "-c", WHERE], cwd=ROOT, check=True, capture_output=True, text=True, timeout=60
    )
    assert {Path(line) for line in told.stdout.splitlines()[1:]} == {ROOT / "templates"}
