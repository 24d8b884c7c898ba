"""A morning's change: a record, what follows from it, and back again."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from moveplan.errors import PlanFileError
from moveplan.firm.changes.record import record, records_of
from moveplan.firm.dispatch import outlook_of
from moveplan.firm.file.reader import read_firm
from tests.firm.firms import SETTINGS, copied

DAY = date(2027, 5, 8)
ONE_JOB = ("  - {plan: jobs/late_call.yaml, day: 2027-05-08}\n", "")


def test_somebody_ill_on_a_moving_day_is_replaced_and_who_has_to_be_called_is_said(tmp_path: Path) -> None:
    path = copied(tmp_path, ONE_JOB)
    before = outlook_of(path, SETTINGS).placed[0].sent
    firm = read_firm(path)
    ill = next(one for one in before.crew if not firm.worker(one).helper.lead)
    record(firm, "out", ill, DAY, DAY)
    after = outlook_of(path, SETTINGS)
    sent = after.placed[0].sent
    assert sent.day == DAY
    assert ill not in sent.crew
    assert len(set(sent.crew) - set(before.crew)) == 1
    assert [(job, told.crew) for job, told, _ in after.calls] == [("garden_flat", before.crew)]
    record(firm, "back", ill, DAY, DAY)
    assert records_of(firm) == ()
    assert outlook_of(path, SETTINGS).placed[0].sent == before


def test_a_record_of_somebody_unknown_says_who_there_is(tmp_path: Path) -> None:
    firm = read_firm(copied(tmp_path))
    with pytest.raises(PlanFileError, match="there is no person or vehicle"):
        record(firm, "out", "nobody", DAY, DAY)
    with pytest.raises(PlanFileError, match="is before"):
        record(firm, "out", "Sol", DAY, date(2027, 5, 7))


def test_a_first_name_is_enough(tmp_path: Path) -> None:
    firm = read_firm(copied(tmp_path))
    assert record(firm, "out", "Sol", DAY, DAY).id == "sol"
    assert [one.id for one in records_of(firm)] == ["sol"]


def test_a_record_of_another_firm_is_refused(tmp_path: Path) -> None:
    path = copied(tmp_path)
    firm = read_firm(path)
    record(firm, "out", "sol", DAY, DAY)
    path.write_text(path.read_text("utf-8").replace(firm.id, "another-firm"), "utf-8")
    with pytest.raises(PlanFileError, match="of the firm"):
        records_of(read_firm(path))
