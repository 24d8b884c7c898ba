"""Tanks, sumps and equipment, as written."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import Field

from moveplan.planfile.schema.entry import Entry, Section
from moveplan.planfile.schema.leaves import Choice, Id, Leaf, Name, Number, Quantity, Share
from moveplan.planfile.schema.money import Sum
from moveplan.planfile.schema.refusals import below, each, refusal
from moveplan.planfile.schema.words import EQUIPMENT_KINDS, MATERIALS, OLD_SAND, ROLES, SEEDINGS, SPOTS
from moveplan.units import quoted

SIZE = Quantity("m", 0.1, 20, "60 cm")
Size = Annotated[float, SIZE]
Thickness = Annotated[float, Quantity("m", 0.002, 0.2, "12 mm")]
Volume = Annotated[float, Quantity("l", 0, 100_000, "80 l")]
Mass = Annotated[float, Quantity("kg", 0, 20_000, "40 kg")]
Power = Annotated[float, Quantity("W", 0, 20_000, "200 W")]
Flow = Annotated[float, Quantity("l/h", 0, 200_000, "3000 l/h")]


_GRAVITY = "{specific-gravity: 1.0264, sample: 25 C, reference: 25 C}"


@dataclass(frozen=True)
class SalinityLeaf(Leaf[float]):
    """Practical salinity, or a specific gravity with both its temperatures."""

    def take(self, value: object) -> float:
        """Read a salinity or a specific gravity."""
        return self._from_gravity(value) if isinstance(value, dict) else super().take(value)

    def read(self, text: str) -> float:
        """Read practical salinity."""
        shown = text.casefold().strip()
        for unit in ("ppt", "psu", "‰", "g/kg"):
            shown = shown.removesuffix(unit).strip()
        number = Number(0, 42, "35").read(shown or text)
        if 1.0 <= number <= 1.04:
            raise refusal(
                f"{quoted(text)} looks like a specific gravity, which says nothing without its temperatures",
                f'write "{{specific-gravity: {shown}, sample: 25 C, reference: 25 C}}" or a salinity such as "35"',
            )
        return number

    def _from_gravity(self, value: dict[str, object]) -> float:
        keys = ("specific-gravity", "sample", "reference")
        if sorted(value) != sorted(keys):
            raise refusal(
                f"the keys here are {', '.join(keys)}",
                'write for example "{specific-gravity: 1.0264, sample: 25 C, reference: 25 C}"',
            )
        gravity, sample, reference = each(lambda key: self._part(key, value[key]), keys)
        return self._converted(gravity, sample, reference)

    def _part(self, key: str, value: object) -> float:
        leaf: Leaf[float] = (
            Number(1.0, 1.04, "1.0264") if key == "specific-gravity" else Quantity("°C", 0, 40, "25 C")
        )
        with below(key):
            return leaf.take(value)

    def _converted(self, gravity: float, sample_c: float, reference_c: float) -> float:
        from moveplan.errors import OutOfRangeError
        from moveplan.science.water.seawater import salinity_from_specific_gravity_psu

        try:
            return round(float(salinity_from_specific_gravity_psu(gravity, sample_c, reference_c)), 2)
        except OutOfRangeError:
            raise refusal(
                f"a specific gravity of {gravity} at {sample_c:g} C is no seawater", 'write for example "35"'
            ) from None

    def json(self) -> dict[str, Any]:
        """Describe both forms."""
        number = Number(0, 42, "35").json() | {"type": ["number", "string"]}
        number["pattern"] = r"^\s*[+]?[0-9]{1,12}(\.[0-9]{1,12})?\s*(ppt|psu|‰|g/kg)?\s*$"
        temperature = {"$ref": "#/$defs/temperature"}
        gravity = {
            "type": "object",
            "properties": {
                "specific-gravity": Number(1.0, 1.04, "1.0264").json(),
                "sample": temperature,
                "reference": temperature,
            },
            "required": ["specific-gravity", "sample", "reference"],
            "additionalProperties": False,
        }
        return {"anyOf": [number, gravity], "examples": ["35", _GRAVITY]}


Salinity = Annotated[float, SalinityLeaf()]


class TankEntry(Entry):
    """An aquarium by its outer dimensions."""

    length: Size = Field(description="Outer length.", examples=["120 cm"])
    width: Size = Field(description="Outer width, front to back.", examples=["60 cm"])
    height: Size = Field(description="Outer height.", examples=["55 cm"])
    wall: Thickness | None = Field(None, description="Thickness of the sides.")
    base: Thickness | None = Field(None, description="Thickness of the base.", examples=["15 mm"])
    material: Annotated[str, Choice(MATERIALS)] | None = Field(None, description="glass or acrylic.")
    water_height: Annotated[float, Quantity("m", 0.02, 20, "50 cm")] | None = Field(
        None, description="From the inner base to the water line."
    )


class EquipmentEntry(Entry):
    """A piece of equipment that matters for the move."""

    name: Name | None = Field(None, description="What to print.", examples=["Large heater"])
    kind: Annotated[str, Choice(EQUIPMENT_KINDS)] | None = Field(None, description="What it is.")
    count: Annotated[int, Number(1, 200, "2", whole=True)] | None = Field(None, description="How many.")
    power: Power | None = Field(None, description="Electrical power of one.")
    flow: Flow | None = Field(None, description="Flow of one.")
    mass: Mass | None = Field(None, description="Mass of one.", examples=["5 kg"])


class NewTankEntry(Entry):
    """The tank that a system moves into."""

    tank: TankEntry = Field(
        description="Its outer dimensions.", examples=["{length: 150 cm, width: 60 cm, height: 60 cm}"]
    )
    sump: Volume | None = Field(None, description="Water in its sump while running.")
    stand: Mass | None = Field(None, description="Mass of its stand.")
    spot: Annotated[str, Choice(SPOTS)] | None = Field(
        None, description="Whether it gets the same spot as the old tank, or another."
    )
    delivery: Annotated[float, Quantity("day", 0, 400, "6 weeks")] | None = Field(
        None, description="From order to delivery, likely."
    )
    price: Sum | None = Field(None, description="What it costs.", examples=["900"])
    rock: Mass | None = Field(None, description="Rock bought for it, dry.", examples=["20 kg"])
    seeding: Annotated[str, Choice(SEEDINGS)] | None = Field(None, description="What brings bacteria in.")
    sand: Mass | None = Field(None, description="Sand bought for it, dry.", examples=["30 kg"])
    equipment: Section[EquipmentEntry] | None = Field(
        None, description="What is bought for it.", examples=["{heater: {power: 300 W}}"]
    )


class SystemEntry(Entry):
    """Tank, sump and equipment with one body of water."""

    name: Name | None = Field(None, description="What to print.")
    role: Annotated[str, Choice(ROLES)] | None = Field(None, description="What it is for.")
    place: Id | None = Field(None, description="Where it stands now.", examples=["old"])
    moves_to: Id | None = Field(None, description="Where it will stand.", examples=["new"])
    tank: TankEntry = Field(
        description="Outer dimensions.", examples=["{length: 120 cm, width: 60 cm, height: 55 cm}"]
    )
    sump: Volume | None = Field(None, description="Water in the sump while running.")
    stand: Mass | None = Field(None, description="Mass of the stand.")
    salinity: Salinity | None = Field(None, description="Practical salinity, or a specific gravity.")
    temperature: Annotated[float, Quantity("°C", 15, 35, "25.5 C")] | None = Field(
        None, description="Temperature of the water."
    )
    ph: Annotated[float, Number(6.5, 9.0, "8.1")] | None = Field(
        None, description="pH, by a meter set with ordinary (NBS) buffers."
    )
    alkalinity: Annotated[float, Quantity("dKH", 1, 30, "8 dKH")] | None = Field(
        None, description="Carbonate alkalinity."
    )
    nitrate: Annotated[float, Quantity("mg/l", 0, 1000, "8 mg/l")] | None = Field(
        None, description="Nitrate, as NO3."
    )
    rock: Mass | None = Field(None, description="Live rock, dry mass.")
    sand: Mass | None = Field(None, description="Sand, dry mass.", examples=["30 kg"])
    sand_depth: Annotated[float, Quantity("m", 0, 1, "3 cm")] | None = Field(
        None, description="Depth of the sand."
    )
    old_sand: Annotated[str, Choice(OLD_SAND)] | None = Field(
        None, description="What happens to the old sand."
    )
    water_kept: Share | None = Field(None, description="Share of the old water to keep.", examples=["50 %"])
    feed: Annotated[float, Quantity("g/day", 0, 5000, "4 g/day")] | None = Field(
        None, description="Dry feed for all animals in it."
    )
    age: Annotated[float, Quantity("month", 0, 1200, "4 years")] | None = Field(
        None, description="How long it has been running."
    )
    equipment: Section[EquipmentEntry] | None = Field(
        None, description="What runs on it.", examples=["{heater: {power: 200 W}}"]
    )
    new_tank: NewTankEntry | None = Field(
        None,
        description="The tank it moves into, where it is another one.",
        examples=["{tank: {length: 150 cm, width: 60 cm, height: 60 cm}}"],
    )
