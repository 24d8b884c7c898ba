"""Places and the ways between them, as written."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from moveplan.plan.places import ThreePoint
from moveplan.planfile.schema.entry import Entry, ThreePointLeaf
from moveplan.planfile.schema.leaves import Choice, Flag, Id, Name, Number, Pattern, Quantity
from moveplan.planfile.schema.words import COUNTRY_CODE, FLOOR_KINDS

DriveTime = Annotated[ThreePoint, ThreePointLeaf(Quantity("min", 1, 2880, "50 min"))]
Distance = Annotated[float, Quantity("km", 0, 3000, "38 km")]
ALTITUDE = Quantity("m", -430, 4500, "1600 m")
"""From the lowest shore to the highest towns."""
OUTSIDE_AIR = Quantity("°C", -40, 55, "9 C")
Country = Annotated[str, Pattern(COUNTRY_CODE, "a country code of two letters", "IE")]


class PlaceEntry(Entry):
    """A home, an office, a friend's garage; the first in the plan is the old home."""

    name: Name | None = Field(None, description="What to print.", examples=["Mill Terrace"])
    floor: Annotated[int, Number(-5, 60, "1", whole=True)] | None = Field(
        None, description="Storey; 0 is the ground floor."
    )
    steps: Annotated[int, Number(0, 2000, "18", whole=True)] | None = Field(
        None, description="Stair steps between the door and the room."
    )
    carry: Annotated[float, Quantity("m", 0, 1000, "25 m")] | None = Field(
        None, description="One way on foot from the room to where the vehicle stands, stairs left out."
    )
    lift: Flag | None = Field(None, description="Whether there is a lift that carries the tank.")
    floor_kind: Annotated[str, Choice(FLOOR_KINDS)] | None = Field(
        None, description="slab (on the ground) or suspended."
    )
    water: Flag | None = Field(None, description="Whether water is connected.")
    power: Flag | None = Field(None, description="Whether power is connected.")
    room_temperature: Annotated[float, Quantity("°C", -10, 45, "18 C")] | None = Field(
        None, description="Coldest air expected in the room."
    )
    room_temperature_high: Annotated[float, Quantity("°C", -10, 45, "24 C")] | None = Field(
        None, description="Warmest air expected in the room on the moving day."
    )
    altitude: Annotated[float, ALTITUDE] | None = Field(None, description="Height above sea level.")
    door_width: Annotated[float, Quantity("m", 0.3, 10, "80 cm")] | None = Field(
        None, description="Narrowest clear width between the room and the vehicle."
    )
    circuit: Annotated[float, Quantity("W", 100, 100_000, "3000 W")] | None = Field(
        None, description="What the circuit for the tank may carry."
    )
    country: Country | None = Field(None, description="Its country, if it is another than the plan's.")
    address: Name | None = Field(None, description="As you write it.", examples=["4 Harbour Lane"])
    distance: Distance | None = Field(None, description="One way by road from the first place.")
    drive: DriveTime | None = Field(None, description="Door to door from the first place.")
    from_base: Distance | None = Field(
        None, description="One way by road from the base of a firm that plans the move."
    )
    area: Id | None = Field(
        None, description="The area it lies in, for a firm's drives between clients.", examples=["harbour"]
    )


class OutsideEntry(Entry):
    """Air outside on the moving day."""

    low: Annotated[float, OUTSIDE_AIR] | None = Field(
        None, description="Coldest of the night.", examples=["2 C"]
    )
    high: Annotated[float, OUTSIDE_AIR] | None = Field(None, description="Warmest of the day.")


class DriveEntry(Entry):
    """The way between two places, where neither is the first."""

    from_: Id = Field(description="A place.", examples=["old"])
    to: Id = Field(description="Another place.", examples=["new"])
    distance: Distance = Field(description="One way by road.", examples=["9 km"])
    drive: DriveTime | None = Field(None, description="Door to door.")
