"""Animals in containers: which are closed, since when, where they are, and how long they may stay so.

A stay begins with the first lid that was logged before the task that closes it is done, else with the edge of that
task, and ends with the edge of the task that opens it.  In between a lid that is logged as off stops the countdown,
and one that is put on again goes on with the first closing, because the water remembers: a box that is opened for a
moment is not aired through.  What was opened before animals were put in closed nothing: filling begins a new stay.
Where nobody logs anything the planned hours count.  What cold or heat ends in a vehicle counts from when the
container was loaded, whatever is done to its lid there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from moveplan.journal.file.snapshot import PlannedStay, Snapshot
from moveplan.journal.now.failure import VEHICLE
from moveplan.journal.now.standing import Standing
from moveplan.journal.records import Lid, Opened, Shut
from moveplan.journal.rest.ahead import Ahead
from moveplan.journal.state import JournalState, TaskState

SILENT_MIN = 720
"""With no record for so long before a planned closing, nobody keeps the journal: the plan counts; assumed. [min]"""
FOREVER = 1 << 40
"""A stretch longer than all others. [min]"""
FORGOTTEN_MIN = 1440
"""So long after its planned opening, a stay of which nobody logged anything is over; assumed. [min]"""


@dataclass(frozen=True, slots=True)
class Travelling:
    """Animals in one container, or in those of a group where the containers have no numbers.

    Parameters
    ----------
    stay : PlannedStay
        As it was planned.
    number : str
        Number of the container; empty: it has none.
    count : int
        How many animals are in it; lost ones are not counted.
    where : str
        Place or vehicle; empty: not known.
    since : int
        When the container was closed, UTC. [min]
    logged : bool
        Whether that was logged; else it is the planned moment.
    left_min : int or None
        Until the low end of the safe time, negative where it is over; None: no limit. [min]
    spare_min : int or None
        What is left of it when it is expected to be opened, or to leave the vehicle; None: no limit. [min]
    ride : tuple of (int, int) or None
        Until when cold or heat lets it stay in the vehicle, and when it is expected out of it, UTC; None: it rides no
        more, or something else ends it. [min]
    airless : int or None
        Since when it has no air, UTC: how long it lasts so was not planned, so there is no time left to go by; None:
        it is as planned. [min]
    tempered : bool
        Whether it would not help to carry it into a room: cold or heat of a vehicle does not end it.
    """

    stay: PlannedStay
    number: str
    count: int
    where: str
    since: int
    logged: bool
    left_min: int | None
    spare_min: int | None
    ride: tuple[int, int] | None = None
    airless: int | None = None
    tempered: bool = True

    @property
    def ride_spare_min(self) -> int:
        """What is left of its time in the vehicle when it leaves that. [min]."""
        return FOREVER if self.ride is None else self.ride[0] - self.ride[1]


def travelling(
    snapshot: Snapshot, state: JournalState, found: Standing, rest: Ahead
) -> tuple[Travelling, ...]:
    """Find the animals that are in closed containers.

    Parameters
    ----------
    rest : Ahead
        How they are expected to go on.

    Returns
    -------
    tuple of Travelling
        Those without air first, then the least time left.
    """
    groups: dict[str, list[PlannedStay]] = {}
    for stay in sorted(snapshot.stays, key=lambda one: one.shut):
        groups.setdefault(stay.group, []).append(stay)
    rows = [row for stays in groups.values() for row in _of_group(stays, snapshot, state, found, rest)]
    return tuple(sorted(rows, key=_urgent))


def pressing(closed: Iterable[Travelling]) -> Mapping[str, int]:
    """Give the tasks that open what is forecast to be opened too late, each with the least time left. [min].

    Parameters
    ----------
    closed : iterable of Travelling
        Animals that are in closed containers.
    """
    found: dict[str, int] = {}
    for one in closed:
        if one.spare_min is not None and one.spare_min < 0 and one.left_min is not None:
            name = one.stay.open_task
            found[name] = min(found.get(name, one.left_min), one.left_min)
    return found


def _urgent(one: Travelling) -> tuple[bool, int, bool, int, str, str]:
    airless = one.airless is None, one.airless or 0
    return *airless, one.left_min is None, one.left_min or 0, one.number, one.stay.group


def _of_group(
    stays: list[PlannedStay], snapshot: Snapshot, state: JournalState, found: Standing, rest: Ahead
) -> Iterator[Travelling]:
    lost = state.lost.get(stays[0].group, ())
    for at, stay in enumerate(stays):
        for number, count in left_in(stay, lost).items():
            lids = list(_lids(state, stay, number))
            if at:
                lids = [lid for lid in lids if not _belongs(lid, stays[at - 1], stay, lids, found)]
            if at + 1 < len(stays):
                lids = [lid for lid in lids if _belongs(lid, stay, stays[at + 1], lids, found)]
            lids = _since_filled(stay, lids, found)
            closed = _closed(stay, lids, state, found)
            if count > 0 and closed is not None:
                since, logged = closed
                way = _way(stay, since, found, state.carried.get(number, ()))
                where = way[-1][1] if way else stay.places[0][0] if stay.places else ""
                loaded = _loaded(way, snapshot)
                opening = max(_expected(stay.open_task, stay.open_edge, rest, stay.opened), found.now)
                stuck_until = _stuck(where, number, snapshot, state)
                ride = _ride(stay, loaded, stuck_until, opening, snapshot, found, rest)
                airless = state.airless.get(number)
                left, spare = (
                    _lasts(stay, since, loaded, ride, opening, found.now) if airless is None else (None, None)
                )
                lasts = _end_aboard(stay, since, ride[0]) if ride and stay.aboard_min is not None else None
                yield Travelling(
                    stay,
                    number,
                    count,
                    where,
                    since,
                    logged,
                    left,
                    spare,
                    (lasts, ride[1]) if ride and lasts is not None and airless is None else None,
                    airless,
                    loaded is None or left is None or _end_aboard(stay, since, loaded) > found.now + left,
                )


def _lasts(
    stay: PlannedStay, since: int, loaded: int | None, ride: tuple[int, int] | None, opening: int, now: int
) -> tuple[int | None, int | None]:
    """How long a container lasts from now on, and what is left when it is opened; None: no limit. [min].

    What is in a vehicle lasts as long as one that stays there; once it is carried on, as long as was planned.
    """
    if stay.safe_low_min is None:
        return None, None
    end = since + stay.safe_low_min
    end_there = end if loaded is None else min(_end_aboard(stay, since, loaded), end)
    spare = end - opening
    return end_there - now, spare if ride is None else min(spare, _end_aboard(stay, since, ride[0]) - ride[1])


def _end_aboard(stay: PlannedStay, since: int, loaded: int) -> int:
    """Until when what was loaded then lasts in the vehicle, UTC. [min]."""
    if stay.aboard_min is not None:
        return loaded + stay.aboard_min
    return FOREVER if stay.in_vehicle_min is None else since + stay.in_vehicle_min


def _ride(
    stay: PlannedStay,
    loaded: int | None,
    stuck_until: int | None,
    opening: int,
    snapshot: Snapshot,
    found: Standing,
    rest: Ahead,
) -> tuple[int, int] | None:
    """From when until when a container is expected in a vehicle, UTC; None: in none, or that was not kept. [min]."""
    if stay.aboard_min is None:
        return None if stuck_until is None else (0, min(stuck_until, opening))
    come = [_come(task, edge, found) for _, task, edge in stay.places]
    for where, task, edge in stay.places[len(come) - come[::-1].index(True) if True in come else 0 :]:
        if where not in snapshot.vehicles.values():
            if loaded is not None:
                return loaded, _expected(task, edge, rest, opening)
        elif loaded is None:
            loaded = _expected(task, edge, rest, opening)
    return None if loaded is None else (loaded, opening)


def _come(task: str, edge: str, found: Standing) -> bool:
    return _edge(task, edge, found.states) is not None or task in found.unsaid


def _expected(task: str, edge: str, rest: Ahead, otherwise: int) -> int:
    span = rest.spans.get(task)
    if span is None:
        return otherwise
    return span.start if edge == "start" else span.finish


def _belongs(lid: Lid, one: PlannedStay, other: PlannedStay, lids: list[Lid], found: Standing) -> bool:
    """Whether a lid was closed or opened in the first of two stays, not in the one after it."""
    middle = (one.shut + other.shut) // 2
    end = _edge(one.open_task, one.open_edge, found.states)
    if end is None and one.open_task in found.unsaid:
        end = middle
    if end is None:
        end = next((each.at for each in lids if isinstance(each, Opened) and each.at >= middle), None)
    return end is None or lid.at < end or (lid.at == end and isinstance(lid, Opened))


def _since_filled(stay: PlannedStay, lids: list[Lid], found: Standing) -> list[Lid]:
    """Leave out what was closed and opened again before the task that fills the container began: it was empty."""
    begun = _edge(stay.shut_task, "start", found.states)
    filled = stay.shut if begun is None else begun
    empty = [at for at, lid in enumerate(lids) if isinstance(lid, Opened) and lid.at < filled]
    return lids[empty[-1] + 1 :] if empty else lids


def left_in(stay: PlannedStay, lost: Iterable[tuple[str, int]]) -> dict[str, int]:
    """Count the animals of each container without those lost from it, one record after the other.

    Of what was lost elsewhere the fullest has one less, and of what was found the one that lacks most has one more;
    none is found that was not lost.
    """
    planned = dict(stay.containers) or {"": stay.count}
    counts = dict(planned)
    for number, net in lost:
        for _ in range(net):
            one = number if counts.get(number) else max(counts, key=lambda each: counts[each])
            counts[one] = max(counts[one] - 1, 0)
        for _ in range(-net):
            one = number if number in counts else max(counts, key=lambda each: planned[each] - counts[each])
            counts[one] += sum(counts.values()) < sum(planned.values())
    return counts


def left_of(snapshot: Snapshot, state: JournalState, group: str) -> int | None:
    """Count the animals of a group that are left; None: none of it travels, so they are not counted here."""
    counts = (left_in(stay, state.lost.get(group, ())) for stay in snapshot.stays if stay.group == group)
    return max((sum(one.values()) for one in counts), default=None)


def _lids(state: JournalState, stay: PlannedStay, number: str) -> Iterable[Lid]:
    return (
        lid for lid in state.lids if (lid.container == number if lid.container else lid.group == stay.group)
    )


def _closed(
    stay: PlannedStay, lids: list[Lid], state: JournalState, found: Standing
) -> tuple[int, bool] | None:
    """Since when a container is closed, and whether that was logged; None: it is not closed now."""
    if _edge(stay.open_task, stay.open_edge, found.states) is not None or stay.open_task in found.unsaid:
        return None
    if lids and isinstance(lids[-1], Opened):
        return None
    edge, done = (_edge(stay.shut_task, end, found.states) for end in (stay.shut_edge, "finish"))
    was = stay.shut if edge is None else edge
    if lids and isinstance(lids[0], Opened) and lids[0].at >= was:  # what is opened then was closed before
        return was, edge is not None
    shut = next((lid.at for lid in lids if isinstance(lid, Shut)), None)
    real = edge if shut is None or (done is not None and done < shut) else shut
    if real is not None:
        return (real, True) if real <= found.now else None
    if stay.shut > found.now:
        return None
    if stay.shut_task in found.unsaid:
        return stay.shut, False
    silent = state.worked is None or state.worked < stay.shut - SILENT_MIN
    return (stay.shut, False) if silent and found.now < stay.opened + FORGOTTEN_MIN else None


def _edge(task: str, edge: str, states: Mapping[str, TaskState]) -> int | None:
    """Moment of one end of a task, as far as it was logged."""
    one = states.get(task)
    if one is None:
        return None
    if edge == "finish":
        return one.done
    return one.begun if one.begun is not None else one.done


def _way(
    stay: PlannedStay, since: int, found: Standing, carried: tuple[tuple[int, str], ...]
) -> list[tuple[int, str]]:
    """When a container came where: by the tasks at which the journal has arrived, and where it was moved to.

    Loading that takes longer than accepted counts as it was accepted, from its beginning, and was over when what comes
    after it began.
    """
    rows: list[tuple[int, int, str]] = []
    for where, task, edge in stay.places:
        if not _come(task, edge, found):
            continue
        at, planned = _edge(task, edge, found.states), found.tasks.get(task)
        begun = found.begun.get(task, planned.start if planned else stay.shut)
        lasted = planned.minutes - planned.slower_min if planned and edge == "finish" else 0
        over = found.over_by(task) if task in found.unsaid else begun + lasted
        came = max(min(begun + lasted, over), since)
        order = max(stay.shut if at is None else at, rows[-1][0] if rows else 0)
        rows.append((order, came if at is None else min(came, at), where))
    rows += [(at, at, where) for at, where in carried]
    return [(came, where) for _, came, where in sorted(rows, key=lambda row: row[0])]


def _loaded(way: list[tuple[int, str]], snapshot: Snapshot) -> int | None:
    """Since when a container is in a vehicle, UTC; only being carried out ends that; None: it is in none. [min]."""
    loaded, before = None, 0
    for came, where in way:
        if where not in snapshot.vehicles.values():
            loaded, before = None, came
        elif loaded is None:
            loaded = max(came, before)
    return loaded


def _stuck(where: str, number: str, snapshot: Snapshot, state: JournalState) -> int | None:
    """Until when a container stays in a vehicle beyond the planned ride, because that failed or it was put there.

    None: it is in none, or rides as planned.
    """
    vehicles = [one for one, name in snapshot.vehicles.items() if name == where]
    failed = [one for one in state.failures if one.what == VEHICLE and one.name in vehicles]
    if failed:
        return max(one.planned_on for one in failed)
    put_there = vehicles and state.carried.get(number, ((0, ""),))[-1][1] == where
    return FOREVER if put_there else None
