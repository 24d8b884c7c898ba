"""A firm as data: its ``result.json``, format 2."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Any

from moveplan import __version__
from moveplan.firm.day.diaries import by_person, days_of, worked_min
from moveplan.firm.day.drives import Drive, on_day
from moveplan.firm.days.question import Sent
from moveplan.firm.lessons import KindPace
from moveplan.firm.outlook import FirmOutlook, LeftOut
from moveplan.firm.papers.money import quote_data, real_data, stock_data
from moveplan.firm.placing.hearts import measured_again
from moveplan.firm.placing.one_job import Placed
from moveplan.firm.placing.stock import stock_by_day
from moveplan.firm.placing.traces import Stop
from moveplan.firm.quote import Quote
from moveplan.firm.real import reals_of
from moveplan.firm.reorder import stocked
from moveplan.firm.words import reasons_of, status_of
from moveplan.outputs.data.result import FORMAT, problem_data
from moveplan.outputs.data.weighing import promise_data
from moveplan.times import iso


def firm_json(outlook: FirmOutlook, quotes: Mapping[str, Quote]) -> bytes:
    """Write a firm's outlook as the text of its ``result.json``.

    Parameters
    ----------
    quotes : Mapping of str to Quote
        By job.

    Returns
    -------
    bytes
        UTF-8 with a trailing newline; the same outlook gives the same bytes.
    """
    text = json.dumps(firm_data(outlook, quotes), ensure_ascii=False, allow_nan=False, indent=1)
    return f"{text}\n".encode()


def firm_data(outlook: FirmOutlook, quotes: Mapping[str, Quote]) -> dict[str, Any]:
    """Give a firm's outlook as plain data; what was not computed is absent.

    Parameters
    ----------
    outlook, quotes : FirmOutlook, Mapping of str to Quote
        As for :func:`firm_json`.
    """
    firm = outlook.firm
    traces = [one.trace for one in outlook.placed]
    water = stock_by_day(firm.water, traces) if firm.water else ()
    return {
        "format": FORMAT,
        "moveplan_version": __version__,
        "id": firm.id,
        "title": firm.title,
        "timezone": firm.zone.key,
        "now": iso(firm.now, firm.zone),
        "purpose": "firm",
        "status": status_of(outlook),
        "problems": [problem_data(one) for one in reasons_of(outlook)],
        "assumptions": [
            {"key": one.key, "value": one.value, "why": one.why}
            for one in (*firm.assumptions, *outlook.roads.assumptions)
        ],
        "days": _days(outlook),
        "rounds": {"status": "searched"},
        "out": [{"id": one.id, "first": str(one.first), "last": str(one.last)} for one in outlook.out],
        "calls": [
            {"job": job, "told": _sent(before), **({"now": _sent(now)} if now else {})}
            for job, before, now in outlook.calls
        ],
        "people": _people(outlook),
        "vehicles": [
            {
                "id": one.id,
                "name": one.name,
                "days": _stops(
                    outlook,
                    one.id,
                    sorted(stop for trace in traces for stop in trace.vehicles.get(one.id, ())),
                ),
            }
            for one in firm.vehicles
        ],
        "drives": [_drive(outlook, one) for one in outlook.drives],
        "gear": [
            {
                "id": one.item.id,
                "name": one.item.name,
                "count": one.item.count,
                "taken": [
                    {
                        "job": taken.job,
                        "count": taken.count,
                        "start": iso(taken.start, firm.zone),
                        "ready": iso(taken.finish, firm.zone),
                    }
                    for trace in traces
                    for taken in trace.gear
                    if taken.gear == one.item.id
                ],
            }
            for one in firm.gear
        ],
        "water": [
            {"day": str(day), "fetched_litres": round(fetched, 1), "left_litres": round(left, 1)}
            for day, fetched, left in water
        ],
        "lessons": {
            "jobs": list(outlook.lessons.jobs),
            "weight": round(outlook.lessons.weight, 4),
            "paces": dict(outlook.lessons.paces),
            "measured_tasks": len(outlook.lessons.tasks),
            "kinds": [_kind_pace(one) for one in outlook.lessons.kinds],
        },
        "stock": [stock_data(one) for one in stocked(outlook)],
        "real": [real_data(one) for one in reals_of(outlook)],
        "jobs": [_job(outlook, job.id, quotes.get(job.id)) for job in firm.jobs],
    }


def _kind_pace(one: KindPace) -> dict[str, Any]:
    lead = {"lead": one.lead, "factor": one.factor} if one.lead else {}
    return {
        "kind": one.kind,
        **lead,
        "jobs": one.jobs,
        "usual_minutes": one.usual_min,
        "real_minutes": one.real_min,
    }


def _sent(sent: Sent) -> dict[str, Any]:
    return {"day": str(sent.day), "crew": list(sent.crew), "vehicles": list(sent.vehicles)}


def _days(outlook: FirmOutlook) -> dict[str, Any]:
    answer = outlook.answer
    rows: dict[str, Any] = {"status": answer.status.value, "cost": answer.cost / 100}
    if answer.bound is not None and answer.gap is not None:
        rows |= {"bound": answer.bound / 100, "gap": round(answer.gap, 4)}
    return rows


def _people(outlook: FirmOutlook) -> list[dict[str, Any]]:
    rows = by_person(outlook.firm, [one.trace for one in outlook.placed])
    return [
        {"id": one.id, "name": one.name, "days": _stops(outlook, one.id, rows[one.id])}
        for one in outlook.firm.people
    ]


def _stops(outlook: FirmOutlook, who: str, stops: Iterable[Stop]) -> list[dict[str, Any]]:
    firm, roads = outlook.firm, outlook.roads
    return [
        {
            "date": str(day),
            "worked_minutes": worked_min(roads, rows),
            "stops": [
                {
                    "job": stop.job,
                    "start": iso(stop.start, firm.zone),
                    "finish": iso(stop.finish, firm.zone),
                    "from": stop.first or "base",
                    "to": stop.last or "base",
                    "tasks": list(stop.tasks),
                }
                for stop in rows
            ],
            "drives": [
                _drive(outlook, one)
                for one in on_day(firm, outlook.drives, who, day)
                if not any(stop.start <= one.start and one.finish <= stop.finish for stop in rows)
            ],
        }
        for day, rows in days_of(firm, stops).items()
    ]


def _drive(outlook: FirmOutlook, drive: Drive) -> dict[str, Any]:
    row: dict[str, Any] = {
        "from": drive.origin or "base",
        "to": drive.destination or "base",
        "start": iso(drive.start, outlook.firm.zone),
        "minutes": drive.finish - drive.start,
        "driver": drive.driver,
        "along": list(drive.along),
    }
    return row | ({"vehicle": drive.vehicle} if drive.vehicle else {})


def _job(outlook: FirmOutlook, job_id: str, quote: Quote | None) -> dict[str, Any]:
    job, plan = outlook.firm.job(job_id), outlook.plans[job_id]
    row: dict[str, Any] = {"id": job.id, "title": plan.title, "promised": job.promised}
    found = outlook.of(job_id)
    if found is None:
        return row | _left(next(one for one in outlook.left if one.job == job_id), outlook)
    return row | _placed(found, quote) | _moving_day(outlook, found) | _together(outlook, job_id)


def _moving_day(outlook: FirmOutlook, found: Placed) -> dict[str, Any]:
    """Say when the crew leaves the base and is back, in minutes after midnight."""
    firm, sent = outlook.firm, found.sent
    day = measured_again(firm, outlook.roads, found.trace, sent.day, len(sent.crew), len(sent.vehicles))
    return {"moving_day": {"leaves_minute": day.leaves_min, "home_minute": day.home_min}}


def _together(outlook: FirmOutlook, job: str) -> dict[str, Any]:
    """Say what came of a job when all were run together."""
    one = outlook.slips.get(job)
    if one is None:
        return {}
    names = list(outlook.slips)
    after = [{"job": names[at], "chance": round(chance, 6)} for at, chance in one.after]
    told = {"kept": one.kept, "standard_error": one.error, "by_others": one.by_others, "after": after}
    return {"together": told}


def _placed(found: Placed, quote: Quote | None) -> dict[str, Any]:
    outlook = found.outlook
    row: dict[str, Any] = {
        "status": outlook.verdict.value,
        "day": str(found.sent.day),
        "crew": list(found.sent.crew),
        "vehicles": list(found.sent.vehicles),
        "accepted": found.accepted,
    }
    promise = promise_data(outlook)
    if promise is not None:
        row["promise"] = promise
    if outlook.cost is not None:
        row["cost"] = {"currency": outlook.cost.currency, "total": float(outlook.cost.total)}
    if quote is not None:
        row["quote"] = quote_data(quote, outlook.project.plan.currency)
    return row | {"path": f"jobs/{found.job}/result.json"}


def _number(value: Decimal) -> float:
    return float(value)


def _left(left: LeftOut, outlook: FirmOutlook) -> dict[str, Any]:
    return {
        "status": "cannot-be-done" if left.proven else "undecided",
        "tried": [{"day": str(one.day), "why": one.why} for one in left.tried],
        "against": list(left.against),
        "days_that_do": [str(day) for day in left.days],
        "asks": [
            {
                "job": one.job,
                "promised": str(one.promised),
                "instead": str(one.instead),
                "price": _number(one.price),
                "day": str(one.day),
            }
            for one in left.asks
        ],
        "currency": outlook.firm.currency,
    }
