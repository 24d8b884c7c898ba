"""What phases ask about a move: dates, people, vehicles, crews and half-sentences."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from babel.dates import format_date, format_time
from babel.numbers import format_currency

from moveplan.plan.people import VETS, Vehicle, fits
from moveplan.practice.drafting.crews import Crews
from moveplan.practice.ledger.pour_words import listing, runs
from moveplan.quantities.containers.means import MAINS_OUTLETS, MAINS_PUMP, Means, means_of
from moveplan.quantities.containers.vessels import SOLD_L, Use, Vessel
from moveplan.quantities.facts import Facts, GroupFacts, SystemFacts
from moveplan.quantities.freight.freight import Load
from moveplan.quantities.leg.mixing import water_place
from moveplan.quantities.leg.numbered import companies
from moveplan.quantities.remarks import DEEP_SAND_M
from moveplan.quantities.trade_groups import FISH
from moveplan.quantities.warming import SPARE_HEATER_W
from moveplan.science.animals.livestock import Kind
from moveplan.times import MINUTES_A_DAY, local_day, to_local


@dataclass(slots=True)
class Brief(Crews):
    """Answers the questions of the phases, those about people among them."""

    # Dates

    def day_words(self, facts: Facts | None = None) -> str:
        """Write the day of the leg, or of another, or the window it is chosen from."""
        days = (facts or self.facts).leg.days
        if not days:
            return ""
        first, last = (format_date(day, "full", locale=self.plan.locale) for day in (days[0], days[-1]))
        return first if len(days) == 1 else f"{first} – {last}"

    def money(self, amount: Decimal) -> str:
        """Write a price in the currency and the locale of the plan, cents where it has some."""
        whole = amount == amount.to_integral_value()
        return format_currency(
            amount,
            self.plan.currency,
            format="¤#,##0" if whole else None,
            locale=self.plan.locale,
            currency_digits=not whole,
        )

    def date_words(self) -> dict[str, object]:
        """Write the day of the move and the day to fall back on."""
        fall_back = self.plan.dates.fall_back_day if self.plan.dates else None
        words = format_date(fall_back, "full", locale=self.plan.locale) if fall_back else ""
        return {"move_day": self.day_words(), "fall_back": words}

    def moment_words(self, moment: int | None) -> str:
        """Write a moment of the plan with its day in full, UTC; nothing where it is open. [min]."""
        if moment is None:
            return ""
        local, locale = to_local(moment, self.plan.zone), self.plan.locale
        return f"{format_date(local, 'full', locale=locale)}, {format_time(local.time(), 'short', locale=locale)}"

    def weeks_ahead(self) -> float:
        """Weeks from now to the first day on which the move may be."""
        days = self.plan.dates.move_days if self.plan.dates else ()
        if not days:
            return 0.0
        return (local_day(days[0], self.plan.zone).start - self.plan.now) / (7 * MINUTES_A_DAY)

    def vet(self) -> str:
        """Name of the vet of the plan, or a general word."""
        for contact in self.plan.contacts:
            if fits(contact.role, VETS):
                return contact.name
        return self.phrase("no-vet")

    # Vehicles

    def vehicles(self) -> tuple[Vehicle, ...]:
        """Vehicles that carry a load."""
        used = self.facts.trips.vehicles()
        return tuple(vehicle for vehicle in self.plan.vehicles if vehicle.id in used)

    def heaviest_load(self, vehicle_id: str) -> float:
        """Mass of a vehicle's heaviest trip. [kg]."""
        return max(load.kg for load in self.facts.trips.loads if load.vehicle == vehicle_id)

    def last_trip(self, vehicle_id: str) -> int:
        """Count a vehicle's trips."""
        return max(load.trip for load in self.facts.trips.loads if load.vehicle == vehicle_id)

    def trip_subject(self, load: Load) -> str:
        """Tell one trip's tasks from another's."""
        return load.vehicle if self.last_trip(load.vehicle) == 1 else f"{load.vehicle}.{load.trip}"

    # Gear

    def gear_count(self, kind: str) -> int:
        """How many of a kind of gear will be there: owned, or needed and bought."""
        return max(
            (max(needed, there) for name, needed, there in self.gear_needed() if name == kind), default=0
        )

    def gear_needed(self) -> tuple[tuple[str, int, int], ...]:
        """Kind of gear, how many are needed on the day that needs most, how many there are."""
        return self.facts.gear_needed

    def gear_word(self, kind: str) -> str:
        """Name of a kind of gear."""
        words = {
            "can": self.means().main("can").volume_l,
            "heater_w": SPARE_HEATER_W,
            "bin_l": SOLD_L.get(kind),
            "outlets": MAINS_OUTLETS,
        }
        return self.phrase("gear-bin" if kind in SOLD_L else f"gear-{kind}", **words)

    def means(self) -> Means:
        """Containers, pumps and heaters of the plan."""
        return means_of(self.plan)

    def main_gear(self, kind: str) -> str:
        """Id of the gear of a kind of which more are ordered."""
        return self.means().main(kind).gear

    def vessels(self) -> tuple[Vessel, ...]:
        """List the containers of the leg."""
        return tuple(vessel for one in self.facts.systems for vessel in one.vessels)

    def numbered(self) -> tuple[Vessel, ...]:
        """List what is washed and gets a number: the containers of the leg."""
        return self.vessels()

    def label_plan(self) -> str:
        """Say which labels are needed."""
        names = {one.id: one.name for one in self.plan.livestock}
        held: dict[str, list[str]] = {}
        for vessel in self.numbered():
            animals = [names[one.id] for one in vessel.holds if one.what == "livestock"]
            what = ", ".join(animals) or self.phrase(f"holds-{vessel.use}")
            held.setdefault(what, []).append(vessel.number)
        rows = [f"{listing(runs(numbers))}: {what}" for what, numbers in held.items()]
        return self.phrase("label-plan", rows=rows)

    def battery_words(self) -> dict[str, object]:
        """How long battery pumps run on the day from lid on to lid off, and how long they have to be able to."""
        walls = any(item.kind == MAINS_PUMP for item in self.plan.gear) or self.gear_count(MAINS_PUMP) > 0
        packings = [group.packing for one in self.facts.systems for group in one.groups]
        boxes = [one.box for packing in packings for one in (packing, packing.waiting) if one]
        ways = [box.journey for box in boxes if box.aerated]
        on_min = 60 * max((way.road_h if walls else way.total_h for way in ways), default=0.0)
        least_min = max(on_min, self.facts.drive.high + 60, 120)
        return {
            "battery_on": on_min,
            "battery_need": 60 * math.ceil(self.policy["battery_margin"] * least_min / 60),
            "walls": walls,
        }

    def small_parts(self, boxes: Iterable[Vessel]) -> dict[str, object]:
        """Count air stones, one of them to spare, and tubes with a valve; boxes are those on the way to boarding."""
        vessels = [(one, vessel) for one in self.facts.systems for vessel in one.vessels]
        ramps = (one.ramp(vessel) for one, vessel in vessels if vessel.use is Use.ANIMALS)
        return {
            "stones": 1 + sum(vessel.stones for vessel in (*boxes, *(one for _, one in vessels))),
            "valves": sum(ramp is not None and not ramp.floats for ramp in ramps),
        }

    def heater_power_w(self) -> float:
        """Heaters of all systems, the spare ones included. [W]."""
        return sum(one.heater_w for one in self.facts.systems)

    # Water and animals

    def kinds_in(self, system: SystemFacts | None) -> tuple[Kind, ...]:
        """List the kinds of animals of a system, or of all of them."""
        own = (one.traits for one in self.plan.livestock if system is None or one.system == system.system.id)
        return tuple({kind.id: kind for kind in own}.values())

    def warmest_c(self) -> float:
        """Temperature of the warmest system. [°C]."""
        return max(one.system.temperature_c for one in self.facts.systems)

    def water_cools(self) -> bool:
        """Whether water that is mixed ahead may be colder than the tank on the day, so that heaters hang in it."""
        room = self.plan.place(water_place(self.facts.leg, self.facts.systems))
        return room.room_temperature_c < self.warmest_c()

    def salinity(self) -> float:
        """Salinity of the first system. [-]."""
        return self.facts.systems[0].system.salinity_psu

    def floor_words(self) -> str:
        """Say what kind of floor the new place has."""
        return self.phrase(f"floor-{self.facts.new.floor_kind}", place=self.facts.new)

    def sand_words(self, facts: SystemFacts) -> str:
        """Say what happens to the old sand."""
        depth_m = facts.system.sand_depth_m
        return self.phrase(
            f"sand-{facts.system.old_sand}",
            kg=facts.system.sand_kg,
            depth=depth_m,
            deep=depth_m > DEEP_SAND_M,
        )

    def packing_words(self, groups: tuple[GroupFacts, ...], vessels: Iterable[Vessel]) -> list[str]:
        """Say how groups are packed, a line for those who share containers."""
        there = tuple(vessels)
        bagged = tuple((one,) for one in groups if one.packing.bagged)
        shared = companies(one for one in groups if not one.packing.bagged)
        return [self._packed(several, there) for several in (*shared, *bagged)]

    def _packed(self, several: tuple[GroupFacts, ...], vessels: tuple[Vessel, ...]) -> str:
        packing = min((one.packing for one in several), key=lambda one: one.safe.estimate.low)
        ids = {one.livestock.id for one in several}
        own = [one.number for one in vessels if one.kind == packing.gear and ids & set(one.livestock)]
        boxes = [one.number for one in vessels if {held.id for held in one.holds} & set(own)]
        return self.phrase(
            "pack-bag" if packing.bagged else "pack-open",
            numbers=listing(runs(own)),
            boxes=listing(runs(boxes)),
            label=packing.label,
            animals=[f"{one.count} × {one.livestock.name}" for one in several],
            each=" in each" if packing.count > 1 else "",
            water=packing.water_l,
            gas=packing.box.gas_l,
            oxygen=packing.box.oxygen,
            aerated=packing.box.aerated,
            low=packing.safe.estimate.low,
            limit=self.phrase(f"limit-{packing.safe.limited_by}"),
        )

    def glove_words(self, animals: Sequence[tuple[str, str]]) -> str:
        """Say who is handled with gloves, and why; empty where nobody is."""
        return self.phrase("with-gloves", animals=animals) if animals else ""

    def unpacking_words(self, groups: tuple[GroupFacts, ...]) -> str:
        """Say how boxes are opened."""
        prompt = any(group.packing.safe.unpacking for group in groups)
        return self.phrase("open-prompt" if prompt else "open-calm", limit=self.policy)

    def residents_of(self, coming: tuple[GroupFacts, ...]) -> list[str]:
        """Name the territorial fish of the same systems that are already in when others come."""
        systems = {group.livestock.system for group in coming}
        return [
            one.livestock.name
            for facts in self.facts.systems
            if facts.system.id in systems
            for one in facts.of_group(*FISH)
            if one.livestock.temperament == "territorial"
        ]

    def release_words(self, temperament: str, count: int, *, alone: bool = False) -> str:
        """Say how so many fish of a temperament are let out; alone: there are no others."""
        return self.phrase("release-peaceful" if alone else f"release-{temperament}", count=count)
