"""Closes the accounts of every finished schedule: water, containers, outlets and heaters, in order of time.

It reads what the composition has noted and counts for itself; it shares no code with what has noted it.  What was
poured by tasks that are over or not in the schedule any more is taken in the order in which it was composed.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise
from typing import NamedTuple

from moveplan.door.air import WALL_OUTLETS
from moveplan.errors import Fault
from moveplan.practice.ledger.entries import DRAIN, TAP, Body, InUse, Pour
from moveplan.practice.project import Project
from moveplan.scheduling.schedule import Placement, Schedule

DROP_L = 0.05
"""What adding up a thousand pours may make. [l]"""
LOOSE_L, LOOSE = 0.5, 0.005
"""How exactly a tank is full or empty at the end. [l], [-]"""
STORAGE = "water-storage"
"""Gear of the storage that the plan names for water: one vat. [-]"""
ENDLESS = frozenset({TAP, DRAIN})
OVER = -1
"""When what is over has happened. [min]"""
_SMALL_HEATER_W = 60.0
"""Largest heater that hangs in a tub; policy. [W]"""


class _Level(NamedTuple):
    """What an account holds after a pour."""

    litres: float
    pour: Pour


def _litres(level: _Level) -> float:
    return level.litres


Span = tuple[int, int, InUse]
"""When a container is in use, UTC. [min]"""


def accounts_close(project: Project, schedule: Schedule) -> tuple[Fault, ...]:
    """Check that nothing comes from nothing, and that nothing is used twice at once.

    Parameters
    ----------
    project : Project
        With its ledger.
    schedule : Schedule
        Its schedule; without placements nothing is asked.
    """
    if not schedule.placements or not (project.ledger.pours or project.ledger.containers):
        return ()
    placed = {one.task: one for one in schedule.placements}
    spans = [
        (placed[use.from_task].start, max(placed[one].finish for one in use.ends if one in placed), use)
        for use in project.ledger.containers
        if use.from_task in placed and any(one in placed for one in use.ends)
    ]
    levels = _levels(project, placed)
    return (
        *_negative(project.ledger.pours),
        *_water(project, levels),
        *_containers(project.ledger.containers, levels),
        *_twice(spans),
        *_too_many(project, spans),
    )


def _negative(pours: Iterable[Pour]) -> Iterator[Fault]:
    for pour in pours:
        if not (math.isfinite(pour.litres) and pour.litres >= 0):
            yield Fault("pour-below-zero", (pour.source, pour.target), (pour.litres,), (pour.task,))


def _levels(project: Project, placed: Mapping[str, Placement]) -> dict[str, list[_Level]]:
    """Follow every account in order of time."""
    held = defaultdict(
        float, {f"system:{body.id}": body.litres for body in project.ledger.bodies if body.full}
    )
    levels: dict[str, list[_Level]] = defaultdict(list)
    for _, _, pour in sorted(dated(project, placed), key=lambda row: row[:2]):
        for account, litres in ((pour.source, -pour.litres), (pour.target, pour.litres)):
            held[account] += litres
            levels[account].append(_Level(held[account], pour))
    return levels


def dated(project: Project, placed: Mapping[str, Placement]) -> Iterator[tuple[int, int, Pour]]:
    """Give when each pour happens, its number and the pour; ``OVER`` for what is over.

    Parameters
    ----------
    placed : mapping of str to Placement
        By task.
    """
    times = {task.id: task.repeats.times for task in project.network.tasks if task.repeats}
    brief = {
        (use.from_task, f"container:{use.vessel.number}")
        for use in project.ledger.containers
        if use.from_task == use.until_task
    }
    begins = project.scheduling.start
    for number, pour in enumerate(project.ledger.pours):
        stands = placed.get(pour.task)
        if pour.task in times:
            done = [piece.finish for piece in stands.segments] if stands else []
            moments = [OVER] * (times[pour.task] - len(done)) + done
        elif stands is None:
            moments = [OVER]
        else:
            moments = [stands.start if (pour.task, pour.target) in brief else stands.finish]
        for at in moments:
            yield (at if at > begins else OVER), number, pour


def _water(project: Project, levels: Mapping[str, list[_Level]]) -> Iterator[Fault]:
    for account, history in levels.items():
        worst = min(history, key=_litres)
        if account not in ENDLESS and worst.litres < -DROP_L:
            yield Fault("account-below-zero", (account,), (worst.litres,), (worst.pour.task,))
    for body in project.ledger.bodies:
        yield from _tank(body, levels.get(f"system:{body.id}", []))


def _tank(body: Body, history: list[_Level]) -> Iterator[Fault]:
    slack = max(LOOSE_L, LOOSE * body.litres)
    for level in history:
        own = level.pour.source == f"system:{body.id}"
        if own and level.pour.target != "drain" and level.litres < body.litres - body.drawable_l - DROP_L:
            there = (level.litres, body.litres - body.drawable_l)
            yield Fault("drawn-too-low", (body.id,), there, (level.pour.task,))
            break
    for level in sorted(history, key=_litres, reverse=True):
        most = max(body.litres, body.rim_l) if level.pour.source == TAP else body.litres
        if level.litres > most + slack:
            yield Fault("tank-runs-over", (body.id,), (level.litres, most), (level.pour.task,))
            break
    last = history[-1].litres if history else (body.litres if body.full else 0.0)
    ends = body.litres if body.role in ("new", "both") else 0.0
    if abs(last - ends) > slack:
        yield Fault("tank-not-as-planned", (body.id,), (last, ends))


def _containers(uses: Iterable[InUse], levels: Mapping[str, list[_Level]]) -> Iterator[Fault]:
    for number, vessel in {use.vessel.number: use.vessel for use in uses}.items():
        history = levels.get(f"container:{number}", [])
        most = max(history, key=_litres, default=None)
        if most is not None and most.litres > vessel.volume_l + DROP_L:
            yield Fault("container-overfull", (number,), (most.litres, vessel.volume_l), (most.pour.task,))
        if history and history[-1].litres > DROP_L:
            yield Fault("left-in-container", (number,), (history[-1].litres,), (history[-1].pour.task,))


def _twice(spans: Iterable[Span]) -> Iterator[Fault]:
    uses: dict[str, list[Span]] = defaultdict(list)
    for span in spans:
        uses[span[2].vessel.number].append(span)
    for number, several in uses.items():
        for one, two in pairwise(sorted(several, key=lambda span: span[:2])):
            if two[0] < one[1]:
                tasks = (two[2].from_task, one[2].until_task)
                yield Fault("container-twice", (number,), (two[0], one[1]), tasks)


def _too_many(project: Project, spans: list[Span]) -> Iterator[Fault]:
    """Count what is in use at once of each piece of gear against what there is or is ordered."""
    gear, there = project.plan.gear, {item.id: item.count for item in project.plan.gear if item.owned}
    there[STORAGE] = 1
    ordered = {kind: max(needed - has, 0) for kind, needed, has in project.gear_needed}
    stock = {kind: has for kind, _, has in project.gear_needed}
    for name, own in _by_gear(spans).items():
        kind = name if name in ordered else own[0][2].vessel.kind
        most = _most((since, until, 1.0) for since, until, _ in own)
        limit = max(there.get(name, 0), stock.get(kind, 0)) + ordered.get(kind, 0)
        if most > limit:
            yield Fault("too-many-containers", (name,), (most, limit))
    outlets = 0
    for kind, usual in (("air-pump", 1), ("mains-air-pump", WALL_OUTLETS)):
        pumps = [item for item in gear if item.kind == kind]
        each = max((item.outlets for item in pumps), default=usual)
        outlets += (
            sum(item.count * item.outlets for item in pumps if item.owned) + ordered.get(kind, 0) * each
        )
    stones = _most((since, until, float(use.vessel.stones)) for since, until, use in spans)
    if stones > outlets:
        yield Fault("too-few-outlets", values=(stones, outlets))
    small = (item.count for item in gear if item.kind == "heater" and 0 < item.power_w <= _SMALL_HEATER_W)
    heaters = sum(small) + ordered.get("tub-heater", 0)
    warmed = _most((since, until, 1.0) for since, until, use in spans if use.vessel.heater_w > 0)
    if warmed > heaters:
        yield Fault("too-few-heaters", values=(warmed, heaters))


def _by_gear(spans: Iterable[Span]) -> dict[str, list[Span]]:
    uses: dict[str, list[Span]] = defaultdict(list)
    for span in spans:
        uses[span[2].vessel.gear].append(span)
    return uses


def _most(uses: Iterable[tuple[int, int, float]]) -> float:
    """Greatest sum in use at one moment; what ends is free for what begins then."""
    steps = sorted(step for since, until, amount in uses for step in ((since, amount), (until, -amount)))
    most = now = 0.0
    for _, change in steps:
        now += change
        most = max(most, now)
    return most
