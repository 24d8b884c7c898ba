"""Values that cannot be read, each with what is wrong and what to write instead."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import TypeVar

Row = TypeVar("Row")
Value = TypeVar("Value")


@dataclass(frozen=True, slots=True)
class Refusal:
    """One thing wrong with a value.

    Parameters
    ----------
    message, remedy : str
        What is wrong; what to write instead.
    path : tuple of str
        Keys below the value at which it lies.
    instead : tuple of str
        Whole values that may have been meant, the nearest first.
    around : str
        What was understood, with ``{}`` where the word goes that was not; empty where nothing was.
    """

    message: str
    remedy: str
    path: tuple[str, ...] = ()
    instead: tuple[str, ...] = ()
    around: str = ""


class RefusedError(Exception):
    """A value that cannot be read.

    Parameters
    ----------
    refusals : tuple of Refusal
        Everything that is wrong with it.
    """

    def __init__(self, refusals: tuple[Refusal, ...]) -> None:
        super().__init__("; ".join(refusal.message for refusal in refusals))
        self.refusals = refusals


def refusal(message: str, remedy: str = "", *path: str) -> RefusedError:
    """Word a value that cannot be read."""
    return RefusedError((Refusal(message, remedy, path),))


@contextmanager
def below(*path: str) -> Iterator[None]:
    """Let refusals from within point at keys below the value."""
    try:
        yield
    except RefusedError as error:
        deeper = tuple(replace(one, path=(*path, *one.path)) for one in error.refusals)
        raise RefusedError(deeper) from None


def each(read: Callable[[Row], Value], rows: Iterable[Row]) -> tuple[Value, ...]:
    """Read every row, and refuse all that cannot be read at once.

    >>> each(int, ["1", "2"])
    (1, 2)
    """
    values: list[Value] = []
    refusals: list[Refusal] = []
    for row in rows:
        try:
            values.append(read(row))
        except RefusedError as error:
            refusals += error.refusals
    if refusals:
        raise RefusedError(tuple(refusals))
    return tuple(values)
