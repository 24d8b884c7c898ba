"""Closes the accounts of any plan from ``result.json`` alone; imports nothing of the program.

Run as ``python -m tests.ledger.checker result.json``: prints each fault on a line of its own, and ends with status 1
if there is any. Besides what the form demands it reads, where they are stated: ``starts_full``, ``ends_full`` and
``given_up`` of a system, ``battery_minutes`` of gear, ``from`` and ``until`` of what a container holds,
``air_celsius`` of a point of a path, ``circuit_watts`` of power, ``container`` of a load's item, and ``ledger.food``.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

from tests.ledger.animals import of_animals
from tests.ledger.comfort import of_comfort
from tests.ledger.common import Fault, Result
from tests.ledger.form import of_form
from tests.ledger.vessels import of_vessels
from tests.ledger.waters import of_water

PLANNED = ("ok", "tight", "unsafe")
"""Statuses of a result that holds a plan to carry out."""
WITHOUT = ("own-tasks", "firm")
"""Purposes that move no water of their own."""


def faults(result: Result) -> list[Fault]:
    """Every account that does not close; faults of form hide the rest."""
    if result["status"] not in PLANNED or result["purpose"] in WITHOUT:
        return []
    formal = list(of_form(result))
    if formal:
        return formal
    return [fault for part in (of_water, of_vessels, of_animals, of_comfort) for fault in part(result)]


def ledger_faults(result: Result) -> list[Fault]:
    """The same for what any version wrote: format 1 has no ledger."""
    return faults(result) if result["format"] > 1 else []


def main(path: str) -> int:
    """Check one file."""
    found = faults(json.loads(Path(path).read_text(encoding="utf-8")))
    sys.stdout.write("".join(f"{fault}\n" for fault in found))
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
