"""What one line answers for several hold points: who signed which, and what was read for them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from moveplan.errors import PlanFileError
from moveplan.journal.records import Met, Reading, Record
from moveplan.journal.taking.known import Known, refused
from moveplan.journal.waters.readings import ReadingError, as_taken, read_value


@dataclass(frozen=True, slots=True)
class Answers:
    """What one line answers.

    Parameters
    ----------
    signed : Mapping of str to str
        Who signed which hold points, by id.
    reason : str
        Why they were met where something is lacking.
    line : str
        The line that was written, without its answers.
    """

    signed: Mapping[str, str] = field(default_factory=dict)
    reason: str = ""
    line: str = "moveplan record PLAN done TASK --and-before"


NO_ANSWERS = Answers()
_READ = re.compile(r"(?P<what>\S+)\s+(?P<value>.+?)(?:\s+in\s+(?P<water>[^\s/]+))?")


def signers_in(said: Sequence[str]) -> Mapping[str, str]:
    """Read who signed which hold points.

    Examples
    --------
    >>> signers_in(["33,36=Dara", "go-or-no-go=Milo Sayer"])
    {'33': 'Dara', '36': 'Dara', 'go-or-no-go': 'Milo Sayer'}
    """
    found: dict[str, str] = {}
    for one in said:
        names, _, who = one.partition("=")
        points = [name.strip() for name in names.split(",") if name.strip()]
        if not points or not who.strip():
            raise refused(f'"{one}" names no hold points and who signed them', 'write it like "33,36=NAME"')
        found |= dict.fromkeys(points, who.strip())
    return found


def reading_of(what: str, said: str, at: int, system: str, container: str = "") -> Reading:
    """Read what a kit or a meter showed.

    Parameters
    ----------
    what, said, system, container : str
        What was measured, number and unit, and the name of the water, empty where there is one only, or the number of
        the container it was read in.
    at : int
        When, UTC. [min]
    """
    what = what.casefold()
    try:
        value, unit = read_value(what, said)
    except ReadingError as error:
        raise PlanFileError((error.problem,)) from None
    return Reading(
        at=at,
        what=what,
        value=value,
        unit=unit,
        said=as_taken(what, said),
        system=system,
        container=container,
    )


def readings_in(said: Sequence[str]) -> list[Reading]:
    """Read several readings in words, such as ``temperature 25.5 C in reef``; when they were taken is not known yet.

    Examples
    --------
    >>> [(one.what, one.said, one.system) for one in readings_in(["temperature 25.5 C in reef", "ph 8.1"])]
    [('temperature', '25.5 C', 'reef'), ('ph', '8.1', '')]
    """
    found = []
    for one in said:
        parts = _READ.fullmatch(one.strip())
        if parts is None:
            raise refused(f'"{one}" is no reading', 'write it like "temperature 25.5 C"')
        found.append(reading_of(parts["what"], parts["value"], 0, parts["water"] or ""))
    return found


def asked_for(record: Record, known: Known, pool: list[Reading]) -> Iterator[Reading]:
    """Take out of a pool the readings that a hold point asks for, as they were taken when it was signed.

    Parameters
    ----------
    record : Record
        What is to be written; only one that signs asks for anything.
    known : Known
        What the hold point asks for.
    pool : list of Reading
        Those that no hold point has taken yet; what is given is taken out.
    """
    for gate in known.task(record.task).gates if isinstance(record, Met) else ():
        waters = ("", *(gate.waters or known.systems), *((gate.like,) if gate.compares else ()))
        for reading in [one for one in pool if one.what == gate.what and one.system in waters]:
            pool.remove(reading)
            water = reading.system or (gate.system if len(known.systems) > 1 else "")
            yield replace(reading, at=record.at, system=water)
