"""Values taken where the keeper says nothing, each with the reason that is printed beside it.

All are common practice without a published source, or plainly invented, and say so; prices and values of
animals are invented demo figures. Texts are read like those of a plan file.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

_PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Usual:
    """A value and the reason for it.

    Parameters
    ----------
    text : str
        As it could be written in a plan file.
    in_us : str
        The same as somebody writes it who measures in US units; empty: ``text``, or what it is in their units.
    """

    text: str
    why: str
    in_us: str = ""


USUAL: Mapping[str, Usual] = {
    "floor": Usual("0", "nothing is said of stairs, so the ground floor"),
    "carry": Usual("20 m", f"a vehicle that stops near the door ({_PRACTICE})"),
    "lift": Usual("no", "no lift is mentioned, so the stairs are used"),
    "water": Usual("yes", "homes usually have water; write no where this one has not"),
    "power": Usual("yes", "homes usually have power; write no where this one has not"),
    "altitude": Usual("0 m", "nothing is said of height above sea level, so the coast"),
    "role": Usual("display", "the plan does not say what else the tank is for"),
    "material": Usual("glass", "most tanks are of glass"),
    "salinity": Usual("35", "natural seawater, practical salinity 35"),
    "temperature": Usual("25.5 C", f"usual for a reef ({_PRACTICE})"),
    "ph": Usual("8.1", f"usual for a reef ({_PRACTICE})"),
    "alkalinity": Usual("8 dKH", f"usual for a reef ({_PRACTICE})"),
    "nitrate": Usual("10 mg/l", f"usual for a stocked reef ({_PRACTICE})"),
    "old-sand": Usual(
        "replace", f"stirred old sand can foul the water, so new sand is the safe choice ({_PRACTICE})"
    ),
    "age": Usual("24 months", "a reef that has run long enough to be worth moving; assumed"),
    "no-purchase": Usual("0 kg", "nothing is said of buying any"),
    "no-rock": Usual("0 kg", "a tank of this role is usually bare"),
    "no-sand-bed": Usual("0 cm", "a tank of this role is usually bare"),
    "no-sump": Usual("0 l", "a tank of this role usually has no sump"),
    "spot": Usual("other", "a new tank usually gets its own spot; write same if it takes the old one's"),
    "seeding": Usual("rock", f"wet rock from the old tank goes ahead ({_PRACTICE})"),
    "delivery": Usual("42 days", f"tanks are often made to order ({_PRACTICE})"),
    "count": Usual("1", "no count is given, so one"),
    "lifts": Usual("yes", "nobody says they cannot lift"),
    "drives-first": Usual("yes", "the first person drives if nobody is named"),
    "drives": Usual("no", "only who is said to drive drives"),
    "cares-first": Usual("yes", "the first person is taken for the keeper"),
    "cares": Usual("no", "only the keeper and who is said to do so handle animals"),
    "hours": Usual(
        "{mon-fri: 18:00-21:00, sat-sun: 09:00-18:00}",
        "evenings after work and the daytime of weekends; assumed",
    ),
    "hours-own-tasks": Usual("00:00-24:00", "no working hours are given, so any time"),
    "moving-day": Usual("06:30-23:00", "the moving day is kept free, with the night left for sleep"),
    "holidays-off": Usual("no", "public holidays are good days for such work"),
    "cost-person": Usual("0 per hour", "friends and family work unpaid unless the plan says otherwise"),
    "payload": Usual("800 kg", f"a mid-sized van with its crew aboard; look at its plate ({_PRACTICE})"),
    "load-space": Usual(
        "{length: 2.5 m, width: 1.7 m, height: 1.4 m}",
        f"a mid-sized van ({_PRACTICE})",
        in_us="{length: 98 in, width: 67 in, height: 55 in}",
    ),
    "seats": Usual("3", f"a van with one row of seats ({_PRACTICE})"),
    "vehicle-hours": Usual("00:00-24:00", "no hours are given, so any time within the hire"),
    "cost-vehicle": Usual("0 per day", "it is not hired, so no daily price"),
    "cost-hire": Usual("90 per day", "an invented price of a hired van; ask for a quote"),
    "late-person": Usual("within 2 days", f"pay of a day of eight hours; ask them ({_PRACTICE})"),
    "late-hire": Usual("within 7 days", f"a day of the hire; it stands in the contract ({_PRACTICE})"),
    "load-space-air": Usual("plain", "nothing is said of heating or cooling in the load space"),
    "parked": Usual(
        "shade", "it is parked out of the sun while animals are loaded; write sun if it cannot be"
    ),
    "rate": Usual("190 l/day", f"a common size of household unit ({_PRACTICE})"),
    "rated-pressure": Usual("4 bar", f"household units are mostly rated near this pressure ({_PRACTICE})"),
    "feed-pressure": Usual("3.5 bar", f"usual pressure of a household supply ({_PRACTICE})"),
    "water-temperature": Usual("12 C", f"cold tap water in spring or autumn ({_PRACTICE})"),
    "waste-ratio": Usual("3", f"parts of waste water for one of purified water ({_PRACTICE})"),
    "storage": Usual("0 l", "no storage is named beside the tubs"),
    "salt-moisture": Usual("6 %", f"dry mixes hold some crystal water and moisture ({_PRACTICE})"),
    "insulated": Usual("no", "nothing is said of insulation"),
    "insulated-box": Usual("yes", "boxes in this list are insulated"),
    "takes": Usual("[fish, corals, invertebrates]", "nothing is said of animals it would not take"),
    "cost-boarding": Usual("0 per day", "no price is given"),
    "safe-time-risk": Usual("5 %", "a chance most keepers would accept; change it if you would not"),
    "confidence": Usual(
        "80 %", "what is promised is kept in eight of ten cases; change it if you want to be surer"
    ),
    "people": Usual("{keeper: {}, helper: {}}", "two people are the least for carrying a tank"),
    "vehicles": Usual("{van: {hired: yes}}", "a house move needs a vehicle, so a mid-sized hired van"),
}

GEAR_VOLUMES: Mapping[str, Usual] = {
    "tub": Usual("60 l", f"a common lidded tub ({_PRACTICE})"),
    "box": Usual("40 l", f"a common insulated box ({_PRACTICE})"),
    "bag": Usual("12 l", f"a large fish bag ({_PRACTICE})"),
    "pail": Usual("15 l", f"a lidded pail of 10 to 20 l ({_PRACTICE})"),
    "can": Usual("20 l", f"a lidded water can that one person can carry ({_PRACTICE})"),
}
GEAR_POWERS: Mapping[str, Usual] = {"heater": Usual("300 W", f"a common large heater ({_PRACTICE})")}
GEAR_OUTLETS: Mapping[str, Usual] = dict.fromkeys(
    ("air-pump", "mains-air-pump"), Usual("1", "nothing is said of more air outlets, so one a pump")
)
GEAR_FLOWS: Mapping[str, Usual] = {"pump": Usual("2000 l/h", f"a small transfer pump ({_PRACTICE})")}
GEAR_BATTERIES: Mapping[str, Usual] = {
    "air-pump": Usual("12 h", f"a battery air pump, fully charged ({_PRACTICE})")
}

EQUIPMENT_MASSES: Mapping[str, str] = {
    "heater": "0.5 kg",
    "return-pump": "2 kg",
    "circulation-pump": "1 kg",
    "skimmer": "5 kg",
    "light": "4 kg",
    "top-up": "1 kg",
    "dosing": "2 kg",
    "reactor": "3 kg",
    "uv": "2 kg",
    "ozone": "1 kg",
    "chiller": "20 kg",
    "controller": "1 kg",
    "other": "1 kg",
}
EQUIPMENT_POWERS: Mapping[str, str] = {
    "heater": "200 W",
    "return-pump": "40 W",
    "circulation-pump": "20 W",
    "skimmer": "20 W",
    "light": "100 W",
    "top-up": "5 W",
    "dosing": "5 W",
    "reactor": "10 W",
    "uv": "25 W",
    "ozone": "10 W",
    "chiller": "300 W",
    "controller": "5 W",
    "other": "0 W",
}
EQUIPMENT_FLOWS: Mapping[str, str] = {"return-pump": "2000 l/h", "circulation-pump": "4000 l/h"}
EQUIPMENT_WHY = f"usual for such a piece of equipment ({_PRACTICE})"
FLOWING_WHY = f"usual for such a pump ({_PRACTICE})"

STEPS_A_FLOOR = 16
"""Steps to a storey; common practice, no source. [-]"""
STEPS_WHY = f"about {STEPS_A_FLOOR} steps to a storey ({_PRACTICE})"

NOMINAL_THICKNESSES_MM = (5, 6, 8, 10, 12, 15, 19, 25)
"""Thicknesses in which panes are sold; common practice, no source. [mm]"""
WALL_BY_HEIGHT_M = ((0.35, 6), (0.45, 8), (0.52, 10), (0.62, 12), (0.75, 15), (20.0, 19))
"""Up to which height of a tank its walls have which thickness; common practice, no source. [m, mm]"""
LONG_TANK_M = 1.6
"""Length from which on a tank counts as long. Assumed. [m]"""
WALL_WHY = (
    f"usual for a tank of this height and length, taken for its mass only ({_PRACTICE}); measure the edge"
)
BASE_WHY = f"one nominal thickness more than the sides ({_PRACTICE}); measure the edge"
RIM_M = 0.05
"""How far below the rim water stands; common practice, no source. [m]"""
WATER_WHY = f"water stands {RIM_M * 100:.0f} cm below the rim ({_PRACTICE})"

SUMP_SHARE = 0.2
"""Share of the tank's volume that a sump has; common practice, no source. [-]"""
SUMP_WHY = f"a fifth of the tank's inner volume while running ({_PRACTICE}); 0 l if there is no sump"
STAND_KG_A_METRE = 45.0
"""Mass of a stand for each metre of its length; common practice, no source. [kg/m]"""
STAND_WHY = f"about {STAND_KG_A_METRE:.0f} kg/m of length ({_PRACTICE})"
ROCK_KG_A_LITRE = 0.1
"""Rock for each litre; common practice, no source. [kg/l]"""
ROCK_WHY = f"about 1 kg to 10 l of tank ({_PRACTICE})"
SAND_DEPTH_MM = 30
"""Depth of a shallow bed of sand; common practice, no source. [mm]"""
SAND_DEPTH_WHY = f"a shallow bed of {SAND_DEPTH_MM // 10} cm ({_PRACTICE})"
SAND_KG_A_LITRE = 1.5
"""Density of dry, loose sand; common practice, no source. [kg/l]"""
SAND_WHY = f"the bed's volume at {SAND_KG_A_LITRE} kg/l, dry and loose ({_PRACTICE})"
SAND_DEPTH_FROM_MASS_WHY = f"the sand's mass at {SAND_KG_A_LITRE} kg/l over the floor of the tank"
FEED_G_A_LITRE = 0.01
"""Food a day for each litre; common practice, no source. [g/l]"""
FEED_WHY = f"about 1 g of dry feed a day to 100 l ({_PRACTICE})"

HEATER_W_A_LITRE = 1.0
"""Heaters for each litre; common practice, no source. [W/l]"""
TURNOVER_RETURN_PER_H = 5.0
"""Times an hour that the return pump turns the tank over; common practice, no source. [1/h]"""
TURNOVER_STREAM_PER_H = 10.0
"""Times an hour that stream pumps turn the tank over; common practice, no source. [1/h]"""
EQUIPMENT_SET_WHY = f"what a reef of this size usually runs ({_PRACTICE}); list your own"

ANIMAL_VALUES: Mapping[str, str] = {"fish": "40", "corals": "50", "invertebrates": "10"}
ANIMAL_VALUE_WHY = "an invented demo figure; write what it is worth to you"
FALL_BACK_WHY = "a week after the move day, kept free in case you decide the evening before not to go"
FIRST_OF_TWO_WHY = "the clocks go back over this time, so they show it twice; the first is taken"
