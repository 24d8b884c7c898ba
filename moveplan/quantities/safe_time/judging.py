"""How long animals are safe in a container, what binds it, and what would extend it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import islice

from moveplan.estimate import Estimate, Provenance
from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time.boxes import Box, LoadSpace, Surroundings
from moveplan.quantities.safe_time.ends import Row, ends_of
from moveplan.quantities.safe_time.safe_time import SafeTime
from moveplan.quantities.safe_time.verdicts import BOUND_BY, Judge, Verdict

SOURCE = (
    "Clarke and Johnston (1999); Garcia and Gordon (1992); Wanninkhof (2014); Lueker et al. (2000); Clegg and "
    "Whitfield (1995); Newton's law of cooling; limits in moveplan guide computing"
)
CABIN_C = 22.0
"""Air of a heated or cooled load space; assumed. [°C]"""
SMALL_HEATER_W = 25.0
"""A heater for one tub; common practice, no source: small ones are sold from about 25 W. [W]"""
TIMES = {2: "twice", 4: "four times", 8: "eight times", 16: "sixteen times"}
"""How much more water is tried for what does not last, the least that does is told."""
CARRIED_L = 30.0
"""Water with which two people no longer carry a container; assumed. [l]"""
VAT = ", in a vat that stands in the vehicle and is filled there"
_NEVER_H = 1000.0
"""Time from which on a limit counts as never reached. [h]"""


def minutes(hours: float) -> float:
    """Whole minutes, at most a year."""
    return float(math.floor(60 * min(hours, 8760.0)))


def lasting_h(rows: Sequence[Row], around: Surroundings, judge: Judge) -> tuple[float, ...]:
    """How long several containers last at the low end, all at once. [h].

    Parameters
    ----------
    rows : sequence of (Box, Breathing)
        Containers and the animals in one of each.
    """
    low = ends_of(judge.policy)[0]
    return tuple(judge.safe_h([(box, load, low) for box, load in rows], around))


def judged(rows: Sequence[Row], around: Surroundings, judge: Judge) -> tuple[SafeTime, ...]:
    """Judge several containers, all at once, and what would extend those that do not last for their journey.

    Parameters
    ----------
    rows : sequence of (Box, Breathing)
        Containers and the animals in one of each.

    Returns
    -------
    tuple of SafeTime
        In the order of the containers.
    """
    ends = ends_of(judge.policy)
    found = iter(judge.verdicts([(box, load, end) for box, load in rows for end in ends], around))
    owns = [(next(found), next(found), next(found)) for _ in rows]
    extends = _extends([(row, own[0]) for row, own in zip(rows, owns, strict=True)], around, judge)
    return tuple(
        _safe_time(row, own, more, judge.policy) for row, own, more in zip(rows, owns, extends, strict=True)
    )


def _extends(
    worst: Sequence[tuple[Row, Verdict]], around: Surroundings, judge: Judge
) -> Iterator[tuple[str, ...]]:
    """Try what would make those last longer that are too short, all at once."""
    low = ends_of(judge.policy)[0]
    short = [(box, load) for (box, load), own in worst if own.safe_h < box.journey.total_h]
    tried = iter(
        judge.verdicts([(other, load, low) for box, load in short for _, other in _variants(box)], around)
    )
    mild = iter(
        judge.verdicts([(box, load, low) for box, load in short], _mild(around)) if around.load_spaces else ()
    )
    for (box, _), own in worst:
        if own.safe_h >= box.journey.total_h:
            yield ()
            continue
        found = [(name, next(tried)) for name, _ in _variants(box)]
        breath = box.kind != "bag" and own.limited_by != "temperature"
        found = _fewest_litres(found, box.journey.total_h if breath else 0.0)
        found += [(f"a load space kept at {CABIN_C:.0f} °C", one) for one in islice(mild, 1)]
        yield tuple(
            f"{name}: {other.safe_h:.1f} h" for name, other in found if other.safe_h > 1.1 * own.safe_h
        )


def _fewest_litres(found: Sequence[tuple[str, Verdict]], needed_h: float) -> list[tuple[str, Verdict]]:
    """Keep the least of the larger amounts of water that lasts for so long, or the largest; twice for no time."""
    more = found[: len(TIMES)]
    return [next((one for one in more if one[1].safe_h >= needed_h), more[-1]), *found[len(TIMES) :]]


def _mild(around: Surroundings) -> Surroundings:
    """Heat or cool the load space."""
    return replace(around, load_spaces=(LoadSpace("", CABIN_C, CABIN_C, 0.0, 1.0),))


def _safe_time(
    row: Row, own: tuple[Verdict, Verdict, Verdict], extends: tuple[str, ...], policy: Policy
) -> SafeTime:
    box, _ = row
    low, likely, high = sorted(verdict.safe_h for verdict in own)
    worst = own[0]
    estimate = Estimate(
        minutes(low),
        minutes(likely),
        minutes(high),
        "min",
        _basis(row, worst, policy),
        Provenance.COMPUTED,
        SOURCE,
    )
    prompt = "open" if box.kind == "bag" and worst.reaerated_h < box.journey.total_h else ""
    there, before = minutes(worst.in_vehicle_h), minutes(box.journey.before_h)
    return SafeTime(estimate, worst.limited_by, extends, prompt, there, before)


def _variants(box: Box) -> tuple[tuple[str, Box], ...]:
    options = [
        (
            f"{words} the water and air for each animal{VAT if times * box.water_l > CARRIED_L else ''}",
            replace(box, water_l=times * box.water_l, volume_l=times * box.volume_l),
        )
        for times, words in TIMES.items()
    ]
    if box.kind == "bag" and not box.oxygen:
        options.append(("pure oxygen in place of air", replace(box, oxygen=True)))
    if box.stones and not box.oxygen:
        options.append(("oxygen out of a cylinder bubbling beside the air", replace(box, oxygen=True)))
    if not box.insulated and not box.wrapped:
        options.append(("a wrap of 10 mm foam", replace(box, wrapped=True)))
    if not box.heater_w and not box.insulated:
        options.append(
            ("a small heater with a thermostat in the rooms", replace(box, heater_w=SMALL_HEATER_W))
        )
    return tuple(options)


def _basis(row: Row, worst: Verdict, policy: Policy) -> str:
    box, load = row
    if box.kind == "bag":
        kind = "closed under oxygen" if box.oxygen else "closed under air"
    else:
        kind = "aired under a lid" if box.aerated else "lidded"
    way = box.journey
    listed = ", ".join(
        f"{'cap' if name == 'policy' else name.replace('-', ' ')} {hours:.1f} h"
        for name, hours in zip(BOUND_BY, worst.hours, strict=True)
        if hours < _NEVER_H
    )
    use = load.oxygen_mg_h if box.kind == "bag" else load.resting_mg_h + load.steady_mg_h
    return (
        f"{box.water_l:.1f} l of water and {box.gas_l:.1f} l of gas, {kind}; {use:.1f} mg O2/h "
        f"{'on the way' if box.kind == 'bag' else 'at rest, more after the catch'}, a factor "
        f"{policy['oxygen_use_spread']:g} either way; {f'filled {way.filled_h:.1f} h before, ' if way.filled_h else ''}"
        f"{way.before_h:.1f} h in the room, {way.road_h:.1f} h on the "
        f"road, {way.after_h:.1f} h in the room; low end: {listed}; "
        f"those of gas and ammonia × {policy['safety_factor']:g}"
    )
