"""What a keeper reads is told in the keeper's units: every quantity of the outputs, read back."""

from __future__ import annotations

import html
import re
from pathlib import Path

import pytest

from moveplan.cli.terminal.findings import print_checks
from moveplan.cli.terminal.screen import print_schedule, print_why
from moveplan.outputs.calendar.export import calendar_bytes
from moveplan.outputs.calendar.options import CalendarOptions
from moveplan.outputs.data.table import tasks_csv
from moveplan.outputs.documents.checklist import checklist_md
from moveplan.outputs.documents.page import page_html
from moveplan.outputs.documents.shopping import shopping_md
from moveplan.outputs.documents.summary import summary_md
from moveplan.outputs.wording.facts import facts_of
from moveplan.pipeline import Settings, judge, outlook_of
from moveplan.scheduling.effort import Effort
from tests.examples import scheduled

EXAMPLES = Path(__file__).parents[2] / "examples"
METRIC = (
    "l",
    "ml",
    "l/h",
    "l/day",
    "kg",
    "g",
    "g/day",
    "m",
    "cm",
    "mm",
    "km",
    "°C",
    "C",
    "K",
    "kPa",
    "bar",
    "daN",
    "l/min",
    "kg/m³",
    "kg/l",
    "W/K",
)
US = (
    "US gal",
    "US gal/h",
    "US gal/day",
    "lb",
    "miles",
    "mph",
    "°F",
    "F",
    "psi",
    "lb/ft²",
    "lbf",
    "US gal/min",
    "lb/ft³",
)
SPELT = {
    METRIC: re.compile(
        r"(?i)(?<!mg to a )\b(?:milli)?(?:litre|liter)s?\b|\b(?:centi|milli|kilo)?metres?\b|\bkilograms?\b|\(°C\)"
    ),
    US: re.compile(r"(?i)\bgallons?\b|\binch(?:es)?\b|\bfeet\b(?! of tubs)|\bpounds?\b|\bmiles?\b|\(°F\)"),
}
"""Units in words. [-]"""
SOURCES = re.compile(r"asks for 0\.8 g forward")
"""An acceleration, and it stands in the title of a standard's rule. [-]"""


def quantities(text: str, units: tuple[str, ...]) -> list[str]:
    """Find numbers with one of some units behind them."""
    names = "|".join(sorted(map(re.escape, units), key=len, reverse=True))
    found = re.finditer(
        rf"(?<![\w.,/-])[−-]?\d[\d.,]*(?: to [−-]?\d[\d.,]*)?\s(?:{names})(?![\w/²³°])", SOURCES.sub("", text)
    )
    return [one.group() for one in (*found, *(SPELT[units].finditer(text) if units in SPELT else ()))]


def _words(page: str) -> str:
    page = re.sub(r"<(script|style|template).*?</\1>", " ", page, flags=re.DOTALL)
    return html.unescape(re.sub(r"<[^>]+>", " ", page))


@pytest.mark.parametrize(("name", "foreign"), [("short_plan", METRIC), ("small_tank_move", US)])
def test_checklist_and_summary_hold_no_quantity_of_the_other_system(
    name: str, foreign: tuple[str, ...]
) -> None:
    outlook = judge(*scheduled(name), Settings(runs=200))
    own = US if foreign is METRIC else METRIC
    for text in (checklist_md(outlook), summary_md(outlook)):
        assert len(quantities(text, own)) > 5
        assert quantities(text, foreign) == []


@pytest.mark.parametrize(("name", "foreign"), [("short_plan", METRIC), ("small_tank_move", US)])
def test_the_list_and_the_run_sheets_of_the_page_hold_none_either(
    name: str, foreign: tuple[str, ...]
) -> None:
    page = page_html(judge(*scheduled(name), Settings(runs=200)))
    for part in ("todo", "sheets", "risk", "day"):
        found = re.search(rf'<section id="{part}".*?(?=<section id="(?!list-)|</main>)', page, re.DOTALL)
        assert found is not None, part
        assert quantities(_words(found.group()), foreign) == [], part


OTHER_UNITS_TOO = re.compile(r'<section id="labels".*?(?=<section id="(?!list-)|</main>)', re.DOTALL)
"""Labels say both: who helps may know only the other. [-]"""
AS_SOLD = re.compile(r"(?<= (?:lb|in)) \([\d.]+ (?:kg|m)\)|(?<= US gal) \([\d.]+ l\)")
"""The shopping list says by which size a thing is sold, behind the keeper's own units. [-]"""


@pytest.mark.parametrize(("name", "foreign"), [("short_plan", METRIC), ("small_tank_move", US)])
def test_no_output_holds_one_the_bill_the_shopping_list_and_the_calendar_included(
    name: str, foreign: tuple[str, ...]
) -> None:
    outlook = judge(*scheduled(name), Settings(runs=200))
    page = _words(OTHER_UNITS_TOO.sub(" ", page_html(outlook)))
    calendar = calendar_bytes(outlook, None, CalendarOptions(every_task=True)).data.decode("utf-8")
    unfolded = calendar.replace("\r\n ", "")
    list_of_things = AS_SOLD.sub("", shopping_md(outlook))
    for text in (page, list_of_things, tasks_csv(outlook).decode("utf-8"), unfolded):
        assert quantities(text, foreign) == []
    own = US if foreign is METRIC else METRIC
    (bill,) = re.findall(r'<section id="cost".*?</section>', page_html(outlook), re.DOTALL)
    assert len(quantities(_words(bill), own)) > 5
    assert quantities(shopping_md(outlook), own)


def test_masses_that_were_given_come_back_as_given(capsys: pytest.CaptureFixture[str]) -> None:
    print_checks([scheduled("short_plan")[0]], as_json=False)
    said = capsys.readouterr().out
    assert "45 lb of dry rock" in said
    assert "40 lb of sand" in said


POINTED = re.compile(r"(?<![\w.,:/-])\d+\.\d+(?!\d*[.:,]\d)(?= \S)")
"""A number with a decimal point, and no date, version or moment. [-]"""


def test_numbers_have_the_decimal_sign_of_the_locale_everywhere(tmp_path: Path) -> None:
    plan = tmp_path / "komma.yaml"
    text = (EXAMPLES / "small_tank_move.yaml").read_text("utf-8")
    plan.write_text(text.replace("locale: en_IE", "locale: de_DE"), "utf-8")
    outlook = outlook_of(plan, Settings(runs=200, effort=Effort(seconds=0.2)))
    page = page_html(outlook)
    written = re.compile(r"</code></td><td>.*?</td>")  # what a plan file would hold has a point everywhere
    for words in (_words(written.sub(" ", page)), checklist_md(outlook), shopping_md(outlook)):
        assert POINTED.findall(SOURCES.sub("", words)) == []
    loads = re.findall(r'<section class="load.*?</section>', page, re.DOTALL)
    assert re.search(r"<text[^>]*>\d+,\d kg</text>", loads[0])


@pytest.mark.parametrize("name", ["short_plan", "small_tank_move"])
def test_labels_say_every_volume_in_both_systems(name: str) -> None:
    found = OTHER_UNITS_TOO.search(page_html(judge(*scheduled(name), Settings(runs=0))))
    assert found is not None
    volumes = re.findall(
        r"[\d.]+ (?:l|US gal)\b(?! \w*\))(?: \([\d.]+ (?:l|US gal)\))?", _words(found.group())
    )
    assert len(volumes) > 3
    assert [one for one in volumes if not one.endswith(")")] == []


def test_a_plan_that_cannot_be_done_and_its_ways_out_hold_none_either(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plan = tmp_path / "far.yaml"
    plan.write_text(
        (EXAMPLES / "short_plan.yaml").read_text("utf-8").replace("22 miles", "600 miles"), "utf-8"
    )
    outlook = outlook_of(plan, Settings(runs=200, effort=Effort(seconds=0.2)))
    assert any(
        "air-temperature" in key for one in outlook.problems for way in one.ways for key, _ in way.writes
    )
    print_checks([outlook.project], as_json=False)
    print_schedule(outlook, as_json=False)
    page = _words(OTHER_UNITS_TOO.sub(" ", page_html(outlook)))
    for text in (capsys.readouterr().out, page, checklist_md(outlook), summary_md(outlook)):
        assert quantities(text, US)
        assert quantities(text, METRIC) == []


@pytest.mark.parametrize(("name", "foreign"), [("short_plan", METRIC), ("small_tank_move", US)])
def test_check_show_and_every_why_hold_none_either(
    name: str, foreign: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    project, schedule = scheduled(name)
    outlook = judge(project, schedule, Settings(runs=0))
    print_checks([project], as_json=False)
    print_schedule(outlook, as_json=False)
    for task in project.network.tasks:
        print_why(outlook, task.id, as_json=False)
    said = capsys.readouterr().out
    assert len(quantities(said, US if foreign is METRIC else METRIC)) > 100
    assert quantities(said, foreign) == []


@pytest.mark.parametrize("name", ["short_plan", "small_tank_move"])
def test_quantity_times_unit_price_is_the_amount_in_either_system(name: str) -> None:
    """To what the printed figures are rounded to."""
    outlook = judge(*scheduled(name), Settings(runs=200))
    assert outlook.cost is not None
    facts = facts_of(outlook.project)
    for line in outlook.cost.lines:
        quantity, price = (_number(text) for text in facts.billed(line))
        assert abs(quantity * price - float(line.amount)) <= 0.006 + 0.006 * abs(price) + 0.0006 * abs(
            quantity
        ) + (0.006 * abs(quantity) if abs(price) >= 1 else 0)


def _number(text: str) -> float:
    found = re.search(r"[\d.,]+", text)
    assert found is not None
    sign = -1 if text.startswith(("−", "-")) else 1
    return sign * float(found[0].replace(",", ""))


def test_the_reader_of_quantities_finds_them() -> None:
    assert quantities("2 kPa, −5 °C, 0.5 mg/l, 10 m, 20 g/l, 1.8 °F", METRIC) == ["2 kPa", "−5 °C", "10 m"]
    assert quantities("one litre, 3 to 4 l, (°C)", METRIC) == ["3 to 4 l", "litre", "(°C)"]
    assert quantities("4 US gal at 77.9 °F, 12 lb/ft²", US) == ["4 US gal", "77.9 °F", "12 lb/ft²"]
