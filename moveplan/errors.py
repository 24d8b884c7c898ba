"""What can go wrong, as values and as exceptions; each exception has one exit status."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong, in the keeper's words.

    Parameters
    ----------
    message : str
        What is wrong, without the place. [-]
    where : str
        ``FILE:LINE KEY`` or as much of it as is known; empty where no place fits. [-]
    remedy : str
        How to mend it; empty where nothing is known that would help. [-]
    """

    message: str
    where: str = ""
    remedy: str = ""

    def __str__(self) -> str:
        text = f"{self.where}: {self.message}" if self.where else self.message
        if not self.remedy:
            return text
        return (
            f"{text} {self.remedy[:1].upper()}{self.remedy[1:]}"
            if text.endswith("?")
            else f"{text}; {self.remedy}"
        )


@dataclass(frozen=True, slots=True)
class Fault:
    """A promise that a result breaks: a mistake of the program, never of the plan. Words are made where it is told.

    Parameters
    ----------
    code : str
        Which promise, as in ``templates/terminal/faults.toml``. [-]
    ids : tuple of str
        What breaks it that is no task: a person, a vehicle, gear, a day, an account. [-]
    values : tuple of float
        Found and promised, in the unit that the words of the code name. [-]
    tasks : tuple of str
        Ids of the tasks concerned, the one that stands wrong first. [-]
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
        Every problem found, sorted by place. [-]
    file_name : str
        The file they stand in. [-]
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
        The reasons, with the ways out as remedies. [-]
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
        Every promise that is broken. [-]
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
        Name of the argument, with its unit as suffix, such as ``temperature_c``. [-]
    value : object
        The value that was given. [-]
    low, high : float
        The range, in the unit of the argument. [-]
    source : str
        Where the range comes from. [-]
    """

    def __init__(self, argument: str, value: object, low: float, high: float, source: str) -> None:
        super().__init__(f"{argument} = {value} is outside {low:g} to {high:g} ({source})")
        self.argument = argument
        self.value = value
        self.low = low
        self.high = high
        self.source = source
