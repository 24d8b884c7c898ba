"""Animals and people as the interview is told of them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import count

from moveplan.planfile.replies.rows import each_part
from moveplan.planfile.replies.several import roles_in, usual_roles
from moveplan.planfile.schema.leaves import Number, Quantity
from moveplan.planfile.schema.refusals import Refusal, RefusedError, refusal
from moveplan.science.animals.kind_names import UnknownKindError, kind_named
from moveplan.science.animals.livestock import Kind
from moveplan.units import quoted

_ANIMALS = re.compile(r"(?:([0-9]{1,5})\s*[x×]?\s+)?([^0-9]+?)(?:\s+([0-9].*))?")
_ABOUT = re.compile(r"^(?:about|around|roughly|some|ca\.?|~)\s*(?=[0-9])", re.IGNORECASE)
_MANY = {
    **dict.fromkeys(("a", "an", "one"), "1"),
    **dict.fromkeys(("a pair of", "pair of", "a pair", "pair", "a couple of", "couple of", "two"), "2"),
    "three": "3",
    "four": "4",
    "five": "5",
    "six": "6",
    "seven": "7",
    "eight": "8",
    "nine": "9",
    "ten": "10",
    "eleven": "11",
    **dict.fromkeys(("a dozen", "dozen", "twelve"), "12"),
}
"""Counts as they are said."""
_SAID = re.compile(rf"^({'|'.join(sorted(_MANY, key=len, reverse=True))})\s+", re.IGNORECASE)
_NEXT = re.compile(rf"\s*[,;]\s*|\s+and\s+(?=[0-9]|(?:{'|'.join(_MANY)})\s)", re.IGNORECASE)
"""What stands between two groups of animals: an "and" does where a count follows it."""
_KIND_OF = re.compile(r"(.+?)\s*\(\s*(.+?)\s*\)")
_SEVERAL = re.compile(r"([2-9]|1[0-2])\s+(.+?)s")
_BARE = re.compile(r"[0-9]+(?:\.[0-9]+)?")
_SLUG = re.compile(r"[^a-z0-9]+")
_ANIMAL_SIZE = Quantity("cm", 0.1, 300, "7 cm")
_FEWEST_PEOPLE = 2
"""Fewest names that make a list of people. [-]"""


@dataclass(frozen=True, slots=True)
class Named:
    """Somebody who takes part.

    Parameters
    ----------
    id, name : str
        Identity in the file and what to print.
    first : bool
        Whether it is the keeper.
    roles : frozenset of str
        ``drives``, ``cares`` and ``lifts``, as far as they do.
    """

    id: str
    name: str
    first: bool
    roles: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Animals:
    """Animals of one kind.

    Parameters
    ----------
    id, kind, count, size : str
        As they are written into the file; an empty size is left out.
    name : str
        What the keeper calls them, where that is not the kind.
    """

    id: str
    kind: str
    count: str
    size: str
    name: str = ""


def animals_in(text: str, units: str = "metric") -> tuple[Animals, ...]:
    """Read counts, kinds and sizes, with commas between; a name that is not the kind is kept.

    A kind in brackets says what an animal with a name of its own is.

    >>> [(one.kind, one.count, one.name) for one in animals_in("two clownfish and a royal gramma, 3 Dot (goby)")]
    [('clownfish', '2', ''), ('basslet', '1', 'Royal gramma'), ('goby', '3', 'Dot')]
    """
    rows = each_part(
        lambda part: _group(part, units), [part.strip() for part in _NEXT.split(text) if part.strip()]
    )
    if not rows:
        raise refusal("no animal is named", 'write for example "2 clownfish, 10 snails"')
    ids = _free_ids([row.kind for row in rows])
    return tuple(replace(row, id=name) for row, name in zip(rows, ids, strict=True))


def _free_ids(slugs: Sequence[str]) -> list[str]:
    """Give equal ids a number.

    >>> _free_ids(["goby", "goby", "snail"])
    ['goby', 'goby-2', 'snail']
    """
    ids: list[str] = []
    for slug in slugs:
        numbered = (slug if number == 1 else f"{slug}-{number}" for number in count(1))
        ids.append(next(name for name in numbered if name not in ids))
    return ids


def _group(text: str, units: str) -> Animals:
    parts = _ANIMALS.fullmatch(_counted(text))
    if parts is None:
        raise refusal(f"{quoted(text)} is not a count and a kind", 'write for example "2 clownfish 7 cm"')
    both = _KIND_OF.fullmatch(parts[2])
    own, said = (both[1], both[2]) if both else (parts[2].strip(), parts[2])
    try:
        kind = kind_named(said[:80])
    except UnknownKindError as error:
        names = " or ".join(f'"{name}"' for name in error.nearest)
        remedy = (
            f"did you mean {names}?" if names else "write a kind such as clownfish, goby, snail or soft coral"
        )
        instead = tuple(_again(parts, name) for name in error.nearest)
        wrong = Refusal(
            f"no kind of animal is called {quoted(said)}",
            remedy,
            instead=instead,
            around=_again(parts, f"{own} ({{}})"),
        )
        raise RefusedError((wrong,)) from None
    Number(1, 10_000, "2", whole=True).read(parts[1] or "1")
    size = parts[3] or ""
    if size:
        size = f"{size} {'in' if units == 'us' else 'cm'}" if _BARE.fullmatch(size) else size
        _ANIMAL_SIZE.read(size)
    named = "" if _is_the_kind(own, kind) else own[:1].upper() + own[1:]
    return Animals(kind.id, kind.id, parts[1] or "1", size, named)


def _again(parts: re.Match[str], name: str) -> str:
    """Write a group once more, with another name."""
    return " ".join(filter(None, (parts[1], name, parts[3])))


def _is_the_kind(text: str, kind: Kind) -> bool:
    """Whether a name is that of the kind itself, in singular or plural."""
    plain = " ".join(text.casefold().replace("-", " ").split())
    forms = (plain, plain.removesuffix("s"), plain.removesuffix("es"), f"{plain.removesuffix('ies')}y")
    return bool({*forms} & {kind.name, kind.id.replace("-", " ")})


def _counted(text: str) -> str:
    """Write a count that was said in words as a number; a kind whose name begins with one keeps it.

    >>> _counted("a tang"), _counted("pair of clownfish"), _counted("about 20 snails"), _counted("Six gobies")
    ('1 tang', '2 clownfish', '20 snails', '6 gobies')
    >>> _counted("six line wrasse 7 cm")
    'six line wrasse 7 cm'
    """
    bare = _ABOUT.sub("", text.strip())
    said = _SAID.match(bare)
    if said is None or _is_known(re.split(r"\s*[0-9(]", bare)[0]):
        return bare
    return f"{_MANY[' '.join(said[1].casefold().split())]} {bare[said.end() :]}"


def _is_known(name: str) -> bool:
    try:
        return bool(kind_named(name[:80]))
    except UnknownKindError:
        return False


def _each(text: str) -> list[str]:
    """Give several people that are only counted a name each.

    >>> _each("2 friends"), _each("Ines")
    (['Friend 1', 'Friend 2'], ['Ines'])
    """
    several = _SEVERAL.fullmatch(_counted(text))
    if several is None:
        return [text]
    return [f"{several[2].capitalize()} {n}" for n in range(1, int(several[1]) + 1)]


def people_in(text: str) -> tuple[Named, ...]:
    """Read names with commas between, the keeper first."""
    names = [name for part in text.split(",") if part.strip() for name in _each(part.strip())]
    if len(names) < _FEWEST_PEOPLE:
        raise refusal("an empty tank is carried by two at least", "name a second person")
    slugs = [_SLUG.sub("-", name.casefold()).strip("-")[:40] or "person" for name in names]
    return tuple(
        Named(slug, name, position == 0)
        for position, (slug, name) in enumerate(zip(_free_ids(slugs), names, strict=True))
    )


def with_roles(people: tuple[Named, ...], text: str) -> tuple[Named, ...]:
    """Add who does what; what is usual where nothing is said."""
    names = [one.name for one in people]
    roles = roles_in(text or usual_roles(names), names)
    return tuple(replace(one, roles=does) for one, does in zip(people, roles, strict=True))
