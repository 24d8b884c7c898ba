"""Which kind of animal is meant by what a keeper writes, in singular or plural, in any case."""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping
from functools import cache
from types import MappingProxyType

from moveplan.errors import MoveplanError
from moveplan.science.animals.livestock import Kind, kinds


class UnknownKindError(MoveplanError):
    """No kind goes by that name.

    Parameters
    ----------
    text : str
        What was asked for. [-]
    nearest : tuple of str
        Names that are spelt most like it, or of which it is a part: one of a kind, at most three. [-]
    """

    exit_status = 2

    def __init__(self, text: str, nearest: tuple[str, ...]) -> None:
        names = " or ".join(f'"{name}"' for name in nearest)
        hint = f"; did you mean {names}?" if nearest else ""
        super().__init__(f'no kind of animal is called "{text}"{hint}')
        self.text = text
        self.nearest = nearest


def kind_named(text: str, own: Mapping[str, Kind] = MappingProxyType({})) -> Kind:
    """Find a kind by id, name, scientific name or alias, in singular or plural, in any case.

    Parameters
    ----------
    text : str
        What a keeper would write. [-]
    own : Mapping of str to Kind
        Kinds of the keeper's own by id; they come before those of the table. [-]

    Returns
    -------
    Kind
        The kind. [-]

    Raises
    ------
    UnknownKindError
        With the names spelt most like it, or else those that it is a part of.

    Notes
    -----
    data/livestock.toml.

    Examples
    --------
    >>> kind_named("Peppermint Shrimps").id
    'peppermint-shrimp'
    >>> kind_named("chromiss").id
    'chromis'
    """
    index = {**_index(), **_names_of(own)}
    for candidate in _singulars(_plain(text)):
        if candidate in index:
            return index[candidate]
    raise UnknownKindError(text, _nearest(_plain(text), index))


_LEAST_PART = 3
"""Shorter words stand in too many names. [letters]"""


def _nearest(plain: str, index: Mapping[str, Kind]) -> tuple[str, ...]:
    close = difflib.get_close_matches(plain, list(index), n=6, cutoff=0.75)
    parts = [part for part in _singulars(plain) if len(part) >= _LEAST_PART]
    close = close or [name for name in index if any(part in name for part in parts)]
    of_each_kind: dict[str, str] = {}
    for name in close:
        of_each_kind.setdefault(index[name].id, _as_written(index[name], name))
    return tuple(of_each_kind.values())[:3]


@cache
def _index() -> Mapping[str, Kind]:
    return _names_of(kinds())


def _names_of(known: Mapping[str, Kind]) -> dict[str, Kind]:
    """Every name by which a kind goes, the first that has it."""
    found: dict[str, Kind] = {}
    for kind in known.values():
        for name in _names(kind):
            found.setdefault(_plain(name), kind)
    return found


def _names(kind: Kind) -> tuple[str, ...]:
    return tuple(filter(None, (kind.name, kind.id, kind.scientific, *kind.aliases)))


def _as_written(kind: Kind, plain: str) -> str:
    """Give a name of a kind as its row writes it: a keeper sees what is like the own word, not only the kind."""
    return next(name for name in _names(kind) if _plain(name) == plain)


def _plain(text: str) -> str:
    return " ".join(text.casefold().replace("-", " ").replace("_", " ").split())


def _singulars(plain: str) -> Iterator[str]:
    yield plain
    for ending, singular in (("ies", "y"), ("s", ""), ("es", "")):
        if plain.endswith(ending):
            yield plain.removesuffix(ending) + singular
