"""The id of a plan at a glance, without reading all of it; whoever glances in vain reads the plan in full."""

from __future__ import annotations

import re
from pathlib import Path
from uuid import NAMESPACE_URL, uuid5

_GLANCED_BYTES = 65_536
"""How far into a file is looked for the plan's id. Chosen. [byte]"""
_ID = re.compile(r"^id:[ \t]+([A-Za-z0-9][A-Za-z0-9._-]*)[ \t]*(?:#.*)?$", re.MULTILINE)
_TITLE = re.compile(
    r"^title:[ \t]+([A-Za-z0-9][A-Za-z0-9 .,()_-]*[A-Za-z0-9.)])[ \t]*$\n(?=\S|\Z)", re.MULTILINE
)


def glanced_id(path: Path) -> str | None:
    """Find the id of a plan in its first lines.

    Parameters
    ----------
    path : Path
        The plan file.

    Returns
    -------
    str or None
        None where a glance does not tell.
    """
    try:
        with path.open("rb") as file:
            text = file.read(_GLANCED_BYTES).decode("utf-8-sig").replace("\r\n", "\n")
    except (OSError, UnicodeDecodeError, ValueError):
        return None
    found = _ID.findall(text)
    if len(found) == 1 and not text.startswith("{"):
        return str(found[0])
    titles = _TITLE.findall(text)
    top = re.search(r"^[\"']?id\b", text, re.MULTILINE)
    if top is None and len(titles) == 1 and len(text) < _GLANCED_BYTES and not text.startswith("{"):
        return str(uuid5(NAMESPACE_URL, f"moveplan:{titles[0]}"))
    return None
