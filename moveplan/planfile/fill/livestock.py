"""Animals, complete; what is usual for a kind comes from the table of kinds."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from moveplan.plan.livestock import Livestock
from moveplan.planfile.fill import usual
from moveplan.planfile.fill.notes import Notes, named
from moveplan.planfile.fill.usual import USUAL, Usual
from moveplan.planfile.schema.livestock import LivestockEntry
from moveplan.planfile.schema.money import Money
from moveplan.science.animals.kind_names import kind_named
from moveplan.science.animals.livestock import Kind
from moveplan.units import show_number

_CORALS = frozenset({"soft-coral", "lps-coral", "sps-coral", "zoanthid", "gorgonian", "anemone"})


def livestock(
    entries: Mapping[str, LivestockEntry], home: str, notes: Notes, own: Mapping[str, Kind]
) -> tuple[Livestock, ...]:
    """Complete every group of animals.

    Parameters
    ----------
    entries : Mapping of str to LivestockEntry
        Animals by id, of known kinds.
    home : str
        Id of the system they live in unless the plan says otherwise.
    own : Mapping of str to Kind
        Kinds of the keeper's own.
    """
    return tuple(_animals(animal_id, entry, home, notes, own) for animal_id, entry in entries.items())


def _animals(
    animal_id: str, entry: LivestockEntry, home: str, notes: Notes, own: Mapping[str, Kind]
) -> Livestock:
    key, kind = f"livestock.{animal_id}", kind_named(entry.kind, own)
    size = Usual(f"{show_number(kind.length_cm)} cm", "usual size of its kind in a home tank")
    temperament = Usual(str(kind.temperament), "usual for its kind")
    return Livestock(
        id=animal_id,
        name=named(entry.name, animal_id),
        kind=kind.id,
        count=notes.fill(entry.count, f"{key}.count", USUAL["count"], int),
        size_cm=notes.quantity(entry.size, f"{key}.size", size, "cm"),
        mass_g=entry.mass,
        temperament=notes.fill(entry.temperament, f"{key}.temperament", temperament, str),
        system=notes.fill(entry.system, f"{key}.system", Usual(home, "the first system is the display"), str),
        value=_value(entry.value, f"{key}.value", kind, notes),
        leaves=entry.leaves or 0,
        sick=entry.sick or 0,
        boarded=entry.boarded or "",
        wished=bool(entry.wished),
        container=entry.container or "",
        own=own.get(kind.id),
    )


def group_of(kind: Kind) -> str:
    """Sort a kind into ``fish``, ``corals`` or ``invertebrates``."""
    if kind.group == "fish":
        return "fish"
    return "corals" if kind.group in _CORALS else "invertebrates"


def _value(given: Money | None, key: str, kind: Kind, notes: Notes) -> Decimal:
    if given is not None:
        return given.amount
    return notes.fill(None, key, Usual(usual.ANIMAL_VALUES[group_of(kind)], usual.ANIMAL_VALUE_WHY), Decimal)
