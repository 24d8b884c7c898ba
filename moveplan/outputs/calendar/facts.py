"""What the words of an event are made from: names instead of ids, local times instead of minutes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from moveplan.network.link import Link
from moveplan.network.task import State, Task
from moveplan.outputs.chances import stake_of
from moveplan.outputs.outlook import Outlook
from moveplan.outputs.wording.escape import one_line
from moveplan.practice.project import Caution
from moveplan.scheduling.schedule import Placement
from moveplan.times import Interval, to_local
from moveplan.units import retold, show_kept


@dataclass(frozen=True, slots=True)
class After:
    """Something that a task waits for.

    Parameters
    ----------
    from_finish, to_finish : bool
        Which ends the gap is measured between.
    min_gap_min, max_gap_min : int or None
        Least and greatest gap; None: no such gap. [min]
    """

    title: str
    from_finish: bool
    to_finish: bool
    min_gap_min: int | None
    max_gap_min: int | None


@dataclass(frozen=True, slots=True)
class Facts:
    """What is told of one segment of one task.

    Parameters
    ----------
    done : bool
        Whether it is completed.
    part, parts : int
        Which segment of how many.
    repeats : bool
        Whether the segments are occurrences of recurring care.
    start, finish : str
        Local times.
    steps : tuple of str
        What to do.
    people, vehicles : tuple of str
        Names.
    gear : tuple of (str, int)
        Names and counts.
    after : tuple of After
        What it waits for.
    cautions : tuple of Caution
        Dangers and the usual care.
    place, place_after, address : str
        Names of places, and the address of the first; empty where none is to be told.
    early : bool
        Whether it stands at the earliest time, as the whole moving day does, which most runs do not reach.
    begun_by_then : str
        In how many runs it is begun by its start, of what follows the moving days and mostly is not; else empty.
    """

    id: str
    title: str
    kind: str
    done: bool
    part: int
    parts: int
    repeats: bool
    start: str
    finish: str
    steps: tuple[str, ...]
    people: tuple[str, ...]
    vehicles: tuple[str, ...]
    gear: tuple[tuple[str, int], ...]
    after: tuple[After, ...]
    cautions: tuple[Caution, ...]
    place: str
    place_after: str
    address: str
    early: bool = False
    begun_by_then: str = ""


class Names:
    """Looks up what the plan calls things.

    Parameters
    ----------
    addresses : bool
        Whether places may be named.
    """

    def __init__(self, outlook: Outlook, *, addresses: bool) -> None:
        plan, network = outlook.project.plan, outlook.project.network
        self._states = outlook.states
        self._early, self._seldom = stake_of(outlook).is_hopeful, outlook.seldom()
        self._zone = plan.zone
        self._titles = {task.id: one_line(task.title) or task.id for task in network.tasks}
        self._people = {person.id: person.name for person in plan.people}
        self._vehicles = {vehicle.id: vehicle.name for vehicle in plan.vehicles}
        self._gear = {item.id: item.name for item in plan.gear}
        self._cautions = {
            one.id: replace(one, text=retold(one.text, plan.units)) for one in outlook.project.cautions
        }
        self._places = {place.id: place for place in plan.places} if addresses else {}
        self._links: dict[str, list[Link]] = {}
        for link in network.links:
            self._links.setdefault(link.after, []).append(link)

    def facts(self, task: Task, placement: Placement, segment: Interval, part: int, parts: int) -> Facts:
        """Gather what is told of one segment.

        Parameters
        ----------
        placement : Placement
            Where it stands.
        segment : Interval
            The stretch of it that the event is for. [min]
        part, parts : int
            Which one of how many.
        """
        place = self._places.get(task.place)
        return Facts(
            id=task.id,
            title=one_line(task.title) or task.id,
            kind=task.kind,
            done=self._states.get(task.id) is State.COMPLETED,
            part=part,
            parts=parts,
            repeats=task.repeats is not None,
            start=self._local(segment.start),
            finish=self._local(segment.finish),
            steps=task.steps,
            people=_named(placement.people, self._people),
            vehicles=_named(placement.vehicles, self._vehicles),
            gear=tuple((self._gear.get(gear, gear), count) for gear, count in task.gear),
            after=tuple(self._after(link) for link in self._links.get(task.id, ())),
            cautions=tuple(self._cautions[name] for name in task.cautions if name in self._cautions),
            place=place.name if place else "",
            place_after=self._places[task.place_after].name if task.place_after in self._places else "",
            address=place.address if place else "",
            early=self._early and bool(task.day),
            begun_by_then=show_kept(self._seldom[task.id]) if task.id in self._seldom else "",
        )

    def _after(self, link: Link) -> After:
        return After(
            title=self._titles[link.before],
            from_finish=link.relation.from_finish,
            to_finish=link.relation.to_finish,
            min_gap_min=link.min_gap_min,
            max_gap_min=link.max_gap_min,
        )

    def _local(self, minutes: int) -> str:
        return f"{to_local(minutes, self._zone):%Y-%m-%d %H:%M}"


def _named(ids: tuple[str, ...], names: Mapping[str, str]) -> tuple[str, ...]:
    return tuple(names.get(key) or key for key in ids)
