"""The words of tasks and links: TOML tables whose texts are filled with this plan's numbers."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import jinja2

import moveplan
from moveplan import units
from moveplan.estimate import Estimate


def templates_folder() -> Path:
    """Find the templates: inside the package where it is installed, beside it in a checkout."""
    package = Path(moveplan.__file__).parent
    inside = package / "templates"
    return inside if inside.is_dir() else package.parent / "templates"


_SEPARATOR = "\x1e"
"""Stands between the texts of a task while they are filled in together; no table and no plan can hold it."""


@dataclass(frozen=True, slots=True)
class TaskWords:
    """What a task says.

    Parameters
    ----------
    title : str
        One line. [-]
    steps : tuple of str
        What to do, in order, the sign of being done last. [-]
    cautions : tuple of str
        Ids of the cautions that apply. [-]
    """

    title: str
    steps: tuple[str, ...]
    cautions: tuple[str, ...]


class Wording:
    """Finds the words for tasks and links and fills in the numbers.

    Parameters
    ----------
    units_system : str
        ``metric`` or ``us``. [-]
    steps : bool
        Whether tasks are given their steps; false where nobody will read them. [-]
    """

    def __init__(self, units_system: str, *, steps: bool = True) -> None:
        self._steps = steps
        self._tasks: dict[str, Mapping[str, Any]] = {}
        self._reasons: dict[str, str] = {}
        self._phases: dict[str, str] = {}
        self._phrases: dict[str, str] = {}
        self._compiled: dict[str, jinja2.Template] = {}
        self._engine = jinja2.Environment(undefined=jinja2.StrictUndefined, autoescape=False, optimized=False)  # noqa: S701
        self._engine.filters.update(_filters(units_system))
        for file in sorted((templates_folder() / "tasks").glob("*.toml")):
            table = tomllib.loads(file.read_text("utf-8"))
            self._phases[file.stem] = table["phase"]
            self._tasks.update(table.get("tasks", {}))
            self._reasons.update(table.get("why", {}))
            self._phrases.update(table.get("phrases", {}))

    def phase(self, phase_id: str) -> str:
        """Name of a phase for people."""
        return self._phases[phase_id]

    def task(self, key: str, context: Mapping[str, object]) -> TaskWords:
        """Words of a task.

        Parameters
        ----------
        key : str
            Key of the task in the tables. [-]
        context : Mapping of str to object
            Values that the texts may name. [-]

        Raises
        ------
        KeyError
            Where the tables have no such task.
        """
        row = self._tasks[key]
        texts = [row["title"], *(row["steps"] if self._steps else ())]
        title, *steps = self._fill(_SEPARATOR.join(texts), context).split(_SEPARATOR)
        filled = (step.strip() for step in steps)
        return TaskWords(
            title.strip(), tuple(step for step in filled if step), tuple(row.get("cautions", ()))
        )

    def why(self, key: str, context: Mapping[str, object]) -> str:
        """Reason of a link, by ``before > after`` or a key of its own; KeyError where the tables give none."""
        return self._fill(self._reasons[key], context)

    def phrase(self, key: str, context: Mapping[str, object]) -> str:
        """Half-sentence; KeyError where the tables have none of that key."""
        return self._fill(self._phrases[key], context)

    def _fill(self, text: str, context: Mapping[str, object]) -> str:
        """Fill a text in; compiling is what costs time, so texts without a template's brace are left alone."""
        if "{" not in text:
            return text.strip()
        if text not in self._compiled:
            self._compiled[text] = self._engine.from_string(text)
        return self._compiled[text].render(context).strip()


def _likely(value: Estimate | float) -> float:
    return value.likely if isinstance(value, Estimate) else value


def _filters(units_system: str) -> dict[str, Any]:
    return {
        "volume": lambda value: units.show_volume(_likely(value), units_system),
        "mass": lambda value: units.show_mass(_likely(value), units_system),
        "length": lambda value: units.show_length(_likely(value), units_system),
        "temperature": lambda value: units.show_temperature(_likely(value), units_system),
        "duration": lambda value: units.show_duration(round(_likely(value))),
        "share": lambda value: f"{100 * _likely(value):.0f} %",
        "number": lambda value: f"{_likely(value):g}",
        "listing": _listing,
    }


def _listing(names: list[str]) -> str:
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"
