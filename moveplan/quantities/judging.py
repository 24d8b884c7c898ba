"""How long animals are safe in a container, what binds it, and what would extend it."""

from __future__ import annotations

import math
from dataclasses import replace

from moveplan.estimate import Estimate, Provenance
from moveplan.quantities.boxes import FACES, Box, Surroundings, calm, ends_of, verdicts_at
from moveplan.quantities.metabolism import Breathing
from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time import SafeTime
from moveplan.science.stays import Binding
from moveplan.science.transit import SafeTime as Verdict

SOURCE = (
    "Clarke and Johnston (1999); Garcia and Gordon (1992); Lueker et al. (2000); Bower and Bidwell (1978); limits "
    "are policy defaults of the table of limits"
)
CABIN_C = 20.0
"""Air of a heated or cooled cabin; assumed. [°C]"""
_WORDS = {"carbon dioxide": "carbon-dioxide"}


def minutes(hours: float) -> float:
    """Whole minutes, at most a year."""
    return float(math.floor(60 * min(hours, 8760.0)))


def safe_time_of(box: Box, load: Breathing, around: Surroundings, policy: Policy) -> SafeTime:
    """Safe time of one container, with what binds and what would extend it.

    Parameters
    ----------
    box : Box
        The container. [-]
    load : Breathing
        Its animals. [-]
    around : Surroundings
        What it stands in. [-]
    policy : Policy
        Limits. [-]
    """
    return judged(((box, load),), around, policy)[0][1]


def judged(
    boxes: tuple[tuple[Box, Breathing], ...], around: Surroundings, policy: Policy
) -> tuple[tuple[Verdict, SafeTime], ...]:
    """Judge several containers, with what binds each and what would extend it, all at once.

    Parameters
    ----------
    boxes : tuple of (Box, Breathing)
        Containers and the animals in one of each. [-]
    around : Surroundings
        What they stand in. [-]
    policy : Policy
        Limits. [-]

    Returns
    -------
    tuple of (Verdict, SafeTime)
        In the order of the containers: the low end in detail, and the safe time. [-]
    """
    options = [_variants(box) for box, _ in boxes]
    others = [(box, load) for (_, load), own in zip(boxes, options, strict=True) for _, box in own]
    ends = ends_of(policy)
    rows = [(box, load, end) for box, load in boxes for end in ends]
    rows += [(box, load, ends[0]) for box, load in others]
    flat = iter(verdicts_at(rows, around, policy))
    owns = [(next(flat), next(flat), next(flat)) for _ in boxes]
    extends = [
        _extends(own[0], [(words, next(flat)) for words, _ in named])
        for own, named in zip(owns, options, strict=True)
    ]
    warmed = _in_a_warm_vehicle(boxes, [own[0] for own in owns], around, policy)
    extends = [more + _extends(own[0], warm) for own, more, warm in zip(owns, extends, warmed, strict=True)]
    return tuple(
        (own[0], _safe_time(box, load, own, more, around, policy))
        for (box, load), own, more in zip(boxes, owns, extends, strict=True)
    )


def _in_a_warm_vehicle(
    boxes: tuple[tuple[Box, Breathing], ...], worst: list[Verdict], around: Surroundings, policy: Policy
) -> list[list[tuple[str, Verdict]]]:
    """Judge those that cold or heat ends once more, with the air of a cabin in the load space."""
    ended = [at for at, verdict in enumerate(worst) if verdict.binds is Binding.TEMPERATURE]
    kept = replace(around, vehicle_c=CABIN_C)
    rows = [(*boxes[at], ends_of(policy)[0]) for at in ended]
    verdicts = verdicts_at(rows, kept, policy) if rows else ()
    found: list[list[tuple[str, Verdict]]] = [[] for _ in boxes]
    for at, verdict in zip(ended, verdicts, strict=True):
        found[at] = [(f"a load space kept at {CABIN_C:.0f} °C", verdict)]
    return found


def _extends(worst: Verdict, variants: list[tuple[str, Verdict]]) -> tuple[str, ...]:
    return tuple(
        f"{words}: {other.safe_h:.1f} h" for words, other in variants if other.safe_h > 1.1 * worst.safe_h
    )


def _safe_time(
    box: Box,
    load: Breathing,
    own: tuple[Verdict, Verdict, Verdict],
    extends: tuple[str, ...],
    around: Surroundings,
    policy: Policy,
) -> SafeTime:
    low, likely, high = sorted(verdict.safe_h for verdict in own)
    worst = own[0]
    estimate = Estimate(
        minutes(low),
        minutes(likely),
        minutes(high),
        "min",
        _basis(box, load, worst, policy),
        Provenance.COMPUTED,
        SOURCE,
    )
    prompt = "open" if not box.aerated and worst.ammonia_when_aerated_h < around.needed_h else ""
    return SafeTime(estimate, _WORDS.get(worst.binds, str(worst.binds)), extends, prompt)


def _variants(box: Box) -> tuple[tuple[str, Box], ...]:
    double = replace(box, water_l=2 * box.water_l, gas_l=2 * box.gas_l)
    options = [("twice the water and air, or half the animals to a container", double)]
    if not box.aerated:
        options.append(("pure oxygen in place of air", replace(box, oxygen=True)))
        options.append(
            ("an open lid and a battery air pump", replace(box, aerated=True, gas_l=0.3 * box.water_l))
        )
    if not box.insulated and not box.wrapped:
        options.append(("a wrap of 10 mm foam", replace(box, wrapped=True)))
    if not box.insulated:
        options.append(("an insulated box", replace(box, insulated=True)))
    if not box.heated:
        options.append(("a heater at both ends", replace(box, heated=True)))
    return tuple(options)


def _basis(box: Box, load: Breathing, worst: Verdict, policy: Policy) -> str:
    kind = "aerated" if box.aerated else ("sealed under oxygen" if box.oxygen else "sealed under air")
    parts = {
        "oxygen": worst.oxygen_h,
        "carbon dioxide": worst.carbon_dioxide_h,
        "ammonia": worst.ammonia_h,
        "temperature": worst.temperature_h,
        "policy": worst.policy_h,
    }
    at_rest = calm(box, policy)
    listed = ", ".join(f"{name} {hours:.1f} h" for name, hours in parts.items() if hours < 1000)
    cooled = f"; heat lost through {FACES[0]} sides, likely {FACES[1]}, at best {FACES[2]}"
    cooled = cooled if worst.temperature_h < 1000 else ""
    return (
        f"{box.water_l:.1f} l of water and {box.gas_l:.1f} l of gas, {kind}; "
        f"{at_rest * load.oxygen_mg_h:.1f} mg O2/h and {at_rest * load.ammonia_mg_n_h:.2f} mg N/h likely, "
        f"a factor {policy['oxygen_use_spread']:g} either way{cooled}; low end: {listed}; "
        f"the shortest × {policy['safety_factor']:g}"
    )
