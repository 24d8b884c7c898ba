"""The bytes of a plan, or of a file that a plan names."""

from __future__ import annotations

import stat
from collections.abc import Iterator
from pathlib import Path

from moveplan.planfile.problems import Fault
from moveplan.planfile.text import MOST_BYTES, Node, UnreadableError
from moveplan.planfile.walk import child


def content_of(path: Path, what: str = "plan") -> bytes:
    """Read a file as far as a sound one could be long.

    Parameters
    ----------
    what : str
        Of which kind it should be, for messages.

    Raises
    ------
    UnreadableError
        Where there is no such file, or it cannot be read.
    """
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            raise UnreadableError([Fault(0, (), "this is not a plain file", f"name a {what} file")])
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


def named_file(
    root: Node, key: str, what: str, folder: Path, faults: list[Fault]
) -> tuple[str, bytes] | None:
    """Read the file that a key of the plan names.

    Parameters
    ----------
    key : str
        Such as ``livestock-file``.
    what : str
        Of which kind it should be, for messages.
    faults : list of Fault
        What is wrong is added here.

    Returns
    -------
    tuple of (str, bytes) or None
        Its name as messages show it, and its content; None where none is named or none can be read.
    """
    node = child(root, key)
    if node is None or not isinstance(node.value, str) or not node.value.strip():
        return None
    path = folder / node.value.strip()
    try:
        return str(path), content_of(path, what)
    except UnreadableError as error:
        faults += _at_key(error, node.line, key)
        return None


def _at_key(error: UnreadableError, line: int, key: str) -> Iterator[Fault]:
    for one in error.faults:
        yield Fault(line, (key,), one.message, one.remedy)
