"""Every promise that a schedule can break has its words."""

from __future__ import annotations

import tomllib

import pytest

from moveplan.cli.terminal.faults import fault_text
from moveplan.compiled import template_folder
from moveplan.errors import Fault
from tests.door.test_accounts import FAULTS
from tests.door.test_ages import FAULTS as STALE
from tests.door.test_air import FAULTS as WITHOUT_AIR
from tests.door.test_hands import FAULTS as UNKEPT
from tests.firm.checks.test_drives import BROKEN as OF_DRIVES
from tests.firm.checks.test_verify import BROKEN as OF_SHARES
from tests.scheduling.test_verify import OF_THE_WHOLE, STANDS_WRONG

OF_A_FIRM = OF_SHARES | OF_DRIVES
ELSEWHERE = Fault("shown-elsewhere", values=(60, 120), tasks=("a",))
TOO_SOON = Fault("told-too-soon", values=(60, 120), tasks=("a",))
UNSAID = (
    Fault("long-day-unsaid", ("ines",), (760, 720)),
    Fault("journey-unsaid", ("ines",), (300,)),
    Fault("too-many-aboard", ("ines", "tom"), (3, 2), ("drive-van",)),
    Fault("animals-alone-unsaid", ("old",), (600,)),
)
"""Breaks of what is to be said of a day, as ``attended`` gives them; its own tests break a plan for each."""
FOUND = (
    *(fault for _, fault in STANDS_WRONG),
    *OF_THE_WHOLE,
    ELSEWHERE,
    TOO_SOON,
    *FAULTS,
    *STALE,
    *WITHOUT_AIR,
    *UNKEPT,
    *UNSAID,
)
"""A fault of every code that a checker of one job gives; those of a firm are broken where its jobs are at hand."""


@pytest.mark.parametrize("fault", FOUND)
def test_a_fault_is_told_in_words_with_its_code(fault: Fault) -> None:
    assert_told(fault)


@pytest.mark.parametrize("code", OF_A_FIRM)
def test_a_fault_of_a_firm_is_told_in_words_with_its_code(code: str) -> None:
    assert_told(next(fault for fault in OF_A_FIRM[code]() if fault.code == code))


def assert_told(fault: Fault) -> None:
    line = next(line for line in fault_text((fault,)).splitlines() if line.startswith(f"  {fault.code}: "))
    words = line.partition(": ")[2]
    assert len(words.split()) > 3
    assert "{" not in words


def test_no_words_are_left_over() -> None:
    words = tomllib.loads((template_folder() / "terminal" / "faults.toml").read_text("utf-8"))
    assert set(words) == {fault.code for fault in FOUND} | set(OF_A_FIRM)
