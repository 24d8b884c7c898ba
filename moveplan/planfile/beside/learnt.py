"""What an earlier move taught: the file that looking back on it writes."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from moveplan.plan.move import Assumption, Learnt
from moveplan.planfile.beside.content import named_file
from moveplan.planfile.problems import Fault
from moveplan.planfile.text import Node
from moveplan.planfile.walk import child

KEY = "learn"
_LONGEST_MIN = 525_600
"""A year: what a task took that is said to have taken longer was not read right; chosen. [min]"""


def learnt(root: Node, folder: Path, faults: list[Fault]) -> tuple[Learnt | None, tuple[Assumption, ...]]:
    """Read how long work really took.

    Parameters
    ----------
    root : Node
        The plan file.
    folder : Path
        Folder of the plan.
    faults : list of Fault
        What is wrong is added here.

    Returns
    -------
    Learnt or None
        None where no file is named or none can be read.
    tuple of Assumption
        Says where the durations come from.
    """
    found = named_file(root, KEY, "look-back", folder, faults)
    if found is None:
        return None, ()
    try:
        made = _made(json.loads(found[1]))
    except (ValueError, LookupError, TypeError, AttributeError, RecursionError):
        node = child(root, KEY)
        remedy = "write it with: moveplan look-back PLAN --json > learnt.json"
        faults.append(Fault(node.line if node else 0, (KEY,), "this is not what look-back writes", remedy))
        return None, ()
    value = f"{len(made.tasks)} measured tasks of {Path(found[0]).name}"
    why = "work takes as much longer or shorter than usual as it did then, each kind of task for itself"
    return made, (Assumption(KEY, value, why),)


def _made(data: Any) -> Learnt:
    if data["format"] != 1:
        raise ValueError
    rows = tuple(
        (
            str(row["task"]),
            _minutes(row.get("usual_minutes", row["planned_minutes"])),
            _minutes(row["real_minutes"]),
        )
        for row in data["tasks"]
        if "real_minutes" in row and row["planned_minutes"]
    )
    paces = {str(name).replace("-", "_"): float(factor) for name, factor in data["policy"].items()}
    if not all(0.1 <= factor <= 10.0 for factor in paces.values()):
        raise ValueError
    return Learnt(rows, paces)


def _minutes(value: Any) -> int:
    minutes = int(value)
    if not 0 <= minutes <= _LONGEST_MIN:
        raise ValueError
    return minutes
