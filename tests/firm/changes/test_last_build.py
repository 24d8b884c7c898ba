"""Whoever is called is called about what the last build told them, and as few jobs as possible change."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

from moveplan.firm.changes.last_build import LastBuild, last_build
from moveplan.firm.changes.record import record
from moveplan.firm.days.question import Sent
from moveplan.firm.dispatch import outlook_of
from moveplan.firm.file.reader import read_firm
from moveplan.firm.values import Out
from tests.firm.firms import EXAMPLES, SETTINGS, built, copied, six_jobs

DAY = date(2027, 5, 8)
ONE_JOB = ("  - {plan: jobs/late_call.yaml, day: 2027-05-08}\n", "")
TOLD = Sent("garden_flat", DAY, ("owen", "jun", "sol"), ("van-two",))


def test_a_build_is_read_back_as_it_was_told() -> None:
    folder, _ = built()
    firm = read_firm(EXAMPLES / "firm.yaml")
    last = last_build(firm, folder / "result.json")
    assert last == LastBuild((), tuple(one.sent for one in six_jobs().placed), ())
    assert last_build(firm, folder / "no-such.json") is None
    assert last_build(firm, folder / "jobs" / "surgery" / "result.json") is None


def test_the_same_records_call_the_same_people_and_further_ones_call_by_what_is_told_by_then() -> None:
    ill = Out("jun", DAY, DAY)
    now = Sent("garden_flat", DAY, ("owen", "petra", "sol"), ("van-two",))
    last = LastBuild((ill,), (now,), (TOLD,))
    assert last.told((ill,)).sent == (TOLD,)
    assert last.told((ill, Out("sol", DAY, DAY))).sent == (now,)


def _told(folder: Path) -> Path:
    """Write a last build by which others go than would be chosen anew; invented."""
    firm = read_firm(folder / "one_too_many.yaml")
    path = folder / "result.json"
    row = {"day": str(DAY), "crew": list(TOLD.crew), "vehicles": list(TOLD.vehicles)}
    data = {"id": firm.id, "purpose": "firm", "out": [], "calls": [], "jobs": [{"id": TOLD.job, **row}]}
    path.write_text(json.dumps(data), "utf-8")
    return path


def test_nobody_is_called_for_somebody_ill_who_was_told_of_no_work(tmp_path: Path) -> None:
    firm = copied(tmp_path, ONE_JOB)
    record(read_firm(firm), "out", "ruth", DAY, DAY)
    outlook = outlook_of(firm, SETTINGS, built=_told(tmp_path))
    assert [one.sent for one in outlook.placed] == [TOLD]
    assert outlook.calls == ()


def test_one_is_called_in_place_of_whoever_is_ill_and_all_else_stays_as_it_was_told(tmp_path: Path) -> None:
    firm = copied(tmp_path, ONE_JOB)
    record(read_firm(firm), "out", "jun", DAY, DAY)
    outlook = outlook_of(firm, SETTINGS, built=_told(tmp_path))
    ((job, told, now),) = outlook.calls
    assert (job, told) == ("garden_flat", TOLD)
    assert now is not None
    assert (now.day, now.vehicles, len(set(now.crew) & set(TOLD.crew))) == (DAY, ("van-two",), 2)
    assert "jun" not in now.crew
