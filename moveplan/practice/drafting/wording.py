"""The words of tasks and links: TOML tables whose texts are filled with this plan's numbers."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cache, partial
from typing import Any

import jinja2

from moveplan import units
from moveplan.compiled import Compiled, LateFilters, template_folder
from moveplan.estimate import Estimate, Provenance
from moveplan.kept import table_of
from moveplan.practice.ledger.pour_words import listing, pour_filters
from moveplan.units.retell import KPA_A_POUND_A_SQUARE_FOOT

G_AN_OUNCE = 28.349523125
"""One avoirdupois ounce; by definition. [g]"""
MM_AN_INCH = 25.4
"""One inch; by definition. [mm]"""
DAN_A_POUND = 0.44482216152605
"""Avoirdupois ounce [g], inch [mm], pound-force [daN]: NIST SP 811, appendix B.8 (recalled)."""
_SEPARATOR = "\x1e"
"""Stands between the texts of a task while they are filled in together; no table and no plan can hold it."""
Context = Callable[[], Mapping[str, object]]
"""Gives the values that texts may name: many, and most texts name none."""


@dataclass(frozen=True, slots=True)
class TaskWords:
    """What a task says.

    Parameters
    ----------
    title : str
        One line.
    steps : tuple of str
        What to do, in order, the sign of being done last.
    cautions : tuple of str
        Ids of the cautions that apply.
    """

    title: str
    steps: tuple[str, ...]
    cautions: tuple[str, ...]


class Wording:
    """Finds the words for tasks and links and fills in the numbers.

    Parameters
    ----------
    units_system : str
        ``metric`` or ``us``.
    locale : str
        Whose decimal sign numbers have; a point without.
    steps : bool
        Whether tasks are given title and steps, and links their reasons; false where nobody will read them.
    silent : bool
        Whether nothing is put into words at all, because only times and links count.
    """

    def __init__(
        self, units_system: str, *, steps: bool = True, silent: bool = False, locale: str = ""
    ) -> None:
        self._steps = steps and not silent
        self._silent = silent
        self._tasks: dict[str, Mapping[str, Any]] = {}
        self._reasons: dict[str, str] = {}
        self._phases: dict[str, str] = {}
        self._phrases: dict[str, str] = {}
        self._keeper = (units_system, units.decimal_sign(locale))
        for name, table in _tables():
            self._phases[name] = table["phase"]
            self._tasks.update(table.get("tasks", {}))
            self._reasons.update(table.get("why", {}))
            self._phrases.update(table.get("phrases", {}))

    @property
    def kinds(self) -> Iterable[str]:
        """Keys of all tasks."""
        return self._tasks

    def phase(self, phase_id: str) -> str:
        """Name of a phase for people."""
        return self._phases[phase_id]

    def task(self, key: str, context: Context) -> TaskWords:
        """Words of a task.

        Parameters
        ----------
        key : str
            Key of the task in the tables.
        context : callable
            Gives the values that the texts may name; asked only where a text names some.

        Raises
        ------
        KeyError
            Where the tables have no such task.
        """
        row = self._tasks[key]
        cautions = tuple(row.get("cautions", ()))
        if self._silent or not self._steps:
            return TaskWords(key, (), cautions)
        title, *steps = self._fill(_SEPARATOR.join([row["title"], *row["steps"]]), context).split(_SEPARATOR)
        filled = (line.strip() for step in steps for line in step.split("\n"))
        return TaskWords(title.strip(), tuple(step for step in filled if step), cautions)

    def why(self, key: str, context: Context) -> str:
        """Reason of a link, by ``before > after`` or a key of its own; KeyError where the tables give none."""
        return self._fill(self._reasons[key], context) if self._steps else self._reasons[key]

    def phrase(self, key: str, context: Mapping[str, object]) -> str:
        """Half-sentence; KeyError where the tables have none of that key."""
        return self._fill(self._phrases[key], lambda: context)

    def _fill(self, text: str, context: Context) -> str:
        """Fill a text in; compiling is what costs time, so texts without a template's brace are left alone."""
        if self._silent or "{" not in text:
            return text.strip()
        return _template(self._keeper, text).render(context()).strip()


@cache
def _tables() -> tuple[tuple[str, Mapping[str, Any]], ...]:
    """Read the tables of words, by the name of each phase."""
    files = sorted((template_folder() / "tasks").glob("*.toml"))
    return tuple((file.stem, table_of(file)) for file in files)


_Plain = partial(LateFilters, undefined=jinja2.StrictUndefined, autoescape=False, optimized=False)
_COMPILED = Compiled(lambda: template_folder() / "tasks" / "texts.j2", _Plain)
"""What was compiled of the texts, the same for either system of units."""


@cache
def _engine(keeper: tuple[str, str]) -> jinja2.Environment:
    engine = _Plain()
    units_system, sign = keeper
    engine.filters.update((name, _localised(one, sign)) for name, one in _filters(units_system).items())
    return engine


@cache
def _template(keeper: tuple[str, str], text: str) -> jinja2.Template:
    return _COMPILED.template(_engine(keeper), text)


def _localised(written: Callable[..., Any], sign: str) -> Callable[..., Any]:
    """Give a filter the decimal sign of the locale."""
    if sign == ".":
        return written

    def with_sign(*values: Any) -> Any:
        said = written(*values)
        return units.localised(said, sign) if isinstance(said, str) else said

    return with_sign


def _likely(value: Estimate | float) -> float:
    return value.likely if isinstance(value, Estimate) else value


def _kelvin(difference_k: float, units_system: str) -> str:
    """Write a difference of temperature.

    >>> _kelvin(1.0, "metric"), _kelvin(1.0, "us")
    ('1 K', '1.8 °F')
    """
    value, unit = (1.8 * difference_k, "°F") if units_system == "us" else (difference_k, "K")
    return f"{round(value, 1):g} {unit}"


def _grams(mass_g: float, units_system: str) -> str:
    """Write a mass that a letter scale weighs.

    >>> _grams(140.0, "metric"), _grams(140.0, "us")
    ('140 g', '4.94 oz')
    """
    return f"{mass_g / G_AN_OUNCE:.3g} oz" if units_system == "us" else f"{mass_g:g} g"


def _pressure(pressure_kpa: float, units_system: str) -> str:
    """Write the load of a floor, as its code does.

    >>> _pressure(2.0, "metric"), _pressure(2.0, "us")
    ('2 kPa', '42 lb/ft²')
    """
    return (
        f"{pressure_kpa / KPA_A_POUND_A_SQUARE_FOOT:.0f} lb/ft²"
        if units_system == "us"
        else f"{pressure_kpa:g} kPa"
    )


def _force(force_dan: float, units_system: str) -> str:
    """Write a force, as the labels of straps do.

    >>> _force(440.0, "metric"), _force(440.0, "us")
    ('440 daN', '990 lbf')
    """
    return (
        f"{10 * round(force_dan / DAN_A_POUND / 10):.0f} lbf"
        if units_system == "us"
        else f"{force_dan:g} daN"
    )


def _millimetres(length_mm: float, units_system: str) -> str:
    """Write a small length.

    >>> _millimetres(2.0, "metric"), _millimetres(2.0, "us")
    ('2 mm', '0.08 in')
    """
    return f"{length_mm / MM_AN_INCH:.1g} in" if units_system == "us" else f"{length_mm:g} mm"


def _duration(value: float | Estimate) -> str:
    """Print what the keeper said as it was said, and what was computed no finer than it is known."""
    given = isinstance(value, Estimate) and value.provenance is Provenance.GIVEN
    return units.show_duration(round(_likely(value))) if given else units.show_nearly(_likely(value))


def _filters(units_system: str) -> dict[str, Any]:
    return {
        "volume": lambda value: units.show_volume(_likely(value), units_system),
        "mass": lambda value: units.show_mass(_likely(value), units_system),
        "length": lambda value: units.show_length(_likely(value), units_system),
        "temperature": lambda value: units.show_temperature(_likely(value), units_system),
        "duration": _duration,
        "within": lambda value: units.show_within(_likely(value)),
        "flow": lambda value: units.show_flow(_likely(value), units_system),
        "kelvin": lambda value: _kelvin(_likely(value), units_system),
        "grams": lambda value: _grams(_likely(value), units_system),
        "pressure": lambda value: _pressure(_likely(value), units_system),
        "force": lambda value: _force(_likely(value), units_system),
        "millimetres": lambda value: _millimetres(_likely(value), units_system),
        "power": lambda value: units.show_power(_likely(value)),
        "share": lambda value: f"{100 * _likely(value):.0f} %",
        "number": lambda value: f"{_likely(value):g}",
        "listing": listing,
    } | pour_filters(units_system)
