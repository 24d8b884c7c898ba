"""What a firm told us: its people, vehicles, gear, rates and jobs, complete, as frozen values."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from pathlib import Path
from zoneinfo import ZoneInfo

from moveplan.hours import Absence
from moveplan.plan.move import Assumption
from moveplan.plan.people import Helper, Vehicle
from moveplan.plan.places import Drive, Place
from moveplan.plan.supplies import GearItem


@dataclass(frozen=True, slots=True)
class Worker:
    """Somebody of the firm.

    Parameters
    ----------
    helper : Helper
        Who, with hours and pay, as in a move.
    longest_day_min : int
        Most minutes of work and driving on one day; breaks do not count. [min]
    rest_min : int
        Least time from the end of one day, back at the base, to the beginning of the next. [min]
    """

    helper: Helper
    longest_day_min: int
    rest_min: int

    @property
    def id(self) -> str:
        """Identity."""
        return self.helper.id

    @property
    def name(self) -> str:
        """What to print."""
        return self.helper.name


@dataclass(frozen=True, slots=True)
class FirmVehicle:
    """A vehicle of the firm.

    Parameters
    ----------
    vehicle : Vehicle
        As in a move.
    plate : str
        Number plate; empty where not given.
    service : tuple of Absence
        Days on which it is not there.
    """

    vehicle: Vehicle
    plate: str = ""
    service: tuple[Absence, ...] = ()

    @property
    def id(self) -> str:
        """Identity."""
        return self.vehicle.id

    @property
    def name(self) -> str:
        """What to print."""
        return self.vehicle.name


@dataclass(frozen=True, slots=True)
class FirmGear:
    """Gear of the firm.

    Parameters
    ----------
    item : GearItem
        As in a move.
    ready_after_min : int
        From its return to the base until it may leave again: washing and drying. [min]
    """

    item: GearItem
    ready_after_min: int = 0


@dataclass(frozen=True, slots=True)
class WaterPlant:
    """Purified water made at the base.

    Parameters
    ----------
    litres_a_day : float
        What it makes on a day. [l/day]
    storage_l : float
        What is kept at most. [l]
    """

    litres_a_day: float
    storage_l: float


STOCKED = ("salt", "bag", "test-kits")
"""Items of the price book whose stock is kept over all jobs. [-]"""


@dataclass(frozen=True, slots=True)
class FirmStock:
    """What there is of something that is used up.

    Parameters
    ----------
    item : str
        As in the price book.
    there : Decimal
        How much, as of now. [kg], or pieces
    delivery_days : int
        From order to delivery. [day]
    """

    item: str
    there: Decimal
    delivery_days: int


@dataclass(frozen=True, slots=True)
class Wear:
    """What a client is charged for wear.

    Parameters
    ----------
    price : Decimal
        Of a kilometre of each vehicle, or of a begun day of each piece of gear. [currency/km] or [currency/day]
    by_day : bool
        Whether it is of a day.
    """

    price: Decimal
    by_day: bool


@dataclass(frozen=True, slots=True)
class Rates:
    """What a client is charged.

    Parameters
    ----------
    lead, hand : Decimal
        For an hour of whoever leads, and of anybody else. [currency/h]
    per_km : Decimal
        For a kilometre of each vehicle; with its wear where no wear is given. [currency/km]
    margin, tax : Decimal
        On everything; on everything with the margin. Shares of one.
    valid_days : int
        How long a quote holds. [day]
    wear : Wear or None
        Of vehicles or gear; None: it is charged with the kilometres.
    """

    lead: Decimal
    hand: Decimal
    per_km: Decimal
    margin: Decimal
    tax: Decimal
    valid_days: int
    wear: Wear | None = None


@dataclass(frozen=True, slots=True)
class Job:
    """One move for a client, as the firm file says it.

    Parameters
    ----------
    id : str
        Names it on every output.
    plan : Path
        Its plan file.
    window : tuple of (date, date) or None
        First and last day on which it may be; None: what its plan says.
    day : date or None
        The day that is wished, or promised.
    promised : bool
        Whether the day is promised: it never moves by itself.
    priority : float
        Weight of its wishes against those of others.
    promise_price : Decimal
        What it costs to move a promised day, once the client was asked. [currency]
    care : str
        ``client``: recurring care is the client's where its plan names people; ``firm``: it is the firm's.
    where : str
        Line of the firm file.
    """

    id: str
    plan: Path
    window: tuple[date, date] | None
    day: date | None
    promised: bool
    priority: float
    promise_price: Decimal
    care: str
    where: str


@dataclass(frozen=True, slots=True)
class Out:
    """Somebody, or a vehicle, that is not there on some days, as was recorded.

    Parameters
    ----------
    id : str
        Of a person or a vehicle.
    first, last : date
        Local days, both included.
    """

    id: str
    first: date
    last: date


@dataclass(frozen=True, slots=True)
class Firm:
    """Everything a firm told us.

    Parameters
    ----------
    id, title, locale, units, country, currency : str
        As in a plan.
    now : int
        As of when it is planned, UTC. [min]
    zone : ZoneInfo
        Zone of all times.
    base : Place
        Where people and vehicles begin and end each day.
    drives : tuple of Drive
        Ways between areas, places (``JOB.PLACE``) and the base.
    people : tuple of Worker
        Who there is.
    vehicles : tuple of FirmVehicle
        What there is to drive.
    gear : tuple of FirmGear
        What there is to use.
    water : WaterPlant or None
        None: no water is made at the base.
    rates : Rates
        What clients are charged.
    jobs : tuple of Job
        In the order of the file.
    assumptions : tuple of Assumption
        What was filled in.
    path : Path
        The firm file.
    lines : Mapping of str to int
        Key path to line of the firm file.
    phone : str
        That clients may call; empty where not given.
    stock : tuple of FirmStock
        Things that are used up, as far as the file says what there is.
    learn : tuple of Path
        Plans of earlier moves, with their journals beside them, to learn from.
    """

    id: str
    title: str
    locale: str
    units: str
    country: str
    currency: str
    now: int
    zone: ZoneInfo
    base: Place
    drives: tuple[Drive, ...]
    people: tuple[Worker, ...]
    vehicles: tuple[FirmVehicle, ...]
    gear: tuple[FirmGear, ...]
    water: WaterPlant | None
    rates: Rates
    jobs: tuple[Job, ...]
    assumptions: tuple[Assumption, ...]
    path: Path
    lines: Mapping[str, int] = field(repr=False)
    phone: str = ""
    stock: tuple[FirmStock, ...] = ()
    learn: tuple[Path, ...] = ()

    def worker(self, worker_id: str) -> Worker:
        """Find somebody by id; KeyError where there is nobody of that id."""
        return {one.id: one for one in self.people}[worker_id]

    def job(self, job_id: str) -> Job:
        """Find a job by id; KeyError where there is none."""
        return {one.id: one for one in self.jobs}[job_id]

    def where(self, key: str) -> str:
        """``FILE:LINE KEY`` of a key path."""
        line = self.lines.get(key)
        return f"{self.path}:{line} {key}" if line else f"{self.path} {key}"
