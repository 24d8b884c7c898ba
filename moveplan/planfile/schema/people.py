"""People, vehicles, contacts and boarding, as written."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from moveplan.planfile.schema.entry import Entry
from moveplan.planfile.schema.hours import Away, Hours, Stretches
from moveplan.planfile.schema.leaves import Choice, Email, Flag, Id, Name, Names, Number, Quantity
from moveplan.planfile.schema.money import LateChange, PerDay, PerHour, VehicleRates
from moveplan.planfile.schema.when import Begin, Day, End
from moveplan.planfile.schema.words import ANIMAL_GROUPS, LOAD_SPACE_AIRS, PARKINGS

LoadSize = Annotated[float, Quantity("m", 0.2, 20, "1.7 m")]


class HelperEntry(Entry):
    """Somebody who takes part, the keeper included."""

    name: Name | None = Field(None, description="What to print.", examples=["Ines Farrow"])
    lifts: Flag | None = Field(None, description="Whether they lift heavy things.")
    drives: Flag | None = Field(None, description="Whether they drive the vehicle.")
    cares: Flag | None = Field(None, description="Whether they handle animals.")
    lead: Flag | None = Field(
        None, description="Whether they ask, book, brief, decide and sign; without it the first person does."
    )
    hours: Hours | None = Field(
        None, description="When they have time on ordinary days; none: only on the moving day."
    )
    moving_day: Stretches | None = Field(
        None, description="When they have time on the moving day; it takes the place of their hours."
    )
    evening_before: Stretches | None = Field(
        None,
        description="When they have time on the day before the moving day, beside their ordinary hours.",
        examples=["17:00-22:30"],
    )
    away: Away | None = Field(None, description="Days off.")
    holidays_off: Flag | None = Field(None, description="Whether public holidays are days off.")
    cost: PerHour | None = Field(None, description="Pay.")
    late_change: LateChange | None = Field(
        None, description="What they are still paid if they hear late that the day has moved."
    )
    place: Id | None = Field(None, description="Where they start from.", examples=["old"])
    email: Email | None = Field(None, description="Address for invitations (build --invite).")
    phone: Name | None = Field(
        None, description="Telephone number, for the others.", examples=["+353 1 000 0000"]
    )


class LoadSpaceEntry(Entry):
    """Load space of a vehicle."""

    length: LoadSize = Field(description="Inner length.", examples=["3.1 m"])
    width: LoadSize = Field(description="Inner width.", examples=["1.7 m"])
    height: LoadSize = Field(description="Inner height.", examples=["1.8 m"])


class HireEntry(Entry):
    """From when until when a vehicle is hired."""

    from_: Begin | None = Field(None, description="When the hire begins.", examples=["2027-03-12 16:00"])
    until: End | None = Field(None, description="When it has to be back.", examples=["2027-03-14 10:00"])


class VehicleEntry(Entry):
    """A van, a car, a trailer."""

    name: Name | None = Field(None, description="What to print.", examples=["Hired van"])
    payload: Annotated[float, Quantity("kg", 50, 40_000, "1100 kg")] | None = Field(
        None, description="What it may carry beside the people in it."
    )
    load_space: LoadSpaceEntry | None = Field(
        None,
        description="Inner dimensions of the load space.",
        examples=["{length: 3.1 m, width: 1.7 m, height: 1.8 m}"],
    )
    seats: Annotated[int, Number(1, 20, "3", whole=True)] | None = Field(
        None, description="Seats, driver included."
    )
    hired: Flag | None = Field(None, description="Whether it is hired by the day.")
    hire: HireEntry | None = Field(
        None,
        description="From when until when it is hired.",
        examples=["{from: 2027-03-12 16:00, until: 2027-03-14 10:00}"],
    )
    hours: Hours | None = Field(None, description="Hours of the day in which it may be used.")
    cost: VehicleRates | None = Field(None, description="Price per day, per km, or both as a list.")
    late_change: LateChange | None = Field(
        None, description="What it costs to change or give up the hire late."
    )
    air_temperature: Annotated[float, Quantity("°C", -30, 55, "8 C")] | None = Field(
        None, description="Coldest air expected in the load space."
    )
    air_temperature_high: Annotated[float, Quantity("°C", -30, 70, "14 C")] | None = Field(
        None, description="Warmest air expected in the load space."
    )
    load_space_air: Annotated[str, Choice(LOAD_SPACE_AIRS)] | None = Field(
        None, description="Whether the load space is heated or cooled."
    )
    parked: Annotated[str, Choice(PARKINGS)] | None = Field(
        None, description="Where it stands while it is loaded."
    )


class ContactEntry(Entry):
    """Somebody to call."""

    name: Name | None = Field(None, description="What to print.", examples=["Quayside fish vet"])
    role: Name = Field(description="What they are.", examples=["vet"])
    phone: Name | None = Field(None, description="Telephone number.", examples=["+353 1 000 0000"])


class BoardingEntry(Entry):
    """Somewhere animals may wait in somebody else's filtered tank."""

    name: Name | None = Field(None, description="What to print.", examples=["Reef shop"])
    place: Id = Field(description="Where it is.", examples=["shop"])
    volume: Annotated[float, Quantity("l", 5, 100_000, "200 l")] = Field(
        description="Filtered water it offers.", examples=["200 l"]
    )
    takes: Annotated[tuple[str, ...], Names(Choice(ANIMAL_GROUPS))] | None = Field(
        None, description="Groups of animals it takes.", examples=["[fish, corals]"]
    )
    cost: PerDay | None = Field(None, description="Price.")
    from_: Day | None = Field(None, description="First day on which it is open.", examples=["2027-03-01"])
    until: Day | None = Field(None, description="Last day on which it is open.", examples=["2027-04-30"])
