"""Animals, water, loads, money, risk and drift as data."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from moveplan.outputs.data.numbers import plain, whole
from moveplan.outputs.livestock import DatedRoute, DatedStop, Stay, dated_routes
from moveplan.outputs.outlook import Moved, Outlook
from moveplan.outputs.water import choices_data
from moveplan.practice.comfort.whereabouts import inside_of, standings_of
from moveplan.practice.project import Load, LoadItem
from moveplan.quantities.policy import Policy
from moveplan.risk.promise.values import Broken
from moveplan.risk.summary import Percentiles, RegisterEntry, RiskSummary
from moveplan.times import Interval, iso

_Stamp = Callable[[int], str]


def _stamp(outlook: Outlook) -> _Stamp:
    zone = outlook.project.plan.zone
    return lambda minutes: iso(minutes, zone)


def livestock_data(outlook: Outlook) -> list[dict[str, Any]]:
    """Say where every group of animals is, and how long it may be in its container."""
    stamp, standings = _stamp(outlook), standings_of(outlook.project, outlook.schedule)
    inside = inside_of(outlook.project, outlook.schedule, standings)
    numbers = {id(one.use): one.use.vessel.number for one in standings}
    held: dict[str, list[tuple[str, Interval]]] = {}
    for (use, group), span in inside.items():
        held.setdefault(group, []).append((numbers[use], Interval(*span)))
    return [_animal(dated, stamp, held.get(dated.route.livestock, [])) for dated in dated_routes(outlook)]


def _animal(dated: DatedRoute, stamp: _Stamp, held: list[tuple[str, Interval]]) -> dict[str, Any]:
    return {
        "id": dated.route.livestock,
        "name": dated.route.name,
        "count": dated.route.count,
        "route": [_stop(stop, stamp) for stop in dated.stops],
        "stays": [_stay(stay, stamp, held) for stay in dated.stays],
        **_margin(dated),
    }


def _stop(stop: DatedStop, stamp: _Stamp) -> dict[str, Any]:
    return {
        "where": stop.where,
        "container": stop.container,
        "from": stamp(stop.span.start),
        "until": stamp(stop.span.finish),
    }


def _stay(stay: Stay, stamp: _Stamp, held: list[tuple[str, Interval]]) -> dict[str, Any]:
    safe = stay.safe.estimate
    return {
        "where": ", ".join(stay.where),
        "container": stay.container,
        "containers": [
            number for number, span in held if span.start < stay.span.finish and stay.span.start < span.finish
        ],
        "from": stamp(stay.span.start),
        "until": stamp(stay.span.finish),
        "safe_low_minutes": whole(safe.low),
        "safe_likely_minutes": whole(safe.likely),
        "safe_high_minutes": whole(safe.high),
        "in_vehicle_minutes": None if stay.in_vehicle_min is None else whole(stay.in_vehicle_min),
        "limited_by": _published(stay.safe.limited_by),
        "basis": safe.basis,
    }


def _published(limit: str) -> str:
    """Name a limit as the format does, which knows what an empty battery leaves short of only; its basis names both."""
    return "oxygen" if limit == "battery" else limit


def _margin(dated: DatedRoute) -> dict[str, Any]:
    tightest = dated.tightest
    if tightest is None:
        return {}
    return {
        "safe_minutes": whole(tightest.safe.estimate.low),
        "planned_minutes": tightest.span.minutes,
        "allowance_minutes": dated.route.allowance_min,
        "limited_by": _published(tightest.safe.limited_by),
    }


def water_data(outlook: Outlook) -> dict[str, Any] | None:
    """Give the likely litres and the dry mix; None where there is no water."""
    water = outlook.project.water
    if water is None:
        return None
    return {
        "kept_litres": plain(water.kept.likely, 1),
        "new_litres": plain(water.new.likely, 1),
        "spare_litres": plain(water.spare.likely, 1),
        "purified_litres": plain(outlook.project.purified_l, 1),
        "salt_kg": plain(water.salt.likely + outlook.project.more_salt_kg, 2),
        "keeps_days": plain(Policy(outlook.project.plan.policy)["mixed_water_keeps"], 1),
        "reserve_salt_kg": plain(outlook.project.reserve_salt[1], 2),
        "choices": choices_data(outlook.project),
    }


def loads_data(outlook: Outlook) -> list[dict[str, Any]]:
    """List what each vehicle carries on each trip; a total is the sum of what is printed."""
    known = {use.vessel.number for use in outlook.project.ledger.containers}
    return [_load(load.in_order(outlook.starts()), known) for load in outlook.project.loads]


def _load(load: Load, known: set[str]) -> dict[str, Any]:
    items = [{"name": item.name, "kg": plain(item.kg, 1), **_number(item, known)} for item in load.items]
    total = plain(sum(round(item.kg, 1) for item in load.items), 1)
    return {"vehicle": load.vehicle, "trip": load.trip, "items": items, "total_kg": total}


def _number(item: LoadItem, known: set[str]) -> dict[str, str]:
    """Give the number of a container of the ledger, or that of a label alone, as a bucket of sand has one."""
    if not item.number:
        return {}
    return {"container" if item.number in known else "label": item.number}


def cost_data(outlook: Outlook) -> dict[str, Any] | None:
    """Give the bill; None where it was not computed."""
    cost = outlook.cost
    if cost is None:
        return None
    extra = {
        "reserve": cost.reserve,
        "expected_loss": cost.expected_loss,
        "mean": cost.mean,
        "p50": cost.p50,
        "p80": cost.p80,
        "promised": cost.promised,
        "ready": cost.ready,
        "likely": cost.p50,
    }
    return {
        "currency": cost.currency,
        "lines": [
            {
                "item": line.item,
                "name": line.name,
                "group": line.group,
                "quantity": plain(line.quantity, 4),
                "unit": line.unit,
                "unit_price": plain(line.unit_price, 4),
                "amount": plain(line.amount, 2),
                "provenance": line.provenance.value,
                "basis": line.basis,
            }
            for line in cost.lines
        ],
        "total": plain(cost.total, 2),
        **{key: plain(value, 2) for key, value in extra.items() if value is not None},
    }


def promise_data(outlook: Outlook) -> dict[str, Any] | None:
    """Say how often all that is promised is kept, and what breaks; None where nothing is promised."""
    promise = outlook.risk.promise if outlook.risk else None
    if promise is None:
        return None
    return {
        "confidence": plain(promise.confidence, 4),
        "kept": plain(promise.kept, 4),
        "standard_error": plain(promise.error, 6),
        "breaks": [_broken(one) for one in promise.breaks],
        "animals": None if promise.animals is None else _broken(promise.animals),
        **({} if promise.dates_kept is None else {"dates_kept": plain(promise.dates_kept, 4)}),
        "long_days": [{"person": person, "chance": plain(chance, 4)} for person, chance in promise.long_days],
        "ends": [
            {"day": one.day.isoformat(), "who": one.who}
            | {"likely": _stamp(outlook)(one.likely), "promised": _stamp(outlook)(one.promised)}
            for one in promise.ends
        ],
        "helps": [
            {
                "change": "; ".join(f"{key}={value}" for key, value in one.writes),
                "kind": one.kind,
                "kept": plain(one.kept, 4),
                "cost": plain(one.cost, 2),
                "unpaid_hours": plain(one.unpaid_h, 2),
                "tried": True,
            }
            for one in outlook.helps
        ],
    }


def _broken(one: Broken) -> dict[str, Any]:
    return {
        "what": one.what,
        "id": one.id,
        "chance": plain(one.chance, 4),
        "roots": [{"what": root.what, "id": root.id, "share": plain(root.share, 4)} for root in one.roots],
    }


def risk_data(outlook: Outlook) -> dict[str, Any] | None:
    """Give what was simulated and the register; None where neither was."""
    risk = outlook.risk
    if risk is None:
        return None
    return {
        "runs": risk.runs,
        "seed": risk.seed,
        **(_simulated(risk, _stamp(outlook)) if risk.runs else {}),
        "register": [_entry(entry) for entry in risk.register],
    }


def _simulated(risk: RiskSummary, stamp: _Stamp) -> dict[str, Any]:
    milestones = {"ready": risk.ready, "settled": risk.settled, "finish": risk.finish}
    return {
        **{name: _quantiles(found, stamp) for name, found in milestones.items() if found is not None},
        "criticality": {task: plain(share, 4) for task, share in risk.criticality},
        "livestock_over_limit": {animal: plain(share, 4) for animal, share in risk.over_limit},
        **{
            name: [
                {"task": one.task, "date": stamp(one.latest), "confidence": plain(one.confidence, 4)}
                for one in rows
            ]
            for name, rows in (("start_by", risk.start_by), ("hold_by", risk.hold_by))
        },
        "finish_by": [
            {"task": one.task, "date": stamp(one.by), "likely": stamp(one.likely)}
            | {"promised": stamp(one.promised), "chance": plain(one.chance, 4)}
            for one in risk.finish_by
        ],
        "chances": {
            name: plain(chance, 4)
            for name, chance in (
                ("day_missed", risk.day_missed),
                ("overtime", risk.overtime),
                ("second_hire", risk.second_hire),
                ("keys_back_missed", risk.keys_back_missed),
            )
            if chance is not None
        },
        "day_missed_by": [{"task": task, "share": plain(share, 4)} for task, share in risk.day_missed_by],
        "moves_the_end": [{"task": task, "minutes": plain(minutes, 2)} for task, minutes in risk.spread],
        "broken_gaps": [
            {"from": before, "to": after, "probability": plain(share, 4)}
            for before, after, share in risk.broken_gaps
        ],
        "standard_errors": {name: plain(error, 6) for name, error in risk.errors},
        "notes": list(risk.notes),
        **({"model": dict(risk.model)} if risk.model else {}),
    }


def _quantiles(found: Percentiles, stamp: _Stamp) -> dict[str, str]:
    return {
        "p10": stamp(found.p10),
        "p50": stamp(found.p50),
        "p80": stamp(found.p80),
        "p95": stamp(found.p95),
    }


def drift_data(outlook: Outlook) -> dict[str, Any] | None:
    """Say how far the plan has moved from the schedules that were accepted; None where none was."""
    drift = outlook.drift
    if drift is None:
        return None
    stamp = _stamp(outlook)
    return {
        "first_accepted": stamp(drift.first_accepted),
        "milestones": {
            one.name: {
                "then": stamp(one.before),
                "now": stamp(one.after),
                "later_minutes": one.after - one.before,
            }
            for one in drift.milestones
        },
        **({} if drift.cost_more is None else {"cost_more": plain(drift.cost_more, 2)}),
        "moved": [_moved(one, stamp) for one in drift.moved],
    }


def _moved(one: Moved, stamp: _Stamp) -> dict[str, Any]:
    before = (
        {} if one.before is None else {"from": stamp(one.before), "later_minutes": one.after - one.before}
    )
    return {"task": one.task, **before, "to": stamp(one.after)}


def _entry(entry: RegisterEntry) -> dict[str, Any]:
    return {
        "id": entry.id,
        "event": entry.event,
        "trigger": entry.trigger,
        "probability": plain(entry.probability, 4),
        "cost": plain(entry.cost, 2),
        "delay_minutes": entry.delay_min,
        "response": entry.response,
        "who": entry.who,
        "provenance": entry.provenance.value,
        "tasks": list(entry.tasks),
        "expected_loss": plain(entry.expected_loss, 2),
        "measures": [
            {
                "id": measure.id,
                "text": measure.text,
                "cost": plain(measure.cost, 2),
                "provenance": measure.provenance.value,
                "effect_provenance": measure.effect.value,
                "taken": measure.taken,
                **({} if measure.taken else {"lowers_expected_loss_by": plain(entry.lowers_by(measure), 2)}),
            }
            for measure in entry.measures
        ],
    }
