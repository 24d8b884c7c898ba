"""Kinds of reef livestock: what they weigh, how they behave, how they must be packed (data/livestock.toml).

:mod:`moveplan.science.animals.kind_names` finds the kind that a keeper means.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from types import MappingProxyType
from typing import Any

from moveplan.science.tables import table

SMALL_FISH = "small-fish"
"""Stands in ``endangers`` for fish shorter than half the length of the one that endangers them."""


class Temperament(StrEnum):
    """How an animal behaves towards others."""

    TIMID = "timid"
    PEACEFUL = "peaceful"
    TERRITORIAL = "territorial"
    PREDATOR = "predator"


class Catching(StrEnum):
    """How hard an animal is to catch in a tank."""

    EASY = "easy"
    MODERATE = "moderate"
    HARD = "hard"


class Feeding(StrEnum):
    """How an animal feeds, which decides how long it may go without."""

    GRAZER = "grazer"
    PLANKTON = "plankton"
    NORMAL = "normal"
    LARGE_PREDATOR = "large-predator"
    FILTER = "filter"
    NONE = "none"


class OxygenModel(StrEnum):
    """Which rule gives an animal's oxygen use."""

    FISH = "fish"
    SHRIMP = "shrimp"
    SHELLED = "shelled"
    SOFT = "soft"
    CORAL = "coral"


class ContainerRule(StrEnum):
    """What an animal's container, and the person who packs it, must heed."""

    ALONE = "alone"
    DARK = "dark"
    NO_AIR = "no-air"
    NO_NET = "no-net"
    JUMPS = "jumps"
    SPINES = "spines"
    TOXIN = "toxin"
    STINGS = "stings"


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of animal.

    Parameters
    ----------
    id : str
        Stable key, such as ``clownfish``. [-]
    name, scientific : str
        Name in general English; taxon. [-]
    group : str
        Trade group, such as ``fish`` or ``sps-coral``. [-]
    aliases : tuple of str
        Other names. [-]
    oxygen : OxygenModel
        Rule for its oxygen use. [-]
    coefficient_a, exponent_b : float
        Mass in g is ``a L^b`` with L in cm. [-]
    area_factor : float
        Tissue area over the area of a disc as wide as the colony; 0 for animals reckoned by mass. [-]
    length_cm : float
        Usual size in a home tank, in the sense of the shape's source. [cm]
    temperament : Temperament
        Behaviour towards others. [-]
    endangers : tuple of str
        Groups, kinds or :data:`SMALL_FISH` that it eats, stings or bullies. [-]
    catching : Catching
        How hard it is to catch. [-]
    feeding : Feeding
        How it feeds, for the fast before the catch. [-]
    container : tuple of ContainerRule
        Rules for container and handling. [-]
    light : str
        Need of light: none, low, medium, high. [-]
    tolerance, source : str
        What it bears or not; where the row comes from. [-]
    """

    id: str
    name: str
    scientific: str
    group: str
    aliases: tuple[str, ...]
    oxygen: OxygenModel
    coefficient_a: float
    exponent_b: float
    area_factor: float
    length_cm: float
    temperament: Temperament
    endangers: tuple[str, ...]
    catching: Catching
    feeding: Feeding
    container: tuple[ContainerRule, ...]
    light: str
    tolerance: str
    source: str


@cache
def kinds() -> Mapping[str, Kind]:
    """Every kind by its id, in the order of the data file.

    >>> kinds()["yellow-tang"].scientific
    'Zebrasoma flavescens'
    """
    return MappingProxyType({key: kind_of(key, row) for key, row in table("livestock")["kinds"].items()})


def kind_of(key: str, row: Mapping[str, Any]) -> Kind:
    """Complete a row of the table of kinds, or one of the same form; a group fills in what the row does not say.

    Parameters
    ----------
    key : str
        Id of the kind. [-]
    row : Mapping
        Sound values by the keys of data/livestock.toml: ``group``, ``name``, ``scientific``, ``aliases`` and
        ``length_cm`` at least. [-]

    Returns
    -------
    Kind
        The kind. [-]

    Notes
    -----
    data/livestock.toml gives the values of its group and of its body shape, with their sources.

    Examples
    --------
    >>> kind_of("sand-perch", row_like("goby") | {"name": "sand perch", "length_cm": 12.0}).length_cm
    12.0
    """
    data = table("livestock")
    merged: dict[str, Any] = {**data["groups"][row["group"]], **row}
    shape = data["shapes"][merged.pop("shape")]
    return Kind(
        id=key,
        coefficient_a=shape["a"],
        exponent_b=shape["b"],
        oxygen=OxygenModel(merged.pop("oxygen")),
        temperament=Temperament(merged.pop("temperament")),
        catching=Catching(merged.pop("catching")),
        feeding=Feeding(merged.pop("feeding")),
        container=tuple(map(ContainerRule, merged.pop("container"))),
        aliases=tuple(merged.pop("aliases")),
        endangers=tuple(merged.pop("endangers")),
        **merged,
    )


def row_like(kind: str) -> dict[str, Any]:
    """Give what the table says of a kind, without its names, for another kind that is like it.

    Parameters
    ----------
    kind : str
        Id of a kind of the table. [-]

    Returns
    -------
    dict of str to Any
        A row of the same form: an empty scientific name, no aliases. [-]

    Notes
    -----
    data/livestock.toml; the name, and the length where it differs, are for the caller to set.

    Examples
    --------
    >>> row_like("yellow-tang")["feeding"]
    'grazer'
    """
    return {**table("livestock")["kinds"][kind], "scientific": "", "aliases": []}


def groups() -> tuple[str, ...]:
    """Names of the trade groups.

    >>> groups()[0]
    'fish'
    """
    return tuple(table("livestock")["groups"])


def shapes() -> tuple[str, ...]:
    """Names of the body shapes, each with a rule for mass.

    >>> shapes()[:2]
    ('deep', 'fusiform')
    """
    return tuple(table("livestock")["shapes"])


def endangers(kind: Kind, length_cm: float, other: Kind, other_length_cm: float) -> bool:
    """Say whether one animal may eat, sting or bully another to death in one container.

    Parameters
    ----------
    kind : Kind
        The one that may do harm. [-]
    length_cm : float
        Its length. [cm]
    other : Kind
        The one that may suffer it. [-]
    other_length_cm : float
        Its length. [cm]

    Returns
    -------
    bool
        True if they must be kept apart. [-]

    Notes
    -----
    Common practice, no source; a fish counts as prey of a hunter of fish if it is shorter than half of it.

    Examples
    --------
    >>> endangers(kinds()["lionfish"], 20.0, kinds()["goby"], 6.0)
    True
    >>> endangers(kinds()["lionfish"], 12.0, kinds()["tang"], 15.0)
    False
    """
    from moveplan.science.ranges import check  # it needs arrays, which a list of kinds does not

    check(length_cm=length_cm, other_length_cm=other_length_cm)
    if SMALL_FISH in kind.endangers and other.group == "fish" and other_length_cm < 0.5 * length_cm:
        return True
    return other.group in kind.endangers or other.id in kind.endangers
