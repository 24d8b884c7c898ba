"""The plan of the invented scene."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

from moveplan.plan.livestock import Livestock
from moveplan.plan.move import Dates, Plan
from moveplan.plan.people import Contact, Helper, Vehicle
from moveplan.plan.places import Drive, Place
from moveplan.plan.supplies import GearItem
from moveplan.plan.systems import System, Tank

ZONE = ZoneInfo("Europe/Dublin")


def at(text: str) -> int:
    """UTC minutes of a wall-clock time in the scene's zone."""
    return int(datetime.fromisoformat(text).replace(tzinfo=ZONE).timestamp() // 60)


def plan() -> Plan:
    open_hours: tuple[()] = ()
    return Plan(
        id="3f1c2d7a-91d5-4c57-8a44-0d9b5b1f6a20",
        title="Reef to Quarry Rise (invented)",
        purpose="house-move",
        way="same-day",
        now=at("2027-03-01 09:00"),
        start=None,
        zone=ZONE,
        locale="en_IE",
        units="metric",
        country="IE",
        currency="EUR",
        dates=Dates(
            (date(2027, 5, 22),), date(2027, 5, 29), at("2027-05-20 12:00"), at("2027-06-01 12:00"), None
        ),
        places=(
            Place(
                "mill",
                "Mill Terrace",
                1,
                18,
                25.0,
                False,
                "suspended",
                True,
                True,
                17.0,
                0.78,
                2300.0,
                "IE",
                "",
                21.0,
            ),
            Place(
                "quarry",
                "Quarry Rise",
                0,
                3,
                15.0,
                False,
                "slab",
                True,
                True,
                17.0,
                0.8,
                2300.0,
                "IE",
                "",
                21.0,
            ),
        ),
        drives=(Drive("mill", "quarry", 38.0, None),),
        systems=(
            System(
                "display",
                "Display reef",
                "display",
                "mill",
                "quarry",
                Tank(1.2, 0.6, 0.55, 0.012, 0.012, "glass", 0.5),
                80.0,
                55.0,
                35.0,
                25.5,
                8.1,
                8.0,
                8.0,
                38.0,
                30.0,
                0.04,
                "replace",
                None,
                4.0,
                48.0,
            ),
        ),
        livestock=(
            Livestock("clowns", "Clownfish", "clownfish", 2, 7.0, None, "peaceful", "display", Decimal(35)),
            Livestock(
                "tang", "Yellow-finned tang", "tang", 1, 13.0, None, "territorial", "display", Decimal(120)
            ),
            Livestock(
                "hammers",
                "Hammer corals",
                "large-polyp-coral",
                5,
                12.0,
                None,
                "peaceful",
                "display",
                Decimal(70),
            ),
            Livestock(
                "shrimp", "Cleaner shrimp", "cleaner-shrimp", 2, 5.0, None, "peaceful", "display", Decimal(30)
            ),
        ),
        people=tuple(
            Helper(key, name, True, True, True, open_hours, open_hours, (), False, Decimal(0), "")
            for key, name in (("una", "Una Harte"), ("per", "Per Olin"), ("cai", "Cai Moss"))
        ),
        vehicles=(
            Vehicle(
                "van",
                "Hired long van",
                1100.0,
                3.1,
                1.7,
                1.8,
                3,
                True,
                at("2027-05-22 07:00"),
                at("2027-05-23 11:00"),
                open_hours,
                Decimal(95),
                Decimal(0),
                8.0,
                12.0,
            ),
        ),
        water_making=None,
        gear=(GearItem("tubs", "Lidded 60 l tubs", "tub", 14, 60.0),),
        prices=(),
        tasks=(),
        contacts=(Contact("vet", "Quayside fish vet (invented)", "vet", "+353 1 000 0000"),),
        boarding=(),
        policy={},
        low_high=(0.0, 1.0),
        safe_time_risk=0.05,
        confidence=0.9,
        assumptions=(),
        file_name="scene.yaml",
        lines={"dates.move-day": 12},
    )
