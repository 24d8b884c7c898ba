"""In which locale dates are printed: one that the Common Locale Data Repository has, as read by the library babel."""

from __future__ import annotations

from datetime import date, datetime
from importlib import resources
from pathlib import Path

import pytest
from babel.dates import format_date

from moveplan.errors import PlanFileError
from moveplan.planfile import read_plan

NOW = datetime(2027, 1, 4, 9)  # noqa: DTZ001
PLAN = "title: T\npurpose: own-tasks\ntimezone: {zone}\nstart: 2027-03-01 08:00\ntasks: [{{id: a, duration: 1 h}}]\n"
_ROWS = resources.files("tzdata.zoneinfo").joinpath("zone.tab").read_text("utf-8").splitlines()
ZONES = {row.split("\t")[0]: row.split("\t")[2] for row in _ROWS if not row.startswith("#")}
"""One zone of each country of the IANA time zone database."""


def test_a_keeper_in_any_country_gets_dates_that_can_be_printed(tmp_path: Path) -> None:
    file = tmp_path / "plan.yaml"
    for zone in ZONES.values():
        file.write_text(PLAN.format(zone=zone), "utf-8")
        locale = read_plan(file, NOW).locale
        assert format_date(date(2027, 3, 13), "full", locale=locale), zone
    assert len(ZONES) > 200


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            "inf",
            'plan.yaml:6 locale: no locale is called "inf"; '
            'write a language and a country, or a language alone, such as "en_IE"',
        ),
        (
            "fr_US",
            'plan.yaml:6 locale: no locale is called "fr_US"; '
            'write a language and a country, or a language alone, such as "fr"',
        ),
        ("de-DE", 'plan.yaml:6 locale: "de-DE" is not a locale; write for example "en_IE"'),
    ],
)
def test_a_locale_that_is_none_is_refused(tmp_path: Path, text: str, said: str) -> None:
    file = tmp_path / "plan.yaml"
    file.write_text(PLAN.format(zone="Europe/Dublin") + f"locale: {text}\n", "utf-8")
    with pytest.raises(PlanFileError) as caught:
        read_plan(file, NOW)
    assert str(caught.value).replace(f"{tmp_path}/", "") == said
