"""The whole plan file, as written."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Any
from zoneinfo import ZoneInfo

from pydantic import Field

from moveplan.near import nearest
from moveplan.planfile.schema.entry import Entry, Section
from moveplan.planfile.schema.leaves import Chance, Choice, Leaf, Name, Pattern, PlanId, Text
from moveplan.planfile.schema.livestock import LivestockEntry
from moveplan.planfile.schema.money import Currency, PricePerUnit
from moveplan.planfile.schema.people import BoardingEntry, ContactEntry, HelperEntry, VehicleEntry
from moveplan.planfile.schema.places import Country, DriveEntry, OutsideEntry, PlaceEntry
from moveplan.planfile.schema.refusals import refusal
from moveplan.planfile.schema.risks import RiskEntry
from moveplan.planfile.schema.supplies import GearEntry, WaterMakingEntry
from moveplan.planfile.schema.systems import SystemEntry
from moveplan.planfile.schema.tasks import TaskEntry
from moveplan.planfile.schema.when import Begin, Day, End, Span
from moveplan.planfile.schema.words import LIKELY, LOCALE_NAME, PURPOSES, QUANTILES, UNITS, WAYS
from moveplan.planfile.schema.zones import meant_by, never_moves_its_clocks
from moveplan.units import quoted


@dataclass(frozen=True)
class ZoneLeaf(Leaf[ZoneInfo]):
    """A time zone of the IANA time zone database."""

    def read(self, text: str) -> ZoneInfo:
        """Find the zone."""
        name = text.strip()
        try:
            zone = ZoneInfo(name)
        except (ValueError, OSError, LookupError):
            raise self._unknown(name) from None
        if never_moves_its_clocks(zone):
            said = f"{quoted(name)} is an offset all year, whatever the clocks of a place do in summer"
            raise refusal(said, f'write a place, such as "{meant_by(name)}"')
        return zone

    def _unknown(self, name: str) -> Exception:
        from zoneinfo import available_timezones

        if not name:
            return refusal("has no value", 'write for example "Europe/Dublin"')
        folded = {zone.casefold(): zone for zone in sorted(available_timezones())}
        near = folded.get(name.casefold()) or meant_by(name) or folded.get(nearest(name, folded))
        remedy = (
            f'did you mean "{near}"?' if near else 'write continent and city, for example "Europe/Dublin"'
        )
        return refusal(f"{quoted(name)} is not a time zone", remedy)

    def json(self) -> dict[str, Any]:
        """Describe the zone."""
        return {
            "type": "string",
            "pattern": r"^\s*[A-Za-z][A-Za-z0-9_+/-]*\s*$",
            "examples": ["Europe/Dublin"],
        }


@dataclass(frozen=True)
class LocaleLeaf(Pattern):
    """A locale of the Unicode Common Locale Data Repository."""

    form: re.Pattern[str] = LOCALE_NAME
    what: str = "a locale"
    sample: str = "en_IE"

    def read(self, text: str) -> str:
        """Take the name where dates can be printed in it."""
        from babel import localedata

        name = super().read(text)
        if not localedata.exists(name):
            language = name.partition("_")[0]
            sample = language if localedata.exists(language) else self.sample
            message = f"no locale is called {quoted(name)}"
            raise refusal(message, f'write a language and a country, or a language alone, such as "{sample}"')
        return name


@dataclass(frozen=True)
class QuantilesLeaf(Leaf[tuple[float, float]]):
    """Which quantiles low and high stand for."""

    def read(self, text: str) -> tuple[float, float]:
        """Read ``ends`` or two quantiles."""
        if text.strip().casefold() == "ends":
            return 0.0, 1.0
        parts = QUANTILES.fullmatch(text.strip().upper())
        low, high = (int(parts[1]), int(parts[2])) if parts else (0, 0)
        if not 0 <= low < 50 < high <= 99:
            message = f"{quoted(text)} is not a pair of quantiles around the middle"
            raise refusal(message, 'write for example "P10-P90", or "ends"')
        return low / 100, high / 100

    def json(self) -> dict[str, Any]:
        """Describe the quantiles."""
        pattern = r"^\s*([eE][nN][dD][sS]|[pP][0-9]{1,2}-[pP][0-9]{1,2})\s*$"
        return {"type": "string", "pattern": pattern, "examples": ["P10-P90", "ends"]}


@dataclass(frozen=True)
class ConfidenceLeaf(Chance):
    """A share of the runs, or ``likely``: half of them."""

    sample: str = "80 %"

    def read(self, text: str) -> float:
        """Read the share."""
        return 0.5 if text.strip() == LIKELY else super().read(text)

    def json(self) -> dict[str, Any]:
        """Describe both."""
        share = super().json()
        return {"anyOf": [share, {"type": "string", "enum": [LIKELY]}], "examples": share["examples"]}


class DatesEntry(Entry):
    """Dates of the move; needs move-day or move-window."""

    move_day: Day | None = Field(None, description="The day of the move.")
    move_window: Span | None = Field(None, description="First and last day on which the move may take place.")
    fall_back_day: Day | None = Field(
        None,
        description="A spare day, in case you decide the evening before not to go.",
        examples=["2027-03-20"],
    )
    move_in_day: Day | None = Field(
        None, description="The day of moving in, where animals wait in between.", examples=["2027-04-10"]
    )
    restart_day: Day | None = Field(
        None, description="From when a tank that was shut down is set up again.", examples=["2027-09-04"]
    )
    access_from: Begin | None = Field(
        None, description="From when the new home may be entered.", examples=["2027-03-12 18:00"]
    )
    keys_back: End | None = Field(
        None, description="When the old home must be empty.", examples=["2027-03-15 12:00"]
    )
    earliest_start: Begin | None = Field(None, description="Nothing starts before.", examples=["2027-01-09"])


class PlanEntry(Entry):
    """A plan file."""

    id: PlanId | None = Field(None, description="A name for this plan that never changes.")
    title: Name | None = Field(None, description="What to print.", examples=["My reef moves"])
    purpose: Annotated[str, Choice(PURPOSES)] | None = Field(None, description="What is to be done.")
    way: Annotated[str, Choice(WAYS)] | None = Field(None, description="The way of moving.")
    as_of: Begin | None = Field(
        None, description="The moment to plan for; without it, the present.", examples=["2027-01-04 09:00"]
    )
    start: Begin | None = Field(
        None, description="When a plan of your own tasks (own-tasks) begins.", examples=["2027-01-04 09:00"]
    )
    timezone: Annotated[ZoneInfo, ZoneLeaf()] | None = Field(
        None, description="Time zone of all times in the plan."
    )
    locale: Annotated[str, LocaleLeaf()] | None = Field(None, description="How dates and money are printed.")
    units: Annotated[str, Choice(UNITS)] | None = Field(
        None, description="metric or us, for what is printed."
    )
    country: Country | None = Field(
        None, description="Two letters of ISO 3166; for holidays, climate and usual units."
    )
    currency: Currency | None = Field(None, description="Three letters of ISO 4217.")
    low_high: Annotated[tuple[float, float], QuantilesLeaf()] | None = Field(
        None, description="What low and high stand for: ends, or quantiles such as P10-P90."
    )
    safe_time_risk: Annotated[float, Chance(sample="5 %")] | None = Field(
        None, description="Accepted chance that animals are longer in a container than is safe."
    )
    confidence: Annotated[float, ConfidenceLeaf(sample="90 %")] | None = Field(
        None,
        description="In what share of the trial runs everything promised is to be kept; likely: in half.",
    )
    dates: DatesEntry | None = Field(
        None, description="Dates of the move.", examples=["{move-day: 2027-03-13}"]
    )
    outside: OutsideEntry | None = Field(
        None, description="Air outside on the moving day, as forecast.", examples=["{low: 2 C, high: 9 C}"]
    )
    places: Section[PlaceEntry] | None = Field(
        None,
        description="Places; the first is the old home.",
        examples=["{old: {floor: 1, steps: 14}, new: {distance: 31 km}}"],
    )
    drives: tuple[DriveEntry, ...] | None = Field(
        None,
        description="Drives between two places, where neither is the first.",
        examples=["[{from: new, to: shop, distance: 9 km}]"],
    )
    systems: Section[SystemEntry] | None = Field(
        None,
        description="Tanks with their water.",
        examples=["{reef: {tank: {length: 120 cm, width: 60 cm, height: 55 cm}, rock: 40 kg}}"],
    )
    livestock: Section[LivestockEntry] | None = Field(
        None, description="Animals by kind.", examples=["{clowns: {kind: clownfish, count: 2, size: 7 cm}}"]
    )
    livestock_file: Annotated[str, Text("animals.csv")] | None = Field(
        None,
        description="A table of animals beside the plan, CSV; its first row names keys of an entry of livestock.",
    )
    kinds_file: Annotated[str, Text("kinds.toml")] | None = Field(
        None, description="A file of your own kinds of animals beside the plan, TOML."
    )
    people: Section[HelperEntry] | None = Field(
        None,
        description="Who takes part; the first is the keeper.",
        examples=["{ines: {drives: yes}, tom: {}}"],
    )
    vehicles: Section[VehicleEntry] | None = Field(
        None, description="Vans, cars, trailers.", examples=["{van: {payload: 1100 kg}}"]
    )
    water_making: WaterMakingEntry | None = Field(
        None, description="How you get purified water.", examples=["{rate: 190 l/day}"]
    )
    gear: Section[GearEntry] | None = Field(
        None,
        description="Containers, heaters, pumps.",
        examples=["{tubs: {kind: tub, count: 10, volume: 60 l}}"],
    )
    gear_file: Annotated[str, Text("gear.csv")] | None = Field(
        None,
        description="A table of gear beside the plan, CSV; its first row names keys of an entry of gear.",
    )
    prices: Section[PricePerUnit] | None = Field(
        None, description="Prices by item of the price book.", examples=["{salt: 3.20 per kg}"]
    )
    prices_file: Annotated[str, Text("prices.toml")] | None = Field(
        None, description="A file of prices beside the plan, TOML with amount and unit of each item."
    )
    learn: Annotated[str, Text("learnt.json")] | None = Field(
        None,
        description="What an earlier move taught, as `moveplan look-back PLAN --json` writes it.",
    )
    policy: Section[Annotated[str, Text("8 h")]] | None = Field(
        None,
        description="Limits and defaults by their key; moveplan guide computing lists them.",
        examples=["{oxygen-plan-share: 0.8}"],
    )
    tasks: Section[TaskEntry] | None = Field(
        None, description="Tasks of your own.", examples=["{paint: {duration: 3 h, people: 1}}"]
    )
    contacts: Section[ContactEntry] | None = Field(
        None, description="People to call.", examples=["{vet: {role: vet}}"]
    )
    boarding: Section[BoardingEntry] | None = Field(
        None,
        description="Where animals may wait meanwhile.",
        examples=["{shop: {place: shop, volume: 200 l}}"],
    )
    risks: Section[RiskEntry] | None = Field(
        None,
        description="Changes to the list of risks; anything you leave out stays as it is.",
        examples=["{fish-fight: strike, tank-leaks: {probability: 5 %}}"],
    )
