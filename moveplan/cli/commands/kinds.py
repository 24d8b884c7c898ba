"""``moveplan kinds``: which animals the program knows, what they endanger, and how they travel."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING, Annotated

import typer

from moveplan.errors import PlanFileError, Problem

if TYPE_CHECKING:
    from moveplan.science.animals.livestock import Kind

Word = Annotated[
    str, typer.Argument(help="A kind, a group, or a part of a name.", metavar="WORD", show_default=False)
]
_TRAVELS = {
    "alone": "alone",
    "dark": "in the dark",
    "no-air": "never lifted into air",
    "no-net": "caught with a container, never a net",
    "jumps": "under a lid, it jumps",
    "spines": "thick-walled, it has spines",
    "toxin": "apart, it can poison the water",
    "stings": "apart, it stings",
}
"""How each rule of a container is told."""
_TOO_MANY = 3
"""Dangers that are named one by one in the list; more are counted there, and told in full of one kind. [-]"""


@dataclass(frozen=True, slots=True)
class _Row:
    """One line of the list."""

    id: str
    name: str
    group: str
    dangers: str
    notes: tuple[str, ...]


def kinds(word: Word = "") -> None:
    """List the kinds of animals that a plan may name: what to write, what they endanger, how they travel.

    Example: moveplan kinds tang
    """
    from moveplan.cli.terminal.paper import show_text
    from moveplan.outputs.wording.templates import environment

    found, whole = _found(word)
    others = [kind.id for kind in found if kind is not whole]
    rows = sorted((_row(kind, most=_TOO_MANY) for kind in found), key=lambda row: row.group)
    values = {
        "kind": whole,
        "dangers": _dangers(whole) if whole else "",
        "notes": _travels(whole) if whole else (),
        "others": others,
        "groups": [(group, list(held)) for group, held in groupby(rows, key=lambda row: row.group)],
        "width": max((len(row.id) for row in rows), default=0),
        "count": len(rows),
    }
    show_text(environment("text").get_template("terminal/kinds.txt.j2").render(values))


def _found(word: str) -> tuple[list[Kind], Kind | None]:
    """Find what is meant: everything, a group, those that have the word in a name, or one kind."""
    from moveplan.science.animals.kind_names import UnknownKindError, kind_named
    from moveplan.science.animals.livestock import kinds as known

    every = list(known().values())
    if not word:
        return every, None
    plain = word.casefold().replace(" ", "-")
    held = [kind for kind in every if plain.removesuffix("s") in _names(kind)]
    try:
        one = kind_named(word)
    except UnknownKindError as error:
        if not held:
            names = " or ".join(f'"{name}"' for name in error.nearest)
            remedy = f"did you mean {names}?" if names else '"moveplan kinds" lists them all'
            raise PlanFileError((Problem(f'no kind of animal is called "{word}"', "", remedy),)) from None
        return held, held[0] if len(held) == 1 else None
    return [one, *(kind for kind in held if kind is not one)], one


def _names(kind: Kind) -> str:
    return (
        " ".join((kind.id, kind.name, kind.scientific, kind.group, *kind.aliases))
        .casefold()
        .replace(" ", "-")
    )


def _row(kind: Kind, *, most: int) -> _Row:
    return _Row(kind.id, kind.name, kind.group, _dangers(kind, most), _travels(kind))


def _dangers(kind: Kind, most: int = 1000) -> str:
    """Say what a kind eats, stings or bullies."""
    from moveplan.science.animals.livestock import kinds as known

    names = [known()[one].name if one in known() else one.replace("-", " ") for one in kind.endangers]
    return ", ".join(names[:most]) + (f" and {len(names) - most} more" if len(names) > most else "")


def _travels(kind: Kind) -> tuple[str, ...]:
    return tuple(_TRAVELS[rule] for rule in kind.container)
