"""A plan from an example or an old plan: ``moveplan new --like``."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from pathlib import Path

from moveplan.cli.shipped import example_names, shipped
from moveplan.cli.starting.copying import Copied, copied, with_paces
from moveplan.errors import PlanFileError, Problem

_OPTIONS = "the options"


def like_plan(source: str, given: Mapping[str, str]) -> Copied:
    """Take an example or an old plan over: new id and title, dates moved along, and what a journal has taught.

    Parameters
    ----------
    source : str
        Name of an example, or a plan file.
    given : Mapping of str to str
        Answers given as options; only a title goes with it.
    """
    from uuid import uuid4

    from moveplan.planfile.starter import yaml_scalar

    _refuse_beside_an_example(given)
    path = Path(source)
    own = path.is_file()
    text = text_of(path if own else _example(source))
    title = given.get("title") or f"My move, like {path.stem if own else source}"
    today = date.today()  # noqa: DTZ011 - the day where the keeper is
    made = copied(text, today, plan_id=str(uuid4()), title=yaml_scalar(title), source=path.name)
    if not own:
        return made
    paces = _learnt(path)
    return Copied(with_paces(made.text, paces) if paces else made.text, (), made.weeks)


def bring_along(names: Iterable[str], source: str, folder: Path) -> None:
    """Copy the tables that a plan names, where there are none of these names yet.

    Parameters
    ----------
    names : iterable of str
        As the plan names them.
    source : str
        Name of an example, or a plan file.
    folder : Path
        Folder of the new plan.
    """
    from moveplan.files import read_file, write_files

    source_folder = Path(source).parent if Path(source).is_file() else shipped("examples")
    found = {folder / name: read_file(source_folder / name) for name in names if not (folder / name).exists()}
    write_files({path: content for path, content in found.items() if content is not None})


def text_of(path: Path) -> str:
    """Read a plan file as text.

    Raises
    ------
    PlanFileError
        Where it cannot be read.
    """
    try:
        return path.read_text("utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        problem = Problem(f"the file cannot be read ({error})", str(path), "name a plan file or an example")
        raise PlanFileError((problem,), str(path)) from None


def _example(name: str) -> Path:
    from moveplan.planfile.problems import unknown

    names = to_copy()
    if name not in names:
        message, remedy = unknown("example or plan file", name, names)
        message = message.replace("; the plan has ", "; the examples are ")
        raise PlanFileError((Problem(message, "--like", remedy),), _OPTIONS)
    return shipped("examples") / f"{name}.yaml"


def to_copy() -> list[str]:
    """Names of the examples that a plan can begin from: those that work."""
    return [name for name in example_names() if not name.startswith("impossible")]


def _learnt(path: Path) -> dict[str, float]:
    """Read out of the journal beside an old plan how long work really took; nothing where there is none."""
    from moveplan.journal.file.place import journal_path

    if not journal_path(path).is_file():
        return {}
    from moveplan.cli.recording.diary import open_diary
    from moveplan.journal.back import look_back

    diary = open_diary(path, "")
    if not diary.state.accepted:
        return {}
    back = look_back(diary.agreed(), diary.state)
    return {pace.name.replace("_", "-"): pace.factor for pace in back.paces}


def _refuse_beside_an_example(given: Mapping[str, str]) -> None:
    problems = [
        Problem(
            "the plan that is copied answers this already",
            f"--{key}",
            "leave it out, and change the file afterwards",
        )
        for key in given
        if key != "title"
    ]
    if problems:
        raise PlanFileError(tuple(problems), _OPTIONS)
