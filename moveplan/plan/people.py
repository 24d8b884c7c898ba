"""People and vehicles."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from moveplan.hours import Absence, HoursRule
from moveplan.times import Interval


@dataclass(frozen=True, slots=True)
class LateChange:
    """What it costs to change or give up a promise late; before that it is free.

    Parameters
    ----------
    fee : Decimal
        In the plan's currency.
    within_days : int
        It is due where fewer days than these are left to the moving day. [day]
    """

    fee: Decimal
    within_days: int


@dataclass(frozen=True, slots=True)
class Helper:
    """Somebody who takes part, the keeper included.

    Parameters
    ----------
    id, name : str
        Identity and what to print.
    lifts, drives, cares : bool
        Whether they lift heavy things, drive the vehicle, and handle animals.
    hours : tuple of HoursRule
        When they have time, ordinary days.
    moving_day_hours : tuple of HoursRule
        When they have time on the moving day; rule ignored, minutes count.
    absences : tuple of Absence
        Days off.
    holidays_off : bool
        Whether public holidays of the country are days off.
    cost_per_hour : Decimal
        Pay in the plan's currency.
    place : str
        Id of the place where they start from; empty: the old home.
    lead : bool
        Whether they lead: ask, book, brief, decide and sign.
    eve_hours : tuple of HoursRule
        When they have time on the day before the moving day, beside ordinary hours; rule ignored, minutes count.
    way_min : int
        From where they begin and end each day to the places of the plan, one way: taken off both ends of their
        hours; 0: they are there. [min]
    booked : tuple of Interval
        When they are taken by something that is not in the plan, UTC. [min]
    skills : tuple of str
        What else tasks may ask for that they have.
    email : str
        Where invitations go; empty: nowhere.
    phone : str
        Telephone number; empty: not given.
    client : bool
        Whether the tank is theirs and a firm leads the move: they ask their landlord themselves.
    late_change : LateChange or None
        What telling them late costs; None: nothing, they are not paid.
    """

    id: str
    name: str
    lifts: bool
    drives: bool
    cares: bool
    hours: tuple[HoursRule, ...]
    moving_day_hours: tuple[HoursRule, ...]
    absences: tuple[Absence, ...]
    holidays_off: bool
    cost_per_hour: Decimal
    place: str
    lead: bool = False
    eve_hours: tuple[HoursRule, ...] = ()
    way_min: int = 0
    booked: tuple[Interval, ...] = ()
    skills: tuple[str, ...] = ()
    email: str = ""
    phone: str = ""
    client: bool = False
    late_change: LateChange | None = None


@dataclass(frozen=True, slots=True)
class Vehicle:
    """A van, a car, a trailer.

    Parameters
    ----------
    id, name : str
        Identity and what to print.
    payload_kg : float
        What it may carry beside the people in it. [kg]
    load_length_m, load_width_m, load_height_m : float
        Load space. [m]
    seats : int
        Driver included.
    hired : bool
        Whether it is hired by the day.
    hire_from, hire_until : int or None
        Hire window, UTC; None: open. [min]
    hours : tuple of HoursRule
        Hours of the day in which it may be used.
    cost_per_day, cost_per_km : Decimal
        In the plan's currency.
    air_temperature_c : float
        Coldest expected air in the load space. [°C]
    air_high_c : float
        Warmest expected air in the load space. [°C]
    load_space_air : str
        ``plain`` (as outside), ``heated`` or ``cooled``.
    parked : str
        ``shade`` or ``sun``: where it stands while it is loaded.
    booked : tuple of Interval
        When it is taken by something that is not in the plan, UTC. [min]
    base : str
        Name of the place from which it comes with its crew; empty: it stands at the home before the day.
    late_change : LateChange or None
        What a late change of the hire costs; None: it is not hired.
    """

    id: str
    name: str
    payload_kg: float
    load_length_m: float
    load_width_m: float
    load_height_m: float
    seats: int
    hired: bool
    hire_from: int | None
    hire_until: int | None
    hours: tuple[HoursRule, ...]
    cost_per_day: Decimal
    cost_per_km: Decimal
    air_temperature_c: float
    air_high_c: float
    load_space_air: str = "plain"
    parked: str = "shade"
    booked: tuple[Interval, ...] = ()
    base: str = ""
    late_change: LateChange | None = None


HIRE = frozenset(("breakdown", "hire", "lends", "rental", "transport", "truck", "van", "vehicle"))
"""Words in the role of a contact who may have another vehicle. Chosen. [-]"""
VETS = frozenset(("vet", "veterinarian", "veterinary"))
"""Words in the role of a contact who treats animals. Chosen. [-]"""


def fits(role: str, words: frozenset[str]) -> bool:
    """Whether the role of a contact has one of some words.

    >>> fits("Fish vet", VETS), fits("van rental", VETS)
    (True, False)
    """
    return bool(words & set(re.findall("[a-z]+", role.casefold())))


@dataclass(frozen=True, slots=True)
class Contact:
    """Somebody to ring.

    Parameters
    ----------
    id, name, role, phone : str
        Role in words, such as "vet".
    """

    id: str
    name: str
    role: str
    phone: str


@dataclass(frozen=True, slots=True)
class Boarding:
    """Somewhere animals may wait in somebody else's filtered tank.

    Parameters
    ----------
    id, name : str
        Identity and what to print.
    place : str
        Id of the place.
    volume_l : float
        Filtered water it offers. [l]
    takes : tuple of str
        Groups of animals it takes, ``fish``, ``corals``, ``invertebrates``.
    cost_per_day : Decimal
        In the plan's currency.
    first, last : date or None
        Days on which it is open; None: always.
    """

    id: str
    name: str
    place: str
    volume_l: float
    takes: tuple[str, ...]
    cost_per_day: Decimal
    first: date | None = None
    last: date | None = None
