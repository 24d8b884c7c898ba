"""From a plan file to a plan, or to everything that is wrong with it."""

from __future__ import annotations

import stat
from datetime import datetime
from pathlib import Path

from moveplan.plan.move import Plan
from moveplan.planfile.crosschecks import crosschecked
from moveplan.planfile.draft import drafted
from moveplan.planfile.fill import filled
from moveplan.planfile.problems import Fault, plan_file_error
from moveplan.planfile.sections import by_id
from moveplan.planfile.text import MOST_BYTES, UnreadableError, composed, decoded


def read_plan(path: Path, now: datetime | None = None) -> Plan:
    """Read a plan file.

    Parameters
    ----------
    path : Path
        The file. [-]
    now : datetime or None
        Time asked for on the command line; without an offset it is in the plan's zone. Otherwise the plan's
        ``as-of`` counts, else the clock. [-]

    Returns
    -------
    Plan
        Complete, with the assumptions listed. [-]

    Raises
    ------
    PlanFileError
        With every problem of the file.
    """
    try:
        root, faults = composed(decoded(_content(path)))
    except UnreadableError as error:
        raise plan_file_error(error.faults, str(path)) from None
    faults += by_id(root)
    draft, more = drafted(root, now)
    faults += more
    faults += crosschecked(draft)
    if faults:
        raise plan_file_error(faults, str(path))
    return filled(draft, path.name)


def _content(path: Path) -> bytes:
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            raise UnreadableError([Fault(0, (), "this is not a plain file", "name a plan file")])
        with path.open("rb") as file:
            return file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise UnreadableError(
            [Fault(0, (), "there is no such file", "look at the name and the folder")]
        ) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise UnreadableError(
            [Fault(0, (), f"the file cannot be read ({reason})", "look at its permissions")]
        ) from None
