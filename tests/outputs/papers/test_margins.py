from __future__ import annotations

import re
from dataclasses import replace

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


def _margins_mm(rules: str) -> tuple[float, float]:
    found = re.search(r"margin:([\d.]+)mm 10mm ([\d.]+)mm", rules)
    assert found is not None
    return float(found[1]), float(found[2])


def test_margins_are_as_high_as_what_stands_in_them_and_end_where_the_numbers_stand_in_full() -> None:
    outlook = moving_day()
    plan = outlook.project.plan
    assert _margins_mm(margin_rules(outlook, ())) == (10, 12)

    people = tuple(
        replace(plan.people[0], id=f"hand-{at}", name=f"Helper number {at}", phone=f"+353 1 000 01{at:02}")
        for at in range(30)
    )
    far = replace(plan.places[0], address="The third house behind the old hall, Second Quay, Invented Bay")
    crowd = replace(plan, people=people, places=(far, far, far))
    rules = margin_rules(replace(outlook, project=replace(outlook.project, plan=crowd)), ())
    top, bottom = _margins_mm(rules)
    assert top > 3 * 3.5 + 4
    assert bottom > 4 * 3.5 + 4
    assert "Helper number 2" in rules
    assert "Helper number 20" not in rules
    assert "all others: first page of each run sheet" in rules
    for contact in plan.contacts:
        assert css_string(contact.phone).strip('"') in rules


def test_a_name_ends_neither_its_string_nor_the_style() -> None:
    for name in NAMES:
        inside = css_string(name)[1:-1]
        plain = re.sub(r"\\[0-9a-f]+ ", "", inside)
        assert not set(plain) & set("\"'<>{};\\\n\r/*@")
    outlook = hostile(moving_day())
    rules = margin_rules(outlook, run_sheets_of(outlook, agenda(outlook)))
    assert "</style" not in rules
    assert rules.count("{") == rules.count("}")
