"""What can be reached from where, whatever the steps are."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable
from typing import TypeVar

T = TypeVar("T", bound=Hashable)


def reached(begin: Iterable[T], onwards: Callable[[T], Iterable[T]]) -> set[T]:
    """Find all that steps lead to from some beginnings; a beginning itself only where steps lead back to it.

    Parameters
    ----------
    onwards : callable
        What one step leads to.

    >>> sorted(reached([1], lambda at: [at + 1, 2] if at < 4 else []))
    [2, 3, 4]
    """
    found, left = set[T](), list(begin)
    while left:
        new = set(onwards(left.pop())) - found
        found |= new
        left += new
    return found
