"""What people were told by the last build of a firm, from its ``result.json``: calls are about that."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from moveplan.firm.days.question import Answer, DayStatus, Sent
from moveplan.firm.values import Firm, Out


@dataclass(frozen=True, slots=True)
class LastBuild:
    """Days, crews and vehicles of a build.

    Parameters
    ----------
    out : tuple of Out
        Who and what was recorded as not there by then.
    sent : tuple of Sent
        Who and what goes to which job, on which day.
    called : tuple of Sent
        What was told before that, of jobs that changed by what was recorded.
    """

    out: tuple[Out, ...]
    sent: tuple[Sent, ...]
    called: tuple[Sent, ...]

    def told(self, out: Iterable[Out]) -> Answer:
        """Say what people were told before something was recorded; the same records call the same people.

        Parameters
        ----------
        out : iterable of Out
            Who and what is recorded as not there now.
        """
        called = {one.job: one for one in self.called} if set(out) == set(self.out) else {}
        rows = {one.job: one for one in self.sent} | called
        return Answer(DayStatus.FEASIBLE, tuple(rows.values()))


def last_build(firm: Firm, path: Path) -> LastBuild | None:
    """Read the last build of a firm; None where there is none, or it is of another firm.

    Parameters
    ----------
    firm : Firm
        Whose it has to be.
    path : Path
        Its ``result.json``.
    """
    try:
        built = json.loads(path.read_text("utf-8"))
        if (built["id"], built["purpose"]) != (firm.id, "firm"):
            return None
        jobs = {one.id for one in firm.jobs}
        return LastBuild(
            tuple(Out(row["id"], _day(row["first"]), _day(row["last"])) for row in built["out"]),
            tuple(_sent(row["id"], row) for row in built["jobs"] if "day" in row and row["id"] in jobs),
            tuple(_sent(row["job"], row["told"]) for row in built["calls"] if row["job"] in jobs),
        )
    except (OSError, ValueError, KeyError, TypeError):
        return None


def _sent(job: str, row: Mapping[str, Any]) -> Sent:
    return Sent(job, _day(row["day"]), tuple(row["crew"]), tuple(row["vehicles"]))


def _day(text: str) -> date:
    return date.fromisoformat(text)
