"""Water making and gear, as written."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from moveplan.planfile.schema.entry import Entry
from moveplan.planfile.schema.leaves import Choice, Count, Flag, Name, Number, Quantity
from moveplan.planfile.schema.money import Sum
from moveplan.planfile.schema.systems import Flow, Power
from moveplan.planfile.schema.words import GEAR_ALSO, GEAR_KINDS, OWNERS

Pressure = Annotated[float, Quantity("bar", 0.1, 20, "3.5 bar")]


class WaterMakingEntry(Entry):
    """How you get purified water."""

    rate: Annotated[float, Quantity("l/day", 0, 100_000, "190 l/day")] | None = Field(
        None, description="Rated output of the unit; 0 l/day where water is bought."
    )
    rated_pressure: Pressure | None = Field(
        None, description="Pressure at which the unit has its rated output.", examples=["4 bar"]
    )
    feed_pressure: Pressure | None = Field(None, description="Pressure of the tap water.")
    water_temperature: Annotated[float, Quantity("°C", 0, 40, "12 C")] | None = Field(
        None, description="Temperature of the tap water."
    )
    waste_ratio: Annotated[float, Number(0, 20, "3")] | None = Field(
        None, description="Litres of waste for one litre of purified water."
    )
    storage: Annotated[float, Quantity("l", 0, 100_000, "250 l")] | None = Field(
        None, description="Clean storage for purified and mixed water, beside the tubs."
    )
    salt_moisture: Annotated[float, Quantity("%", 0, 30, "6 %")] | None = Field(
        None, description="Share of the dry mix that is water."
    )
    ready_mixed: Flag | None = Field(
        None,
        description="Whether a shop mixes the salt water for the move. Without it, a shop does where that is the "
        "only way or cheaper.",
    )


class GearEntry(Entry):
    """Equipment you have several of: tubs, heaters, pumps."""

    name: Name | None = Field(None, description="What to print.", examples=["Lidded 60 l tubs"])
    kind: Annotated[str, Choice(GEAR_KINDS, tuple(GEAR_ALSO.items()))] | None = Field(
        None, description="What they are."
    )
    count: Count | None = Field(None, description="How many there are.")
    volume: Annotated[float, Quantity("l", 0, 5000, "60 l")] | None = Field(
        None, description="Full volume of one."
    )
    power: Power | None = Field(None, description="Electrical power of one.")
    flow: Flow | None = Field(None, description="Flow of one.")
    battery: Annotated[float, Quantity("h", 0, 2000, "20 h")] | None = Field(
        None, description="How long one runs on a full battery, or on all the cells you have for it."
    )
    insulated: Flag | None = Field(None, description="Whether the walls are insulated.")
    price: Sum | None = Field(None, description="Price of one if it has to be bought.", examples=["16"])
    owned: Flag | None = Field(None, description="Whether you have it already.")
    outlets: Annotated[int, Number(1, 12, "2", whole=True)] | None = Field(
        None, description="Air outlets of one air pump."
    )
    owner: Annotated[str, Choice(OWNERS)] | None = Field(
        None, description="Whose it is, when a firm plans the move."
    )
