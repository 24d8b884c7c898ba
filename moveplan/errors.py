"""What can go wrong, as values and as exceptions; each exception has one exit status."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

INTERRUPTED = 130
"""Exit status of a command that was interrupted: 128 and the number of the signal, as shells have it. [-]"""


@dataclass(frozen=True, slots=True)
class WayOut:
    """One thing that would make a plan possible, or safe.

    Parameters
    ----------
    text : str
        What to do.
    price : str
        What it takes: hours of people, days of hire, what comes of it; empty where that is not known.
    tried : bool
        Whether the program has carried it out and found that it works.
    writes : tuple of (str, str)
        Keys of the plan file, and what to write there; empty where the keeper has to choose.
    remain : int
        How many other reasons against the plan there still are when this one is ended by it. [-]
    """

    text: str
    price: str = ""
    tried: bool = True
    writes: tuple[tuple[str, str], ...] = ()
    remain: int = 0

    def __str__(self) -> str:
        return f"{self.text} ({self.price})" if self.price else self.text


@dataclass(frozen=True, slots=True)
class Lack:
    """Time that is missing, as it is drawn: what has to happen from a moment on, and when it must be over.

    Parameters
    ----------
    sentence : str
        What is missing, in one sentence.
    begin, end : int
        From when to when there is time, UTC; the end lies before the begin where it is too late already. [min]
    needed_min : int
        What is asked for in that time. [min]
    there_min : int
        What there is. [min]
    parts : tuple of (str, int)
        What takes the time, each with its minutes, in order. [min]
    """

    sentence: str
    begin: int
    end: int
    needed_min: int
    there_min: int
    parts: tuple[tuple[str, int], ...] = ()

    @property
    def short_min(self) -> int:
        """How much is missing. [min]."""
        return self.needed_min - self.there_min


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong, in the keeper's words.

    Parameters
    ----------
    message : str
        What is wrong, without the place.
    where : str
        ``FILE:LINE KEY`` or as much of it as is known; empty where no place fits.
    remedy : str
        How to mend it; empty where nothing is known that would help.
    ways : tuple of WayOut
        The same one by one, where there are several or one was tried.
    lack : Lack or None
        Time that is missing; None where it is about something else.
    """

    message: str
    where: str = ""
    remedy: str = ""
    ways: tuple[WayOut, ...] = ()
    lack: Lack | None = None

    def __str__(self) -> str:
        text = f"{self.where}: {self.message}" if self.where else self.message
        if not self.remedy:
            return text
        return (
            f"{text} {self.remedy[:1].upper()}{self.remedy[1:]}"
            if text.endswith("?")
            else f"{text}; {self.remedy}"
        )


def in_key(where: str) -> str:
    """Say in which key of the plan file something stands, to go on a sentence; nothing where no single one is named.

    >>> in_key("plan.yaml:7 vehicles.van.hire"), in_key("plan.yaml:7"), in_key("plan.yaml:3 and plan.yaml:9")
    (' in vehicles.van.hire', '', '')
    """
    key = where.partition(" ")[2]
    return f" in {key}" if "." in key and " " not in key else ""


def written(way: WayOut) -> str:
    """Say a way out by what to write.

    >>> written(WayOut("everything in one day", "settled by 2027-03-13 20:00", True, (("way", "same-day"),)))
    'write "way: same-day" (everything in one day; tried: settled by 2027-03-13 20:00)'
    """
    keys = " and ".join(f'"{key}: {value}"' for key, value in way.writes)
    found = f"tried: {way.price}" if way.tried else "not tried"
    return f"write {keys} ({way.text}; {found})"


def one_by_one(problem: Problem) -> tuple[WayOut, ...]:
    """Give the ways out of a problem; one that nobody tried where only a remedy is known."""
    untried = (WayOut(problem.remedy, tried=False),) if problem.remedy else ()
    return problem.ways or untried


@dataclass(frozen=True, slots=True)
class Fault:
    """A promise that a result breaks: a mistake of the program, never of the plan. Words are made where it is told.

    Parameters
    ----------
    code : str
        Which promise, as in ``templates/terminal/faults.toml``.
    ids : tuple of str
        What breaks it that is no task: a person, a vehicle, gear, a day, an account.
    values : tuple of float
        Found and promised, in the unit that the words of the code name.
    tasks : tuple of str
        Ids of the tasks concerned, the one that stands wrong first.
    """

    code: str
    ids: tuple[str, ...] = ()
    values: tuple[float, ...] = ()
    tasks: tuple[str, ...] = ()


class MoveplanError(Exception):
    """Anything the program expects to go wrong; never shown with a traceback."""

    exit_status: ClassVar[int] = 1


class PlanFileError(MoveplanError):
    """The command line or the plan file is wrong.

    Parameters
    ----------
    problems : tuple of Problem
        Every problem found, sorted by place.
    """

    exit_status = 2

    def __init__(self, problems: tuple[Problem, ...], file_name: str = "") -> None:
        super().__init__("\n".join(map(str, problems)))
        self.problems = problems
        self.file_name = file_name


class CannotBeDoneError(MoveplanError):
    """The plan is sound but cannot be carried out as written.

    Parameters
    ----------
    problems : tuple of Problem
        The reasons, with the ways out as remedies.
    """

    exit_status = 1

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__("\n".join(map(str, problems)))
        self.problems = problems


class FaultError(MoveplanError):
    """A result breaks a promise of the program and is not given out; nothing is written.

    Parameters
    ----------
    faults : tuple of Fault
        Every promise that is broken.
    """

    exit_status = 1

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__("\n".join(map(str, faults)))
        self.faults = faults


class OutputError(MoveplanError):
    """An output could not be written; nothing half-written is left."""

    exit_status = 3


class OutOfRangeError(MoveplanError):
    """A value lies outside the range in which a formula holds.

    Parameters
    ----------
    argument : str
        Name of the argument, with its unit as suffix, such as ``temperature_c``.
    value : object
        The value that was given.
    low, high : float
        The range, in the unit of the argument.
    source : str
        Where the range comes from.
    """

    def __init__(self, argument: str, value: object, low: float, high: float, source: str) -> None:
        super().__init__(f"{argument} = {value} is outside {low:g} to {high:g} ({source})")
        self.argument = argument
        self.value = value
        self.low = low
        self.high = high
        self.source = source
