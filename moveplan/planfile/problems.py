"""Faults of a plan file: where, what, and how to mend it; sorted, worded, counted."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from moveplan.errors import PlanFileError, Problem
from moveplan.near import nearest
from moveplan.units import quoted

MOST_SHOWN = 200
"""Most faults of a plan file that are printed; more nobody reads. [-]"""


@dataclass(frozen=True, slots=True)
class Fault:
    """Something wrong at a line of the plan file.

    Parameters
    ----------
    line : int
        Line, counted from 1; 0 where it concerns the whole file.
    path : tuple of str
        Key path with the keeper's ids.
    message, remedy : str
        What is wrong; how to mend it, empty where nothing is known that would help.
    file : str
        File beside the plan to which the line belongs; empty: the plan itself.
    """

    line: int
    path: tuple[str, ...]
    message: str
    remedy: str = ""
    file: str = ""


class ContradictionError(PlanFileError):
    """Changes to a plan that is sound can be read, and do not go with the rest of it: an answer, not a mistake."""


def where(file_name: str, line: int, key: str) -> str:
    """Write ``FILE:LINE KEY``, as much of it as there is."""
    spot = f"{file_name}:{line}" if line else file_name
    return f"{spot} {key}" if key else spot


def plan_file_error(faults: Iterable[Fault], file_name: str) -> PlanFileError:
    """Put faults in the order of their lines and word them.

    Parameters
    ----------
    faults : iterable of Fault
        At least one.
    file_name : str
        The plan file as the keeper named it.
    """
    ordered = sorted(set(faults), key=lambda fault: (fault.file, fault.line, fault.path, fault.message))
    problems = [
        Problem(fault.message, where(fault.file or file_name, fault.line, ".".join(fault.path)), fault.remedy)
        for fault in ordered[:MOST_SHOWN]
    ]
    more = len(ordered) - len(problems)
    if more:
        problems.append(Problem(f"{more} more problems are not shown", file_name, "mend these first"))
    return PlanFileError(tuple(problems), file_name)


def listed(names: Sequence[str], most: int = 12) -> str:
    """Write names as they stand in a sentence.

    >>> listed(["display", "quarantine"])
    'display, quarantine'
    """
    shown = ", ".join(names[:most])
    return f"{shown} and {len(names) - most} more" if len(names) > most else shown


def unknown(thing: str, text: str, known: Sequence[str]) -> tuple[str, str]:
    """Word a reference to something that is not there.

    >>> unknown("system", "frag", ["display", "quarantine"])
    ('there is no system "frag"; the plan has display, quarantine', '')
    """
    message = f"there is no {thing} {quoted(text)}"
    if not known:
        return message, f"the plan has none; add {quoted(text)} or remove this"
    near = nearest(text, known)
    return (message, f'did you mean "{near}"?') if near else (f"{message}; the plan has {listed(known)}", "")
