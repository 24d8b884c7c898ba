"""What stands where, as an accepted schedule keeps it for the hour in which something fails."""

from __future__ import annotations

from moveplan.journal.premises import PlannedWater, Premises
from moveplan.journal.taking.known import Known
from moveplan.outputs.outlook import Outlook
from moveplan.practice.ledger.entries import DRAIN, Body, Pour


def premises_of_outlook(outlook: Outlook, known: Known) -> Premises:
    """Take down what stands where.

    Parameters
    ----------
    known : Known
        What a record may name, for the names of the waters.
    """
    plan, ledger = outlook.project.plan, outlook.project.ledger
    places = {place.id: place.name for place in plan.places}
    batteries = [round(60 * item.battery_h) for item in plan.gear if item.battery_h]
    return Premises(
        places=places,
        waters=tuple(_water(body, outlook, known, places) for body in ledger.bodies),
        weights={
            use.vessel.number: round(use.vessel.kg, 1) for use in ledger.containers if use.vessel.livestock
        },
        powered=tuple(
            dict.fromkeys(
                (places.get(one.place, one.place), one.from_task)
                for one in ledger.running
                if one.from_task and one.watts > 0
            )
        ),
        air_min=min(batteries, default=None),
        ring=tuple((one.name, one.role, one.phone) for one in plan.contacts),
        phones={one.id: one.phone for one in plan.people if one.phone},
        loads=tuple(
            (task, round(sum(item.kg for item in items), 3))
            for load in outlook.project.loads
            for task, items in load.stowed
            if task
        ),
        havens=tuple((one.name, places.get(one.place, one.place)) for one in plan.boarding),
    )


def _water(body: Body, outlook: Outlook, known: Known, places: dict[str, str]) -> PlannedWater:
    plan = outlook.project.plan
    own = next((system for system in plan.systems if system.id == body.id), None)
    before = places.get(own.place, "") if own and body.full else ""
    return PlannedWater(
        id=body.id,
        name=known.systems.get(body.id, body.name),
        place=before,
        place_after="" if body.role == "old" else places.get(body.place, body.place),
        full=body.full,
        litres=round(body.litres, 1),
        pours=_pours(f"system:{body.id}", outlook.project.ledger.pours),
    )


def _pours(account: str, pours: tuple[Pour, ...]) -> tuple[tuple[str, float, float], ...]:
    rows: dict[str, list[float]] = {}
    for pour in pours:
        row = rows.setdefault(pour.task, [0.0, 0.0])
        if pour.target == account:
            row[0] += pour.litres
        elif (pour.source, pour.target) == (account, DRAIN):
            row[1] += pour.litres
    return tuple(
        (task, round(into, 1), round(away, 1)) for task, (into, away) in rows.items() if into or away
    )
