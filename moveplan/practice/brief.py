"""What phases ask about a move: dates, people, vehicles, crews and half-sentences."""

from __future__ import annotations

from dataclasses import dataclass, field

from babel.dates import format_date

from moveplan.network.task import Crew
from moveplan.plan.move import Plan
from moveplan.plan.people import Vehicle
from moveplan.practice.wording import Wording
from moveplan.quantities.cargo import CAN_L, tubs_needed
from moveplan.quantities.durations import FISH, MANY, SPARE_HEATER_W, fitters, side_by_side
from moveplan.quantities.facts import Facts, GroupFacts, SystemFacts
from moveplan.quantities.freight import Load
from moveplan.quantities.handling import Handling
from moveplan.quantities.policy import Policy
from moveplan.quantities.remarks import DEEP_SAND_M
from moveplan.science.lifting import people_to_lift
from moveplan.times import MINUTES_A_DAY, local_day


@dataclass(slots=True)
class Brief:
    """Answers the questions of the phases.

    Parameters
    ----------
    plan : Plan
        What the keeper told us. [-]
    facts : Facts
        The quantities of the plan. [-]
    wording : Wording
        Where the words come from. [-]
    """

    plan: Plan
    facts: Facts
    wording: Wording
    handling: Handling = field(init=False)
    policy: Policy = field(init=False)

    def __post_init__(self) -> None:
        self.handling = Handling(self.plan.policy)
        self.policy = Policy(self.plan.policy)

    def phrase(self, key: str, **words: object) -> str:
        """Fill in a half-sentence."""
        return self.wording.phrase(key, words)

    # Dates

    def day_words(self) -> str:
        """Write the day of the leg, or the window it is chosen from."""
        days = self.facts.leg.days
        if not days:
            return ""
        first, last = (format_date(day, "full", locale=self.plan.locale) for day in (days[0], days[-1]))
        return first if len(days) == 1 else f"{first} – {last}"

    def date_words(self) -> dict[str, object]:
        """Write the day of the move and the day to fall back on."""
        fall_back = self.plan.dates.fall_back_day if self.plan.dates else None
        words = format_date(fall_back, "full", locale=self.plan.locale) if fall_back else ""
        return {"move_day": self.day_words(), "fall_back": words}

    def weeks_ahead(self) -> float:
        """Weeks from now to the first day on which the move may be."""
        days = self.plan.dates.move_days if self.plan.dates else ()
        if not days:
            return 0.0
        return (local_day(days[0], self.plan.zone).start - self.plan.now) / (7 * MINUTES_A_DAY)

    # People

    def people_words(self) -> dict[str, object]:
        """Names of all who help."""
        return {"helpers": [person.name for person in self.plan.people]}

    def vet(self) -> str:
        """Name of the vet of the plan, or a general word."""
        for contact in self.plan.contacts:
            if contact.role == "vet":
                return contact.name
        return self.phrase("no-vet")

    def team(self, most: int, skill: str = "") -> Crew:
        """As many people as there are, at most so many; with ``lifts`` all of them lift."""
        there = self.plan.lifters if skill == "lifts" else len(self.plan.people)
        count = max(min(most, there), 1)
        if skill == "lifts":
            return Crew(count, (("lifts", count),))
        return Crew(count, ((skill, 1),) if skill else ())

    def care_crew(self, animals: int = MANY) -> Crew:
        """People who handle animals side by side: two where there are two, one for a few animals."""
        able = max(min(sum(person.cares for person in self.plan.people), 2), 1)
        count = side_by_side(animals, able)
        return Crew(count, (("cares", count),))

    def fitters(self, pieces: int) -> Crew:
        """People who take equipment off, or put it on, side by side."""
        return Crew(fitters(pieces, self.facts.carriers))

    def tank_crew(self, facts: SystemFacts, *, old: bool = False) -> Crew:
        """People who carry the empty tank, or the one it replaces: two; one if light and nobody else lifts."""
        mass_kg = tank_kg(facts, old=old)
        able = self.plan.lifters
        light = able == 1 and mass_kg <= self.policy["lift_capacity"]
        count = max(1 if light else 2, min(self._hands(mass_kg), able))
        return Crew(count, (("lifts", count),))

    def _hands(self, mass: float) -> int:
        hands = people_to_lift(mass, self.policy["lift_capacity"])
        return max(hands, 2) if hands is not None else (3 if mass <= 90 else 4)

    def lift_words(self, facts: SystemFacts, *, old: bool = False) -> dict[str, object]:
        """Say how the tank, or the one it replaces, is carried."""
        crew = self.tank_crew(facts, old=old)
        by_hand = people_to_lift(tank_kg(facts, old=old), self.policy["lift_capacity"])
        key = "lift-hands" if by_hand is not None and by_hand <= crew.count else "lift-aid"
        return {"lift_words": self.phrase(key, hands=crew.count)}

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
        return self.phrase(f"gear-{kind}", can=CAN_L, heater_w=SPARE_HEATER_W)

    def container_count(self) -> int:
        """Tubs that are washed and numbered."""
        return sum(
            tubs_needed(one.handled, {group.livestock.id: group.packing for group in one.groups})
            for one in self.facts.systems
        )

    def label_plan(self) -> str:
        """Say which labels are needed."""
        rows = [
            f"{group.packing.label}: {group.livestock.name}"
            for one in self.facts.systems
            for group in one.groups
        ]
        rows += [
            f"{one.tubs.rock} × {self.gear_word('tub')}: {one.system.name}" for one in self.facts.systems
        ]
        return self.phrase("label-plan", rows=rows)

    def battery_need_min(self) -> float:
        """How long battery pumps must run on the day. [min]."""
        return 60 * self.policy["battery_margin"] * max(self.facts.drive.high / 60 + 1.0, 2.0)

    def heater_power_w(self) -> float:
        """Heaters of all systems, the spare ones included. [W]."""
        return sum(one.heater_w for one in self.facts.systems)

    # Water and animals

    def warmest_c(self) -> float:
        """Temperature of the warmest system. [°C]."""
        return max(one.system.temperature_c for one in self.facts.systems)

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

    def packing_words(self, group: GroupFacts) -> str:
        """Say how a group is packed."""
        packing = group.packing
        names = {one.id: one.name for one in self.plan.livestock}
        return self.phrase(
            f"pack-{packing.gear}",
            name=group.livestock.name,
            label=packing.label,
            water=packing.water_l,
            gas=packing.gas_l,
            oxygen=packing.oxygen,
            shares=[names[one] for one in packing.shares_with],
            low=packing.safe.estimate.low,
            limit=self.phrase(f"limit-{packing.safe.limited_by}"),
        )

    def unpacking_words(self, groups: tuple[GroupFacts, ...]) -> str:
        """Say how boxes are opened."""
        prompt = any(group.packing.safe.unpacking for group in groups)
        return self.phrase("open-prompt" if prompt else "open-calm")

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

    def release_words(self, temperament: str) -> str:
        """Say how fish of a temperament are let out."""
        return self.phrase(f"release-{temperament}")


def tank_kg(facts: SystemFacts, *, old: bool) -> float:
    """Mass of the empty tank as it will stand, or as it stands now. [kg]."""
    return (facts.before if old else facts.masses).tank.likely
