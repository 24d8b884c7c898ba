"""Keepers at random: plan files of any purpose and way, from a pail of a tank to three cubic metres, in any season.

``python -m tests.ledger.keepers 7`` prints the plan of the seventh. The same number gives the same plan, as long as
the plan file knows the same keys. What is asked for may well be impossible; the file itself is without fault.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from random import Random
from typing import Any

import yaml

from moveplan.science.animals.livestock import kinds
from tests.ledger.scale import Units

Plan = dict[str, Any]
LEAST_L, MOST_L = 20.0, 3000.0
LEAST_KM, MOST_KM = 1.0, 900.0
WAYS = (
    ("house-move", "same-day"),
    ("house-move", "hold-over"),
    ("larger-tank", "same-spot"),
    ("larger-tank", "new-tank-ahead"),
    ("house-move-larger-tank", "same-day"),
    ("house-move-larger-tank", "new-tank-ahead"),
    ("shut-down", "shut-down"),
)
AT_HOME = ("larger-tank", "shut-down")
LANDS = (
    ("Europe/Dublin", "IE", "EUR", "en_IE", False),
    ("America/Denver", "US", "USD", "en_US", False),
    ("Australia/Sydney", "AU", "AUD", "en_AU", True),
    ("Asia/Tokyo", "JP", "JPY", "ja_JP", False),
)
COLD_C, WARM_C = 4.0, 24.0
"""Mean air of the coldest and the warmest month; invented. [°C]"""
NAMES = ("ada", "bo", "cy", "dee", "eli")


@dataclass(frozen=True, slots=True)
class Case:
    """What the parts of one plan have in common."""

    random: Random
    units: Units
    purpose: str
    way: str
    litres: float
    day: date
    south: bool

    def outside_c(self) -> float:
        """Air of the season, give or take what a day may bring."""
        swing = math.cos(2 * math.pi * (self.day.timetuple().tm_yday - 15) / 365) * (-1 if self.south else 1)
        mean = (COLD_C + WARM_C) / 2 - swing * (WARM_C - COLD_C) / 2
        return round(mean + self.random.uniform(-12, 14), 1)


def keeper(number: int) -> Plan:
    """Give the plan of a keeper, as the file holds it."""
    random = Random(number)
    purpose, way = WAYS[number % len(WAYS)]
    zone, country, currency, locale, south = random.choice(LANDS)
    day = date(2027, 1, 2) + timedelta(weeks=random.randrange(52), days=random.choice((7, 7, 7, 8, 11)))
    litres = math.exp(random.uniform(math.log(LEAST_L), math.log(MOST_L)))
    units = Units(us=number % 3 == 0)
    case = Case(random, units, purpose, way, litres, day, south)
    plan = {
        "title": f"Keeper {number}",
        "id": f"keeper-{number}",
        "purpose": purpose,
        "as-of": f"{day - timedelta(weeks=random.randint(*_lead(purpose)))} 09:00",
        "timezone": zone,
        "country": country,
        "currency": currency,
        "locale": locale,
        "units": units.name,
        "dates": _dates(case),
        "places": _places(case),
        "systems": _systems(case),
        "livestock": _livestock(case),
        "people": _people(case),
        "vehicles": _vehicles(case),
        "water-making": _water(case),
        "gear": _gear(case),
    }
    if random.random() < 0.6:
        plan["way"] = way
    if random.random() < 0.2:
        plan |= _boarding(case, plan)
    return {key: value for key, value in plan.items() if value}


def known(plan: Plan, definitions: Mapping[str, Any]) -> Plan:
    """Leave out keys, and gear of kinds, that the plan file does not know: ``$defs`` of its schema says which."""
    kept = dict(plan)
    for section, name in SECTIONS.items():
        keys = definitions[name]["properties"]
        kept[section] = {
            entry: {key: value for key, value in row.items() if key in keys}
            for entry, row in plan.get(section, {}).items()
            if section != "gear" or row["kind"] in keys["kind"]["enum"]
        }
    return {key: value for key, value in kept.items() if value}


SECTIONS = {"places": "place", "systems": "system", "livestock": "livestock", "gear": "gear"}


def _lead(purpose: str) -> tuple[int, int]:
    """Weeks beforehand: a new tank has to be ordered, and mostly to ripen."""
    return (16, 40) if "larger-tank" in purpose else (5, 26)


def _dates(case: Case) -> Plan:
    day, random = case.day, case.random
    dates: Plan = {"move-day": str(day)}
    if case.purpose == "shut-down":
        return dates | {"restart-day": str(day + timedelta(days=random.randint(40, 400)))}
    if case.purpose == "larger-tank":
        return dates
    if case.way == "hold-over":
        gone = day + timedelta(days=random.randint(20, 120))
        keys, opens = day + timedelta(days=random.randint(3, 10)), gone - timedelta(days=random.randint(2, 8))
        return dates | {
            "move-in-day": str(gone),
            "keys-back": f"{keys} 12:00",
            "access-from": f"{opens} 12:00",
        }
    ahead = (45, 110) if case.way == "new-tank-ahead" else (1, 30)
    if case.way == "new-tank-ahead" or random.random() < 0.3:
        dates["access-from"] = f"{day - timedelta(days=random.randint(*ahead))} 12:00"
    if random.random() < 0.3:
        dates["keys-back"] = f"{day + timedelta(days=random.randint(2, 30))} 12:00"
    return dates


def _place(case: Case) -> Plan:
    random = case.random
    floor = random.choice((0, 0, 0, 1, 1, 2, 5))
    place: Plan = {"floor": floor, "steps": floor * 16 + random.choice((0, 2))}
    place["room-temperature"] = case.units.warmth(random.uniform(12, 30))
    place["carry"] = case.units.length(random.choice((400, 1500, 6000)))
    place["altitude"] = f"{random.choice((0, 0, 300, 1600, 2600))} m"
    if random.random() < 0.2:
        place["lift"] = "yes"
    if random.random() < 0.3:
        place["circuit"] = f"{random.choice((1800, 2300, 3500))} W"
    return place


def _places(case: Case) -> Plan:
    random = case.random
    places = {"old": _place(case)}
    if case.purpose not in AT_HOME:
        km = math.exp(random.uniform(math.log(LEAST_KM), math.log(MOST_KM)))
        places["new"] = {**_place(case), "distance": case.units.road(km)}
    if case.way == "hold-over":
        places["friend"] = {**_place(case), "distance": case.units.road(random.uniform(1, 60))}
    return places


def _tank(case: Case, litres: float) -> Plan:
    """A tank twice as long as it is wide, with so much water in it."""
    side = (litres * 1000 / case.random.uniform(1.6, 2.6)) ** (1 / 3)
    wall = max(0.5, side / 60)
    sizes = {
        "length": litres * 1000 / side**2 + 2 * wall,
        "width": side + 2 * wall,
        "height": side + wall + 5,
    }
    sizes |= {"wall": wall, "base": wall, "water-height": side}
    material = case.random.choice(("glass", "glass", "acrylic"))
    return {key: case.units.length(cm) for key, cm in sizes.items()} | {"material": material}


def _equipment(case: Case, litres: float) -> Plan:
    number = 1 if litres < 150 else 2
    equipment: Plan = {
        "heater": {"kind": "heater", "count": number, "power": f"{max(25, 1.1 * litres / number):.0f} W"},
        "stream": {"kind": "circulation-pump", "power": "15 W", "flow": case.units.flow(15 * litres)},
        "light": {"kind": "light", "power": f"{max(20, litres / 3):.0f} W"},
    }
    if litres > 60:
        equipment["return"] = {"kind": "return-pump", "power": "40 W", "flow": case.units.flow(8 * litres)}
        equipment["skimmer"] = {"kind": "skimmer", "power": "25 W"}
    return equipment


def _systems(case: Case) -> Plan:
    random, units, litres = case.random, case.units, case.litres
    sump = litres * random.choice((0, 0.1, 0.25))
    reef: Plan = {"tank": _tank(case, litres - sump), "sump": units.volume(sump)}
    reef |= {"rock": units.mass(litres * random.uniform(0, 0.2))}
    reef |= {"sand": units.mass(litres * random.uniform(0, 0.12))}
    reef |= {"old-sand": random.choice(("keep", "rinse", "replace"))}
    reef |= {"temperature": units.warmth(random.uniform(23.5, 27))}
    if random.random() < 0.7:
        reef["equipment"] = _equipment(case, litres)
    if random.random() < 0.3:
        reef["water-kept"] = f"{random.choice((0, 25, 50, 80))} %"
    if random.random() < 0.3:
        reef["nitrate"] = f"{random.choice((2, 10, 40))} mg/l"
    if "larger-tank" in case.purpose:
        reef["new-tank"] = _new_tank(case)
    systems = {"reef": reef}
    if case.way == "hold-over":
        room = litres * random.uniform(0.4, 1.2)
        waiting: Plan = {"role": "holding", "place": "friend", "tank": _tank(case, room)}
        systems["waiting"] = waiting | {"equipment": _equipment(case, room)}
    return systems


def _new_tank(case: Case) -> Plan:
    random = case.random
    litres = min(case.litres * random.uniform(1.2, 2.5), 1.3 * MOST_L)
    tank: Plan = {"tank": _tank(case, litres), "delivery": f"{random.randint(1, 7)} weeks"}
    tank |= {"rock": case.units.mass(litres * random.uniform(0, 0.1)), "equipment": _equipment(case, litres)}
    if case.purpose == "larger-tank":
        tank["spot"] = "same" if case.way == "same-spot" else "other"
    return tank


def _livestock(case: Case) -> Plan:
    """Kinds at random, no longer than the tank bears, colonies and snails in numbers."""
    random = case.random
    longest = 6 + case.litres**0.5
    table = {name: kind for name, kind in kinds().items() if kind.length_cm <= longest}
    most = min(len(table), 14, 2 + int(case.litres / 25))
    livestock: Plan = {}
    for name in random.sample(sorted(table), random.randint(1, most)):
        few = 3 if table[name].length_cm > 6 else 12
        animal: Plan = {"kind": name, "count": random.randint(1, few)}
        if random.random() < 0.7:
            animal["size"] = case.units.length(max(1, table[name].length_cm * random.uniform(0.4, 1.0)))
        if random.random() < 0.05:
            animal["leaves"] = 1
        if random.random() < 0.1:
            animal["container"] = random.choice(("bag", "pail", "tub"))
        livestock[name] = animal
    return livestock


def _people(case: Case) -> Plan:
    random = case.random
    people: Plan = {}
    for name in NAMES[: random.choice((1, 2, 2, 3, 3, 4, 5))]:
        person: Plan = {"drives": "yes" if not people or random.random() < 0.5 else "no", "lifts": "yes"}
        person["cares"] = "yes" if not people or random.random() < 0.6 else "no"
        if random.random() < 0.7:
            person["moving-day"] = random.choice(("06:00-23:00", "07:00-22:00", "05:00-24:00"))
        if people and random.random() < 0.2:
            person["cost"] = "18 per hour"
        people[name] = person
    return people


def _vehicles(case: Case) -> Plan:
    random = case.random
    vehicles: Plan = {}
    for number in range(0 if case.purpose in AT_HOME else random.choice((1, 1, 1, 2, 2, 3, 0))):
        vehicle: Plan = {"payload": case.units.mass(random.choice((350, 900, 1100, 2500)))}
        vehicle["seats"] = random.choice((2, 3, 5))
        vehicle["air-temperature"] = case.units.warmth(case.outside_c())
        if random.random() < 0.5 and case.way != "hold-over":
            begin, end = case.day - timedelta(days=1), case.day + timedelta(days=1)
            vehicle |= {"hire": {"from": f"{begin} 16:00", "until": f"{end} 14:00"}, "cost": "90 per day"}
        vehicles[f"van{number + 1}"] = vehicle
    return vehicles


def _water(case: Case) -> Plan:
    random, units = case.random, case.units
    rate = random.choice((0, 190, 190, 380, 1500))
    water: Plan = {"rate": units.daily(rate), "water-temperature": units.warmth(random.uniform(4, 24))}
    return (
        water | {"storage": units.volume(case.litres * random.uniform(0.3, 1.5))}
        if rate
        else {"rate": "0 l/day"}
    )


def _gear(case: Case) -> Plan:
    """From none to plenty, of sizes at random."""
    random, units = case.random, case.units
    plenty = random.choice((0, 0, 1, 2, 4))
    if not plenty:
        return {}
    size = max(1, math.ceil(case.litres / 120))

    def some(most: float) -> int:
        return random.randint(1, max(1, round(most * plenty / 2)))

    gear: Plan = {
        "big-tubs": {
            "kind": "tub",
            "count": some(4 * size),
            "volume": units.volume(random.choice((50, 60, 90))),
        },
        "tubs": {"kind": "tub", "count": some(4), "volume": units.volume(random.choice((15, 30, 45)))},
        "pails": {"kind": random.choice(("bucket", "pail")), "count": some(4), "volume": units.volume(18)},
        "cans": {"kind": "can", "count": some(6), "volume": units.volume(20)},
        "bags": {"kind": "bag", "count": some(20), "volume": units.volume(random.choice((4, 8, 12)))},
        "boxes": {"kind": "box", "count": some(4), "volume": units.volume(random.choice((25, 40, 60)))},
        "oxygen": {"kind": "oxygen", "count": 1},
        "air-pumps": {"kind": "air-pump", "count": some(5), "battery": f"{random.choice((4, 10, 20))} h"}
        | {"outlets": random.choice((1, 2))},
        "pump": {"kind": "pump", "count": 1, "flow": units.flow(random.choice((900, 2500)))},
        "small-heaters": {"kind": "heater", "count": some(6), "power": "25 W"},
        "heaters": {"kind": "heater", "count": some(2), "power": f"{random.choice((100, 300))} W"},
    }
    return {name: item for name, item in gear.items() if random.random() < 0.25 + 0.25 * plenty}


def _boarding(case: Case, plan: Plan) -> Plan:
    """Somebody who takes an animal or two for the time of the move."""
    livestock = plan["livestock"]
    boarded = case.random.sample(sorted(livestock), min(2, len(livestock)))
    places = plan["places"] | {"shop": {"distance": case.units.road(case.random.uniform(1, 40))}}
    shop: Plan = {"place": "shop", "volume": case.units.volume(200), "cost": "4 per day"}
    boarders = {name: {**livestock[name], "boarded": "shop"} for name in boarded}
    return {"places": places, "boarding": {"shop": shop}, "livestock": {**livestock, **boarders}}


def main(numbers: Sequence[str]) -> int:
    """Print plans."""
    for number in numbers:
        sys.stdout.write(yaml.safe_dump(keeper(int(number)), sort_keys=False))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
