"""The example firm, built once for all tests of it, and small firms of its parts."""

from __future__ import annotations

import shutil
from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path
from tempfile import mkdtemp
from unittest.mock import patch

from moveplan.firm import dispatch
from moveplan.firm.day.roads import Roads
from moveplan.firm.day.rounds import bundled
from moveplan.firm.dispatch import outlook_of
from moveplan.firm.outlook import FirmOutlook
from moveplan.firm.placing.one_job import Laid
from moveplan.firm.values import Firm
from moveplan.firm.written import FirmBuilt, write
from moveplan.plan.move import Plan
from moveplan.scheduling.effort import Effort
from moveplan.stages.reading import Settings

EXAMPLES = Path(__file__).parent.parent.parent / "examples" / "firm"
SETTINGS = Settings(effort=Effort(seconds=2.0), runs=500)


@cache
def six_jobs() -> FirmOutlook:
    """Give the example firm with all its jobs scheduled."""
    return _watched()[0]


def rounds() -> tuple[list[Laid], list[Laid]]:
    """Give the jobs of the example firm before and after their visits were put into rounds."""
    return _watched()[1]


@cache
def _watched() -> tuple[FirmOutlook, tuple[list[Laid], list[Laid]]]:
    seen: list[tuple[list[Laid], list[Laid]]] = []

    def watched(firm: Firm, roads: Roads, plans: Mapping[str, Plan], rows: Sequence[Laid]) -> list[Laid]:
        after = bundled(firm, roads, plans, rows)
        seen.append((list(rows), after))
        return after

    with patch.object(dispatch, "bundled", watched):
        outlook = outlook_of(EXAMPLES / "firm.yaml", SETTINGS, jobs=2)
    return outlook, seen[0]


@cache
def built() -> tuple[Path, FirmBuilt]:
    """Write all files of the example firm to a folder of the test run."""
    folder = Path(mkdtemp(prefix="moveplan-firm-"))
    return folder, write(six_jobs(), folder, SETTINGS, jobs=2)


@cache
def too_many() -> FirmOutlook:
    """Give the example with one job too many."""
    return outlook_of(EXAMPLES / "one_too_many.yaml", SETTINGS)


def copied(folder: Path, *changes: tuple[str, str], of: str = "one_too_many.yaml") -> Path:
    """Copy the examples and change the text of a firm file."""
    shutil.copytree(EXAMPLES / "jobs", folder / "jobs")
    text = (EXAMPLES / of).read_text("utf-8")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    path = folder / of
    path.write_text(text, "utf-8")
    return path
