"""The firm file, as written."""

from __future__ import annotations

from typing import Annotated, Any
from zoneinfo import ZoneInfo

from pydantic import Field

from moveplan.planfile.editor import schema_of
from moveplan.planfile.schema.entry import Entry, Section
from moveplan.planfile.schema.hours import Away
from moveplan.planfile.schema.leaves import (
    Choice,
    Flag,
    Id,
    Name,
    Names,
    Number,
    PlanId,
    Quantity,
    Share,
    Text,
)
from moveplan.planfile.schema.money import Currency, PerHour, PriceLeaf, Sum
from moveplan.planfile.schema.move import LocaleLeaf, ZoneLeaf
from moveplan.planfile.schema.people import HelperEntry, VehicleEntry
from moveplan.planfile.schema.places import Country, Distance, DriveTime, PlaceEntry
from moveplan.planfile.schema.supplies import GearEntry
from moveplan.planfile.schema.when import Begin, Day, Span
from moveplan.planfile.schema.words import UNITS

PURPOSE = "firm"
"""What a firm file says its purpose is. [-]"""
CARES = ("client", "firm")
"""Who does the recurring care of a job. [-]"""


class WorkerEntry(HelperEntry):
    """Somebody of the firm."""

    longest_day: Annotated[float, Quantity("h", 1, 24, "11 h")] | None = Field(
        None, description="Most hours of work and driving on one day, breaks not counted."
    )
    rest: Annotated[float, Quantity("h", 0, 24, "11 h")] | None = Field(
        None, description="Least time between two days, from and to the base."
    )


class FirmVehicleEntry(VehicleEntry):
    """A vehicle of the firm."""

    plate: Name | None = Field(None, description="Number plate.", examples=["none yet"])
    service: Away | None = Field(None, description="Days on which it is not there.")


class FirmGearEntry(GearEntry):
    """Gear of the firm, all of it counted."""

    ready_after: Annotated[float, Quantity("min", 0, 43_200, "1 day")] | None = Field(
        None, description="From its return until it may leave again: washing and drying."
    )


class WayEntry(Entry):
    """A way between two places; each is an area, a place of a job as JOB.PLACE, or the base."""

    from_: Id = Field(description="Where it begins.", examples=["harbour"])
    to: Id = Field(description="Where it ends.", examples=["hill"])
    distance: Distance = Field(description="One way by road.", examples=["9 km"])
    drive: DriveTime | None = Field(None, description="Door to door.")


class WaterPlantEntry(Entry):
    """Purified water made at the base."""

    rate: Annotated[float, Quantity("l/day", 0, 100_000, "400 l/day")] = Field(
        description="What it makes on a day.", examples=["400 l/day"]
    )
    storage: Annotated[float, Quantity("l", 0, 100_000, "800 l")] = Field(
        description="What is kept at most; it is taken to be full at first.", examples=["800 l"]
    )


class SuppliedEntry(Entry):
    """Something that is used up, in pieces."""

    there: Annotated[float, Number(0, 1_000_000, "120")] = Field(
        description="How many there are, as of now.", examples=["120"]
    )
    delivery: Annotated[float, Quantity("day", 0, 400, "7 days")] | None = Field(
        None, description="From order to delivery."
    )


class SaltEntry(SuppliedEntry):
    """Salt mix."""

    there: Annotated[float, Quantity("kg", 0, 1_000_000, "20 kg")] = Field(
        description="How much there is, as of now.", examples=["20 kg"]
    )


class StockEntry(Entry):
    """What is used up over all jobs."""

    salt: SaltEntry | None = Field(None, description="Salt mix.")
    bags: SuppliedEntry | None = Field(None, description="Fish bags; each is used once.")
    tests: SuppliedEntry | None = Field(None, description="Sets of tests, one for each job.")


class RatesEntry(Entry):
    """What a client is charged."""

    lead: PerHour = Field(description="An hour of whoever leads.", examples=["45 per hour"])
    hand: PerHour = Field(description="An hour of anybody else.", examples=["28 per hour"])
    travel: Annotated[Any, PriceLeaf(("km",), "0.60 per km")] | None = Field(
        None, description="A kilometre of each vehicle; with its wear, where no wear is given."
    )
    wear: Annotated[Any, PriceLeaf(("km", "day"), "0.12 per km")] | None = Field(
        None, description="Wear: a kilometre of each vehicle, or a begun day of each piece of gear."
    )
    margin: Share | None = Field(
        None, description="On hours, travel, wear, materials and reserve.", examples=["20 %"]
    )
    tax: Share | None = Field(None, description="On everything with the margin.", examples=["23 %"])
    valid: Annotated[float, Quantity("day", 1, 366, "30 days")] | None = Field(
        None, description="How long a quote holds."
    )


class JobEntry(Entry):
    """A move for a client: a plan file that also builds alone."""

    plan: Annotated[str, Text("jobs/office.yaml")] = Field(
        description="Its plan file, from the folder of this file.", examples=["jobs/office.yaml"]
    )
    id: Id | None = Field(None, description="What it is called; without it the name of its file.")
    window: Span | None = Field(None, description="First and last day on which it may be.")
    day: Day | None = Field(None, description="The day that is wished, or promised.")
    promised: Flag | None = Field(None, description="Whether the day is promised: it never moves by itself.")
    priority: Annotated[float, Number(0.01, 100, "2")] | None = Field(
        None, description="Weight of its wishes against those of others."
    )
    promise_price: Sum | None = Field(
        None, description="What it costs to move a promised day, once the client was asked."
    )
    care: Annotated[str, Choice(CARES)] | None = Field(
        None, description="Who does the recurring care where the plan names people of its own."
    )


class FirmEntry(Entry):
    """A firm file."""

    id: PlanId | None = Field(None, description="Names the firm for ever.")
    title: Name = Field(description="What to print.", examples=["May"])
    purpose: Annotated[str, Choice((PURPOSE,))] = Field(description="What it is.", examples=[PURPOSE])
    as_of: Begin | None = Field(None, description="Now, for a file that shall come out the same on any day.")
    timezone: Annotated[ZoneInfo, ZoneLeaf()] = Field(
        description="Zone of all times in the file.", examples=["Europe/Dublin"]
    )
    locale: Annotated[str, LocaleLeaf()] | None = Field(None, description="How dates and money are printed.")
    units: Annotated[str, Choice(UNITS)] | None = Field(
        None, description="metric or us, for what is printed."
    )
    country: Country | None = Field(None, description="ISO 3166 code.")
    currency: Currency | None = Field(None, description="ISO 4217 code.")
    base: Id = Field(description="Where people and vehicles begin and end a day.", examples=["yard"])
    phone: Name | None = Field(
        None, description="Telephone number that clients may call.", examples=["+353 1 000 0000"]
    )
    places: Section[PlaceEntry] = Field(
        description="Places of the firm, the base among them.", examples=["{yard: {name: The yard}}"]
    )
    drives: tuple[WayEntry, ...] | None = Field(
        None, description="Ways between clients; an unknown one goes by way of the base."
    )
    people: Section[WorkerEntry] = Field(
        description="Who works for the firm.", examples=["{ruth: {lead: yes}, owen: {}}"]
    )
    vehicles: Section[FirmVehicleEntry] = Field(
        description="What there is to drive.", examples=["{van: {payload: 1100 kg}}"]
    )
    gear: Section[FirmGearEntry] | None = Field(
        None, description="What all jobs share.", examples=["{tubs: {kind: tub, count: 30, volume: 60 l}}"]
    )
    water_making: WaterPlantEntry | None = Field(
        None, description="Water that is made at the base.", examples=["{rate: 400 l/day, storage: 800 l}"]
    )
    stock: StockEntry | None = Field(
        None, description="What is used up, and what there is of it.", examples=["{salt: {there: 20 kg}}"]
    )
    rates: RatesEntry = Field(
        description="What clients are charged.", examples=["{lead: 45 per hour, hand: 28 per hour}"]
    )
    learn: Annotated[tuple[str, ...], Names(Text("last_month/office.yaml"))] | None = Field(
        None,
        description="Plans of earlier moves with their journals, to learn from how long work takes.",
        examples=["[last_month/office.yaml]"],
    )
    jobs: tuple[JobEntry, ...] = Field(
        description="The moves.", examples=["[{plan: jobs/office.yaml, window: 2027-05-03 to 2027-05-21}]"]
    )


def firm_schema() -> dict[str, Any]:
    """Describe the firm file as JSON Schema 2020-12.

    >>> firm_schema()["required"][:2]
    ['title', 'purpose']
    """
    return schema_of(
        FirmEntry, "Firm with its jobs", "Read by moveplan; each job is a plan file that builds alone."
    )
