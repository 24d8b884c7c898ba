"""What was simulated, as plain values: enough to make the runs again without this program."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import isinf
from typing import Any

from moveplan.risk.compile import Prepared
from moveplan.risk.computed import Deadline
from moveplan.risk.money import Hire
from moveplan.risk.net import Step
from moveplan.risk.stays import Stay, stays_of
from moveplan.risk.windows import FOREVER, Stretches


def model_of(prepared: Prepared, hires: Sequence[Hire], deadlines: Sequence[Deadline]) -> dict[str, Any]:
    """Give tasks, what they wait for, hours, mishaps, days and common causes; times in minutes from the start.

    Parameters
    ----------
    prepared : Prepared
        As it was simulated. [-]
    hires : sequence of Hire
        Until when vehicles are booked. [-]
    deadlines : sequence of Deadline
        By when what has to be over. [-]
    """
    hours: dict[int, tuple[int, str]] = {}
    for step in prepared.net.steps:
        if step.hours is not None:
            hours.setdefault(id(step.hours), (len(hours), _written(step.hours)))
    numbers = {key: number for key, (number, _) in hours.items()}
    return {
        "tasks": [_task(prepared, at, numbers) for at in range(len(prepared.net.steps))],
        "order": list(prepared.net.order),
        "waits": [
            f"{tie.tail} {tie.head} {tie.gap_min:g} {tie.from_finish:d} {tie.to_finish:d} {tie.freed:d}"
            for tie in prepared.net.ties
        ],
        "hours": [text for _, text in hours.values()],
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
        "low_high": list(prepared.project.plan.low_high),
    }


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
        "tail_minutes": step.tail_min,
        "fails": step.fails,
        "again_after_minutes": step.redo_min,
        "slips_day": step.slips,
        "causes": " ".join(f"{one:g}" for one in causes) if any(causes) else None,
    }
    told = {key: value for key, value in facts.items() if value not in (None, False, 0.0) or key == "hours"}
    spread = {"low": round(low, 4), "likely": round(likely, 4), "high": round(high, 4)}
    return {"id": prepared.project.network.tasks[at].id, "day": step.day, **spread, **told}
