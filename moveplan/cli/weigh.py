"""``moveplan weigh``: the ways of moving side by side, of one plan or of several, and what changes with one thing."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from moveplan.cli.options import AsJson, Now, Runs, Seed, SolverSeconds, clear_progress, settings_of
from moveplan.cli.paper import show_text

if TYPE_CHECKING:
    from moveplan.weigh import Weighed, WeighedPlan, Weighing

Plans = Annotated[
    list[Path], typer.Argument(help="One plan file or several.", metavar="PLAN...", show_default=False)
]
Change = Annotated[
    list[str] | None,
    typer.Option(
        "--change",
        help="What if: KEY=VALUE, such as people.tom=none; may be given again.",
        metavar="KEY=VALUE",
    ),
]
Out = Annotated[
    Path | None,
    typer.Option("--out", "-o", help="Write the comparison to a Markdown file as well.", metavar="FILE"),
]


def weigh(
    plans: Plans,
    change: Change = None,
    now: Now = "",
    seed: Seed = 1,
    runs: Runs = 2_000,
    solver_seconds: SolverSeconds = 2.0,
    out: Out = None,
    as_json: AsJson = False,
) -> None:
    """Weigh every way that the facts allow, each fully scheduled.

    Example: moveplan weigh examples/house_move.yaml --change people.bea=none
    """
    from moveplan.cli.screen import print_json
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
    from moveplan.outputs.documents import printer
    from moveplan.outputs.facts import facts_of

    outlook = next((one.outlook for row in weighing.plans for one in row.ways if one.outlook), None)
    if outlook is None:
        return ""
    env = printer(target, facts_of(outlook.project))
    return env.get_template(template).render(weighing=weighing)


def _data(weighing: Weighing) -> dict[str, Any]:
    return {"format": 1, "plans": [_plan_data(row) for row in weighing.plans]}


def _plan_data(row: WeighedPlan) -> dict[str, Any]:
    return {
        "id": row.plan.id,
        "title": row.plan.title,
        "label": row.label,
        "first_choice": row.best.way if row.best else None,
        "ways": [_way_data(one) for one in row.ways],
    }


def _way_data(one: Weighed) -> dict[str, Any]:
    from moveplan.outputs.data import problem_data

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
    if one.cost is not None and one.outlook is not None:
        data |= {"cost": float(one.cost), "currency": one.outlook.project.plan.currency}
    return data
