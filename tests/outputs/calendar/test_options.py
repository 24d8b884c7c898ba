from __future__ import annotations

import pytest

from moveplan.errors import PlanFileError
from moveplan.outputs.calendar.options import CalendarOptions, check_options
from tests.outputs.calendar.scene import item, outlook


def test_a_selection_names_itself() -> None:
    assert CalendarOptions().selection == ""
    assert CalendarOptions(alarms=False, private=True, links=True, todos=True).selection == ""
    assert CalendarOptions(person="ines", phase="Water", moving_day=True).selection == (
        "person=ines;phase=Water;moving-day"
    )


@pytest.mark.parametrize(
    ("options", "suffix"),
    [
        (CalendarOptions(private=True, todos=True), ""),
        (CalendarOptions(person="ines"), "-ines"),
        (CalendarOptions(phase="Moving day"), "-phase-moving-day"),
        (CalendarOptions(moving_day=True), "-moving-day"),
        (CalendarOptions(person="ines", phase="Água", moving_day=True), "-ines-phase-água-moving-day"),
        (CalendarOptions(person="../../etc/x", phase="a/b\\c: d"), "-..-..-etc-x-phase-a-b-c-d"),
    ],
)
def test_a_selection_has_files_of_its_own(options: CalendarOptions, suffix: str) -> None:
    assert options.suffix == suffix
    assert options.whole.suffix == options.whole.selection == ""
    assert options.whole.private is options.private


def test_nobody_and_nothing_are_told_with_what_there_is() -> None:
    with pytest.raises(PlanFileError) as caught:
        check_options(CalendarOptions(person="inez", phase="Watr"), outlook().project)

    assert str(caught.value) == (
        'there is nobody called "inez" to make a calendar for; the plan has ines, tom\n'
        'there is no phase called "Watr" to make a calendar for; '
        'the plan has "Water", "Packing", "Eve", "Moving day", "Aftercare"'
    )
    assert caught.value.exit_status == 2


def test_a_plan_without_phases() -> None:
    with pytest.raises(PlanFileError) as caught:
        check_options(CalendarOptions(phase="Water"), outlook([item("a", "2027-03-06 22:00", 5)]).project)

    assert str(caught.value) == 'there is no phase called "Water" to make a calendar for; the plan names none'


def test_what_there_is_passes() -> None:
    check_options(CalendarOptions(person="ines", phase="Eve"), outlook().project)
