"""``moveplan weigh``: the ways of moving side by side, of one plan or of several, and what changes with one thing."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from moveplan import SECONDS, SEED
from moveplan.cli.options import (
    AsJson,
    Now,
    PlansOrExamples,
    Runs,
    Seed,
    SolverSeconds,
    clear_progress,
    settings_of,
)
from moveplan.cli.terminal.paper import show_text

if TYPE_CHECKING:
    from moveplan.outputs.weighed import Difference, Weighed, WeighedPlan, Weighing
    from moveplan.risk.register.ranked import Offer

Change = Annotated[
    list[str] | None,
    typer.Option(
        "--change",
        help="Try a change: people.tom=none, dates=+14 days or vehicles.van.payload=-30 %; may be given several times.",
        metavar="KEY=VALUE",
    ),
]
Out = Annotated[
    Path | None,
    typer.Option("--out", "-o", help="Write the comparison to a Markdown file as well.", metavar="FILE"),
]


def weigh(
    plans: PlansOrExamples,
    change: Change = None,
    now: Now = "",
    seed: Seed = SEED,
    runs: Runs = 2_000,
    solver_seconds: SolverSeconds = SECONDS,
    out: Out = None,
    as_json: AsJson = False,
) -> None:
    """Compare all ways of moving that are possible, each with its schedule. Several plans are compared with each other.

    Example: moveplan weigh house_move --change people.bea=none
    """
    from moveplan.cli.terminal.findings import print_json
    from moveplan.weigh import weigh as weigh_plans

    weighing = weigh_plans(plans, settings_of(now, seed, runs, solver_seconds), tuple(change or ()))
    clear_progress()
    if out is not None:
        _write(weighing, out)
    if as_json:
        print_json(_data(weighing))
    else:
        show_text(_text(weighing, "text", "terminal/weigh.txt.j2"))
    raise typer.Exit(0 if all(row.best for row in weighing.plans) else 1)


def _write(weighing: Weighing, out: Path) -> None:
    from moveplan.files import write_files

    write_files({out: _text(weighing, "markdown", "weigh.md.j2").encode("utf-8")})


def _text(weighing: Weighing, target: Any, template: str) -> str:
    from moveplan.outputs.wording.documents import printer
    from moveplan.outputs.wording.facts import facts_of
    from moveplan.practice.compose import refused_project

    parts = []
    for row in weighing.plans:
        outlook = next((one.outlook for one in row.ways if one.outlook), None)
        project = outlook.project if outlook else refused_project(row.plan, row.contradictions)
        parts.append(printer(target, facts_of(project)).get_template(template).render(row=row))
    return "\n".join(parts)


def _data(weighing: Weighing) -> dict[str, Any]:
    return {"format": 1, "plans": [_plan_data(row) for row in weighing.plans]}


def _plan_data(row: WeighedPlan) -> dict[str, Any]:
    from moveplan.outputs.data.result import problem_data

    data: dict[str, Any] = {
        "id": row.plan.id,
        "title": row.plan.title,
        "label": row.label,
        "first_choice": row.best.way if row.best else None,
        "ways": [_way_data(one, row) for one in row.ways],
        "measures": [_offer_data(offer) for offer in row.offers],
    }
    if row.plain is not None:
        data["problems"] = [problem_data(problem) for problem in row.contradictions]
    if row.difference is not None:
        data["difference"] = _difference_data(row.difference)
    return data


def _offer_data(offer: Offer) -> dict[str, Any]:
    return {
        "risk": offer.entry.id,
        "measure": offer.measure.id,
        "text": offer.measure.text,
        "cost": float(offer.measure.cost),
        "lowers_expected_loss_by": float(offer.saves),
        "effect_provenance": offer.measure.effect.value,
        "change": f"risks.{offer.entry.id}.measures={offer.measure.id}",
    }


def _difference_data(found: Difference) -> dict[str, Any]:
    """Give what stands in place of the way before, less what stood there."""
    before, after = found.before, found.compared
    data: dict[str, Any] = {"way": before.way, "status": found.after.verdict or "out"}
    if after is None:
        return data
    data |= {
        "instead": after.way,
        "animals_over_limit_at_worst": round(after.worst - before.worst, 6),
        "animals_leaving": after.leaving - before.leaving,
        "transit_minutes": after.transit_min - before.transit_min,
        "labour_hours": round(after.labour_h - before.labour_h, 2),
    }
    pairs = {"settled_minutes": (before.settled, after.settled)}
    pairs["settled_p80_minutes"] = (before.settled_by, after.settled_by)
    data |= {key: two - one for key, (one, two) in pairs.items() if one is not None and two is not None}
    sums = {"cost": (before.cost, after.cost), "expected_loss": (before.loss, after.loss)}
    data |= {key: float(two - one) for key, (one, two) in sums.items() if one is not None and two is not None}
    return data


def _way_data(one: Weighed, row: WeighedPlan) -> dict[str, Any]:
    from moveplan.outputs.data.result import problem_data
    from moveplan.times import iso

    data: dict[str, Any] = {
        "way": one.way,
        "fits": one.fits,
        "why": one.why,
        "problems": [problem_data(problem) for problem in one.reasons],
    }
    if one.verdict:
        data["status"] = one.verdict
    if one.labour_h:
        data |= {
            "animals_over_limit": dict(one.at_risk),
            "animals_leaving": one.leaving,
            "transit_minutes": one.transit_min,
            "weeks": round(one.weeks, 2),
            "labour_hours": round(one.labour_h, 2),
            "must_go_right": list(one.holds),
        }
    if one.cost is not None:
        data |= {"cost": float(one.cost), "currency": row.plan.currency}
    if one.loss is not None:
        data["expected_loss"] = float(one.loss)
    moments = {"settled": one.settled, "settled_p80": one.settled_by}
    return data | {key: iso(at, row.plan.zone) for key, at in moments.items() if at is not None}
