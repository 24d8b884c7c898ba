"""Records of quotes and of kilometres beside the firm file: written, read again, and refused where they are broken."""

from __future__ import annotations

import json
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from moveplan.errors import PlanFileError
from moveplan.firm.changes.kept import driven, keep_km, keep_quote, quotes_kept
from moveplan.firm.changes.record import record, records_of
from moveplan.firm.file.reader import read_firm
from moveplan.firm.price import Price, Quoted, QuoteLine
from moveplan.firm.values import Firm
from tests.firm.firms import copied

JOURNAL = "one_too_many.journal.jsonl"
QUOTED = Quoted(
    Price(
        (QuoteLine("lead", Decimal("2.5"), Decimal(45), Decimal("112.50")),),
        Decimal("112.50"),
        Decimal("22.50"),
        Decimal("31.05"),
        Decimal("166.05"),
    ),
    {"agree-plan": {"ruth": 150.0}},
)


def firm(folder: Path) -> Firm:
    return read_firm(copied(folder))


def test_a_quote_is_read_as_it_was_kept_and_the_last_one_counts(tmp_path: Path) -> None:
    own = firm(tmp_path)
    keep_quote(own, "garden_flat", Quoted(Price((), *4 * [Decimal(1)]), {}))
    keep_quote(own, "garden_flat", QUOTED)
    assert quotes_kept(own) == {"garden_flat": QUOTED}


def test_records_of_all_kinds_stand_in_one_file_and_are_not_mixed_up(tmp_path: Path) -> None:
    own = firm(tmp_path)
    record(own, "out", "sol", date(2027, 5, 8), date(2027, 5, 8))
    keep_quote(own, "garden_flat", QUOTED)
    assert keep_km(own, "garden_flat", "212 km") == 212
    assert keep_km(own, "garden_flat", "10 miles") == pytest.approx(16.09, abs=0.01)
    assert [one.id for one in records_of(own)] == ["sol"]
    assert driven(own) == {"garden_flat": Decimal("16.1")}


@pytest.mark.parametrize(
    ("job", "distance", "said"),
    [
        ("garden-flat", "212 km", "garden_flat"),
        ("garden_flat", "212", "unit"),
        ("garden_flat", "far", "far"),
        ("garden_flat", "-3 km", "-3"),
    ],
)
def test_an_unknown_job_or_no_distance_is_refused_and_nothing_is_written(
    job: str, distance: str, said: str, tmp_path: Path
) -> None:
    own = firm(tmp_path)
    with pytest.raises(PlanFileError, match=said):
        keep_km(own, job, distance)
    assert not (tmp_path / JOURNAL).exists()


@pytest.mark.parametrize(
    "row",
    [
        {"quoted": "garden_flat", "lines": 3},
        {
            "quoted": "garden_flat",
            "lines": [],
            "net": "much",
            "margin": "0",
            "tax": "0",
            "total": "0",
            "work": {},
        },
        {"drove": "garden_flat", "km": "far"},
        {"drove": "garden_flat"},
        {"told": "garden_flat"},
    ],
    ids=["lines", "sum", "km", "no-km", "kind"],
)
def test_a_broken_line_is_told_with_its_number(row: dict[str, object], tmp_path: Path) -> None:
    own = firm(tmp_path)
    keep_km(own, "garden_flat", "5 km")
    path = tmp_path / JOURNAL
    path.write_text(path.read_text("utf-8") + json.dumps({"firm": own.id, **row}) + "\n", "utf-8")
    with pytest.raises(PlanFileError, match="no record of a firm") as caught:
        quotes_kept(own), driven(own)
    assert f"{path}:2" in str(caught.value)
