"""A plan's journal, opened with as little reading as possible."""

from __future__ import annotations

import time
from dataclasses import dataclass
from pathlib import Path
from zoneinfo import ZoneInfo

from moveplan.cli.options import moment
from moveplan.errors import MoveplanError
from moveplan.journal.file.agreed import agreed
from moveplan.journal.file.identity import glanced_id
from moveplan.journal.file.kept import snapshot_of
from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.file.store import Journal, read_journal
from moveplan.journal.records import Accepted
from moveplan.journal.state import JournalState, state_of
from moveplan.times import to_minutes


@dataclass(frozen=True, slots=True)
class Diary:
    """A journal with what it adds up to.

    Parameters
    ----------
    state : JournalState
        What they add up to.
    now_said : str
        What ``--now`` said; empty: nothing.
    """

    plan: Path
    journal: Journal
    state: JournalState
    now_said: str

    def snapshot(self, accepted: Accepted | None = None) -> Snapshot:
        """Read an accepted schedule, by default the one in force; refuses where there is none."""
        if not self.state.accepted:
            raise NothingAcceptedError(self.plan)
        chosen = accepted or self.state.accepted[-1]
        return snapshot_of(chosen.schedule, self.journal.path.name)

    def agreed(self) -> Snapshot:
        """Put together what was last agreed of each task before it was begun; refuses where nothing was accepted."""
        return agreed([self.snapshot(one) for one in self.state.accepted] or [self.snapshot()], self.state)

    def now(self, zone: ZoneInfo) -> int:
        """Tell the moment that counts as now: what was said, else the clock; never before the last record."""
        said = moment(self.now_said)
        if said is not None:
            return to_minutes(said if said.tzinfo else said.replace(tzinfo=zone))
        return max(int(time.time() // 60), self.state.last or 0)

    def gone_back_min(self, zone: ZoneInfo) -> int:
        """By how much the moment that counts as now lies before the last record. [min]."""
        said = moment(self.now_said)
        now = self.now(zone) if said is not None else int(time.time() // 60)
        return max((self.state.last or now) - now, 0)


class NothingAcceptedError(MoveplanError):
    """No schedule was accepted yet."""

    def __init__(self, plan: Path) -> None:
        super().__init__(f'no schedule was accepted yet; run "moveplan record {plan} accept" first')


def plan_id_of(plan: Path) -> str:
    """Find the id of a plan, at a glance where that is enough."""
    found = glanced_id(plan)
    if found is not None:
        return found
    from moveplan.planfile.reader import read_plan

    return read_plan(plan).id


def open_diary(plan: Path, now: str) -> Diary:
    """Open the journal of a plan.

    Parameters
    ----------
    now : str
        What ``--now`` said.
    """
    journal = read_journal(plan, plan_id_of(plan))
    return Diary(plan, journal, state_of(journal.entries), now)
