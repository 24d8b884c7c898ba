"""Places and the ways between them."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.estimate import Provenance


@dataclass(frozen=True, slots=True)
class ThreePoint:
    """Low, likely and high as the keeper gave them.

    Parameters
    ----------
    low, likely, high : float
        In the unit that the holding field names.
    """

    low: float
    likely: float
    high: float


@dataclass(frozen=True, slots=True)
class Place:
    """A home, an office, a friend's garage.

    Parameters
    ----------
    id, name : str
        Identity and what to print.
    floor : int
        Storey; 0 is the ground floor.
    steps : int
        Stair steps between the door and the room.
    carry_m : float
        One way on foot from the room to where the vehicle stands, stairs left out. [m]
    lift : bool
        Whether there is a lift that carries the tank.
    floor_kind : str
        ``slab`` (on the ground) or ``suspended``.
    has_water, has_power : bool
        Whether they are connected.
    room_temperature_c : float
        Coldest expected air in the room. [°C]
    door_width_m : float or None
        Narrowest clear width on the way. [m]
    circuit_w : float or None
        What the circuit may carry. [W]
    country : str
        ISO 3166 code.
    address : str
        As the keeper wrote it; empty where not given.
    room_high_c : float
        Warmest expected air in the room on the moving day. [°C]
    altitude_m : float
        Above sea level. [m]
    from_base_km : float or None
        From the base of the firm that plans the move among others; None: not given. [km]
    area : str
        Id of the area it lies in, for ways between the clients of a firm; empty where not given.
    """

    id: str
    name: str
    floor: int
    steps: int
    carry_m: float
    lift: bool
    floor_kind: str
    has_water: bool
    has_power: bool
    room_temperature_c: float
    door_width_m: float | None
    circuit_w: float | None
    country: str
    address: str
    room_high_c: float
    altitude_m: float = 0.0
    from_base_km: float | None = None
    area: str = ""

    @property
    def carried_steps(self) -> int:
        """Stair steps over which things are carried: none where a lift carries even the tank."""
        return 0 if self.lift else self.steps


@dataclass(frozen=True, slots=True)
class OutsideAir:
    """Air outside on the moving day.

    Parameters
    ----------
    low_c, high_c : float
        Least of the night before and greatest of the day. [°C]
    known : Provenance
        Given by the keeper, or assumed.
    """

    low_c: float
    high_c: float
    known: Provenance


@dataclass(frozen=True, slots=True)
class Drive:
    """The way between two places.

    Parameters
    ----------
    origin, destination : str
        Ids of the places.
    distance_km : float
        One way. [km]
    minutes : ThreePoint or None
        Door to door as given; None: to be computed from the distance. [min]
    """

    origin: str
    destination: str
    distance_km: float
    minutes: ThreePoint | None
