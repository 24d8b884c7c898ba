"""From a firm file to a firm, or to everything that is wrong with it."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from pydantic import ValidationError

from moveplan.firm.file.checks import contradictions
from moveplan.firm.file.fill import filled
from moveplan.firm.file.schema import FirmEntry
from moveplan.firm.values import Firm
from moveplan.planfile.beside.content import content_of
from moveplan.planfile.problems import plan_file_error
from moveplan.planfile.sections import by_id
from moveplan.planfile.text import UnreadableError, composed, decoded
from moveplan.planfile.walk import plain
from moveplan.planfile.wording import worded


def read_firm(path: Path, now: datetime | None = None) -> Firm:
    """Read a firm file; its jobs are not read yet.

    Parameters
    ----------
    path : Path
        The file.
    now : datetime or None
        Time asked for on the command line; None: the file's ``as-of``, else the clock.

    Returns
    -------
    Firm
        Complete, with the assumptions listed.

    Raises
    ------
    PlanFileError
        With every problem of the file.
    """
    try:
        root, faults = composed(decoded(content_of(path, "firm")))
    except UnreadableError as error:
        raise plan_file_error(error.faults, str(path)) from None
    faults += by_id(root)
    try:
        entry = FirmEntry.model_validate(plain(root))
    except ValidationError as error:
        details = error.errors(include_url=False, include_input=False)
        raise plan_file_error((*faults, *worded(root, details, FirmEntry)), str(path)) from None
    faults += contradictions(entry, root, path)
    if faults:
        raise plan_file_error(faults, str(path))
    return filled(entry, root, path, now)
