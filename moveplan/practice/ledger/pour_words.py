"""Words for entries of the ledger: which containers, how much in each, how much in all."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from itertools import groupby
from typing import Any

from moveplan import units

Entry = tuple[str, str, float]
"""From, to, litres."""
_CONTAINER, _SYSTEM = "container:", "system:"
_NUMBER = re.compile(r"(\D+)(\d+)")


def listing(names: Sequence[str]) -> str:
    """Join words as in a sentence.

    >>> listing(["a", "b", "c"])
    'a, b and c'
    """
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def runs(numbers: Iterable[str]) -> list[str]:
    """Write numbers that follow each other as a run.

    >>> runs(["T1", "T2", "T3", "T7", "P1"])
    ['P1', 'T1–T3', 'T7']
    """
    parted = sorted((match[1], int(match[2])) for one in numbers if (match := _NUMBER.fullmatch(one)))
    found = []
    for (letter, _), several in groupby(enumerate(parted), key=lambda row: (row[1][0], row[1][1] - row[0])):
        run = [number for _, (_, number) in several]
        first, last = run[0], run[-1]
        found.append(f"{letter}{first}" if first == last else f"{letter}{first}–{letter}{last}")
    return found


def _number(account: str) -> str:
    return account.removeprefix(_CONTAINER)


def litres(entries: Iterable[Entry]) -> float:
    """Add entries up. [l]."""
    return sum(part for _, _, part in entries)


def _into_containers(entries: Iterable[Entry]) -> list[Entry]:
    return [one for one in entries if one[1].startswith(_CONTAINER)]


def _from_containers(entries: Iterable[Entry]) -> list[Entry]:
    return [one for one in entries if one[0].startswith(_CONTAINER)]


def _from_systems(entries: Iterable[Entry]) -> list[Entry]:
    return [one for one in entries if one[0].startswith(_SYSTEM)]


def _into(entries: Iterable[Entry], account: str) -> list[Entry]:
    return [one for one in entries if one[1] == account]


def _by_source(entries: Iterable[Entry]) -> list[tuple[str, list[Entry]]]:
    rows: dict[str, list[Entry]] = {}
    for one in entries:
        rows.setdefault(one[0], []).append(one)
    return list(rows.items())


def _by_target(entries: Iterable[Entry]) -> list[tuple[str, list[Entry]]]:
    rows: dict[str, list[Entry]] = {}
    for one in entries:
        rows.setdefault(one[1], []).append(one)
    return list(rows.items())


def _by_kind(entries: Iterable[Entry]) -> list[tuple[str, list[Entry]]]:
    """Sort entries by what their source is: ``new`` for water where it was mixed, else a letter of containers."""
    rows: dict[str, list[Entry]] = {}
    for one in entries:
        kind = _number(one[0])[0] if one[0].startswith(_CONTAINER) else "new"
        rows.setdefault(kind, []).append(one)
    return list(rows.items())


def _shared_out(rows: Iterable[tuple[str, str]]) -> str:
    """Say which amount goes into which container."""
    alike: dict[str, list[str]] = {}
    for target, amount in rows:
        alike.setdefault(amount, []).append(_number(target))
    return listing(
        [
            f"{amount} into {'each of ' if len(numbers) > 1 else ''}{listing(runs(numbers))}"
            for amount, numbers in alike.items()
        ]
    )


def _poured(units_system: str) -> Callable[[Iterable[Entry]], str]:
    def poured(entries: Iterable[Entry]) -> str:
        """Say how much goes into which containers, whatever it comes from."""
        return _shared_out(
            (target, units.show_volume(litres(parts), units_system)) for target, parts in _by_target(entries)
        )

    return poured


def _salted(units_system: str) -> Callable[[Iterable[Entry], float], str]:
    def salted(entries: Iterable[Entry], salt_kg: float) -> str:
        """Say how much salt goes into which bins, by the litres in each, and in all where there are several."""
        rows = _by_target(_into_containers(entries))
        whole = sum(litres(parts) for _, parts in rows)
        told = _shared_out(
            (target, units.show_mass(salt_kg * litres(parts) / whole, units_system)) for target, parts in rows
        )
        return f"{told}, {units.show_mass(salt_kg, units_system)} in all" if len(rows) > 1 else told

    return salted


def _sources(entries: Iterable[Entry]) -> str:
    numbers = [_number(source) for source, _, _ in entries if source.startswith(_CONTAINER)]
    return listing(runs(numbers))


def _into_numbers(entries: Iterable[Entry]) -> str:
    numbers = dict.fromkeys(_number(target) for _, target, _ in _into_containers(entries))
    return listing(runs(numbers))


def pour_filters(units_system: str) -> dict[str, Callable[..., Any]]:
    """Give the filters of templates that put entries into words.

    Parameters
    ----------
    units_system : str
        ``metric`` or ``us``.
    """
    return {
        "litres": litres,
        "poured": _poured(units_system),
        "salted": _salted(units_system),
        "sources": _sources,
        "into_numbers": _into_numbers,
        "by_source": _by_source,
        "by_target": _by_target,
        "by_kind": _by_kind,
        "into": _into,
        "from_containers": _from_containers,
        "from_systems": _from_systems,
        "runs": runs,
        "into_containers": _into_containers,
    }
