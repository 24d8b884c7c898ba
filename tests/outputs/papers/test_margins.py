from __future__ import annotations

import re

from moveplan.outputs.agenda import agenda
from moveplan.outputs.outlook import Outlook, Verdict
from moveplan.outputs.papers.margins import css_string, margin_rules
from moveplan.outputs.papers.run_sheets import run_sheets_of
from tests.examples import scheduled
from tests.outputs.hostile import NAMES, hostile
from tests.outputs.scene import moving_day


def test_every_page_names_the_plan_and_each_sheet_whose_it_is() -> None:
    outlook = moving_day()
    sheets = run_sheets_of(outlook, agenda(outlook))
    rules = margin_rules(outlook, sheets)
    assert "plan of Mon, 1 Mar, 09:00" in rules
    for sheet in sheets:
        assert f"Run sheet {sheet.number}: {sheet.person.name}, Sat, 22 May" in rules
        assert f".sheet-{sheet.number} {{ page:sheet-{sheet.number} }}" in rules


def test_phone_numbers_and_addresses_of_an_example_stand_on_every_page() -> None:
    project, schedule = scheduled("house_move_with_gap")
    rules = margin_rules(Outlook(project, project.plan.now, Verdict.OK, (), schedule), ())
    assert all(place.address for place in project.plan.places)
    assert css_string("; ".join(place.address for place in project.plan.places)) in rules
    (hire,) = [one for one in project.plan.contacts if "hire" in one.role]
    assert css_string(f"{hire.name} {hire.phone}").strip('"') in rules


def test_a_name_ends_neither_its_string_nor_the_style() -> None:
    for name in NAMES:
        inside = css_string(name)[1:-1]
        plain = re.sub(r"\\[0-9a-f]+ ", "", inside)
        assert not set(plain) & set("\"'<>{};\\\n\r/*@")
    outlook = hostile(moving_day())
    rules = margin_rules(outlook, run_sheets_of(outlook, agenda(outlook)))
    assert "</style" not in rules
    assert rules.count("{") == rules.count("}")
