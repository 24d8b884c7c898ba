"""Power of a system that runs beside the rest: a new tank that ripens, or one in which animals wait."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from moveplan.cost.bill import Bill, exact
from moveplan.cost.book import price_book, tariff
from moveplan.cost.work import usage
from moveplan.plan.systems import Equipment, System
from moveplan.practice.project import Moment, Project
from moveplan.scheduling.schedule import Schedule
from moveplan.times import MINUTES_A_DAY, Interval


@dataclass(frozen=True, slots=True)
class Running:
    """A system that runs beside the rest.

    Parameters
    ----------
    system : str
        Its id.
    name : str
        What to print.
    minutes : int
        How long. [min]
    power_w : float
        On average. [W]
    """

    system: str
    name: str
    minutes: int
    power_w: float


def add_running(bill: Bill, project: Project, schedule: Schedule) -> None:
    """Add power of systems that run beside the rest.

    Parameters
    ----------
    project : Project
        Its systems and the ways of its animals.
    """
    if not schedule.placements:
        return
    for one in (*_ripening(project, schedule), *_waiting(project, schedule)):
        _add(bill, one)


def _add(bill: Bill, one: Running) -> None:
    days = exact(one.minutes / MINUTES_A_DAY, 1)
    energy = exact(one.power_w * one.minutes / 60_000, 1)
    group = price_book()["electricity"].group
    price = tariff(bill.plan, "electricity")
    bill.add(
        f"running-{one.system}",
        group,
        energy,
        price,
        "running",
        system=one.name,
        power=exact(one.power_w, 0),
        days=days,
    )


def _ripening(project: Project, schedule: Schedule) -> Iterator[Running]:
    """Find new tanks, from when they run until the first animal comes in."""
    keys = usage()["running"]["begins"]
    for system in project.plan.systems:
        new = system.new_tank
        names = {f"{key}-{system.id}" for key in keys}
        begins = [one.start for one in schedule.placements if one.task in names]
        homes = [route.stops[-1].since for route in project.routes]
        ends = [_when(schedule, moment) for moment in homes if moment is not None]
        if new is None or not begins or not ends:
            continue
        equipment = new.equipment or system.equipment
        minutes = max(min(ends) - min(begins), 0)
        yield Running(system.id, system.name, minutes, _power_w(equipment))


def _waiting(project: Project, schedule: Schedule) -> Iterator[Running]:
    """Find systems in which animals wait between two homes."""
    stays: dict[str, list[Interval]] = {}
    for route in project.routes:
        for stop in route.stops[1:-1]:
            if stop.safe is None and stop.since is not None and stop.until is not None:
                span = Interval(_when(schedule, stop.since), _when(schedule, stop.until))
                stays.setdefault(stop.container, []).append(span)
    for system in project.plan.systems:
        spans = stays.get(system.name, [])
        if spans and system.role == "holding":
            yield _holding(system, spans)


def _holding(system: System, spans: Sequence[Interval]) -> Running:
    minutes = max(span.finish for span in spans) - min(span.start for span in spans)
    return Running(system.id, system.name, minutes, _power_w(system.equipment))


def _when(schedule: Schedule, moment: Moment) -> int:
    stands = schedule.of(moment.task)
    return stands.start if moment.edge == "start" else stands.finish


def _power_w(equipment: Sequence[Equipment]) -> float:
    duty = usage()["running"]["duty"]
    parts = (one.power_w * one.count * duty.get(one.kind, duty["other"]) for one in equipment)
    return float(sum(parts))
