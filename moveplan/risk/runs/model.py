"""What was simulated, as plain values: enough to make the runs again without this program."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import isinf
from typing import Any

import numpy as np

from moveplan.risk.prepared.calendar import crew_of
from moveplan.risk.prepared.compile import Prepared
from moveplan.risk.prepared.net import Step
from moveplan.risk.prepared.stays import Stay, stays_of
from moveplan.risk.prepared.windows import FOREVER, Stretches
from moveplan.risk.register.computed import Deadline
from moveplan.risk.runs.draw import ends_of
from moveplan.risk.runs.money import Hire
from moveplan.times import iso


def model_of(prepared: Prepared, hires: Sequence[Hire], deadlines: Sequence[Deadline]) -> dict[str, Any]:
    """Give tasks, what they wait for, hours, mishaps, days and common causes; times in minutes from the start.

    Parameters
    ----------
    hires : sequence of Hire
        Until when vehicles are booked.
    deadlines : sequence of Deadline
        By when what has to be over.
    """
    hours = {id(step.hours): step.hours for step in prepared.net.steps if step.hours is not None}
    numbers = {key: number for number, key in enumerate(hours)}
    people = _people(prepared)
    alone = {name: prepared.calendar.alone(name) for name in people} if prepared.days else {}
    return {
        "start": iso(prepared.project.scheduling.start, prepared.project.plan.zone),
        "tasks": [_task(prepared, at, numbers) for at in range(len(prepared.net.steps))],
        "order": list(prepared.net.order),
        "waits": [
            f"{tie.tail} {tie.head} {tie.gap_min:g} {tie.from_finish:d} {tie.to_finish:d} {tie.freed:d}"
            for tie in prepared.net.ties
        ],
        "hours": [_written(one) for one in hours.values()],
        "hours_of": {name: _written(one) for name, one in alone.items()},
        "mishaps": [
            {
                "probability": one.probability,
                "delay_minutes": one.delay_min,
                "task": one.task,
                "holding": one.holding,
            }
            for one in prepared.net.mishaps
        ],
        "days": [
            {
                "date": dated.day.isoformat(),
                "slip_minutes": day.slip_min,
                "slip_days": dated.slip_days,
                "tolerance_minutes": day.tolerance_min,
            }
            for day, dated in zip(prepared.net.days, prepared.days, strict=True)
        ],
        "day_starts": " ".join(
            f"{prepared.since_start(day.start):.0f}" for day in prepared.project.scheduling.days
        ),
        "stays": [_stay(prepared, stay) for stay in stays_of(prepared.project)],
        "hires": [
            {
                "vehicle": one.vehicle,
                "tasks": list(one.tasks),
                "booked_days": list(one.booked),
                "until": None if isinf(one.until_min) else one.until_min,
            }
            for one in hires
        ],
        "deadlines": [
            {
                "id": one.entry.id,
                "tasks": list(one.tasks),
                "by": [None if isinf(by) else by for by in one.by_min],
            }
            for one in deadlines
        ],
        "dates": [{"task": at, "by": by_min} for _, at, by_min in prepared.dates()],
        "low_high": list(prepared.project.plan.low_high),
    }


def with_ends(model: Mapping[str, Any]) -> dict[str, Any]:
    """Give a model whose low and high are the ends of the distributions, whatever quantiles the plan states.

    Parameters
    ----------
    model : Mapping of str to object
        As :func:`model_of` gives it.
    """
    low_high = (float(model["low_high"][0]), float(model["low_high"][1]))
    if low_high == (0.0, 1.0):
        return dict(model)
    tasks = [
        row | dict(zip(("low", "high"), _ends(row["low"], row["likely"], row["high"], low_high), strict=True))
        for row in model["tasks"]
    ]
    stays = [row | {"safe": _safe_ends(row["safe"], low_high)} for row in model["stays"]]
    return {**model, "tasks": tasks, "stays": stays, "low_high": [0.0, 1.0]}


def _safe_ends(safe: Sequence[float | None], low_high: tuple[float, float]) -> list[float | None]:
    low, likely, high = safe
    if low is None or likely is None or high is None:
        return list(safe)
    least, most = _ends(low, likely, high, low_high)
    return [least, likely, most]


def _ends(low: float, likely: float, high: float, low_high: tuple[float, float]) -> tuple[float, float]:
    first, middle, last = (np.array([one], dtype=np.float64) for one in (low, likely, high))
    least, most = ends_of(first, middle, last, low_high)
    return round(max(float(least[0]), 0.0), 4), round(float(most[0]), 4)


def _people(prepared: Prepared) -> list[str]:
    """Name, in order, who does something in hours that may be run over."""
    placed = zip(prepared.schedule.placements, prepared.net.steps, strict=True)
    return sorted({name for one, step in placed if step.runs_over for name in crew_of(one)})


def _stay(prepared: Prepared, stay: Stay) -> dict[str, Any]:
    safe = stay.safe.estimate
    return {
        "livestock": stay.livestock,
        "from": [prepared.at[stay.since.task], stay.since.edge],
        "until": [prepared.at[stay.until.task], stay.until.edge],
        "safe": [None if isinf(one) else round(one, 4) for one in (safe.low, safe.likely, safe.high)],
    }


def _written(hours: Stretches) -> str:
    """Write stretches as begin, end and stated end; the last is open."""
    rows = zip(hours.begins.tolist(), hours.ends.tolist(), hours.stated.tolist(), strict=True)
    return " ".join("-".join(f"{one:.0f}" if one < FOREVER else "" for one in row) for row in rows)


def _task(prepared: Prepared, at: int, numbers: Mapping[int, int]) -> dict[str, Any]:
    step: Step = prepared.net.steps[at]
    low, likely, high = prepared.estimates[at]
    causes = [round(float(one) ** 2, 6) for one in prepared.loading.causes[at]]
    facts = {
        "earliest": step.floor_min,
        "planned": prepared.net.planned_min[at],
        "moves_with_day": step.follows_day,
        "hours": None if step.hours is None else numbers[id(step.hours)],
        "pauses": step.pauses,
        "runs_over": step.runs_over,
        "crew": list(crew_of(prepared.schedule.placements[at])) if step.runs_over else None,
        "tail_minutes": step.tail_min,
        "fails": step.fails,
        "again_after_minutes": step.redo_min,
        "slips_day": step.slips,
        "causes": " ".join(f"{one:g}" for one in causes) if any(causes) else None,
    }
    told = {key: value for key, value in facts.items() if value not in (None, False, 0.0) or key == "hours"}
    spread = {"low": round(low, 4), "likely": round(likely, 4), "high": round(high, 4)}
    return {"id": prepared.project.network.tasks[at].id, "day": step.day, **spread, **told}
