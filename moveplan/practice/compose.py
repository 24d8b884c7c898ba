"""A plan made into a project: the one way into practice."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from moveplan.errors import CannotBeDoneError, Problem
from moveplan.network.graph import Network
from moveplan.plan.move import Assumption, Plan
from moveplan.practice import same_day
from moveplan.practice.cautions import cautions_of
from moveplan.practice.draft import Draft
from moveplan.practice.holds import gear_of, holds_of
from moveplan.practice.own_tasks import own_links, own_network, own_problem, own_task
from moveplan.practice.project import Project
from moveplan.practice.resources import problem_of
from moveplan.practice.stays import add_stays
from moveplan.practice.wording import Wording
from moveplan.quantities.assemble import facts_of
from moveplan.scheduling.problem import SchedulingProblem


def project_of(plan: Plan) -> Project:
    """Make a project of a plan.

    Parameters
    ----------
    plan : Plan
        What the keeper told us. [-]

    Raises
    ------
    CannotBeDoneError
        Where no way of moving fits the facts.
    """
    if plan.purpose == "own-tasks":
        problem = own_problem(plan)
        return Project(plan, "", own_network(plan), problem, assumptions=plan.assumptions)
    _refuse_unknown_way(plan)
    return _move(plan)


def _refuse_unknown_way(plan: Plan) -> None:
    moving = [system for system in plan.systems if system.moves_to != system.place]
    fits = moving and not any(system.new_tank for system in moving) and plan.purpose == "house-move"
    if fits and plan.way in ("", same_day.WAY):
        return
    raise CannotBeDoneError(
        (
            Problem(
                f'this version plans the way "{same_day.WAY}" of a house move that rebuilds the same tank; '
                f'the plan asks for purpose "{plan.purpose}"' + (f', way "{plan.way}"' if plan.way else ""),
                plan.where("way" if plan.way else "purpose"),
                'write "purpose: house-move" with two places and no new tank, or list the tasks yourself under '
                '"purpose: own-tasks"',
            ),
        )
    )


def _move(plan: Plan) -> Project:
    facts = facts_of(plan)
    move = Draft(plan, facts, Wording(plan.units))
    milestones = same_day.compose(move)
    routes, unsafe = add_stays(move)
    tasks = (*move.tasks.values(), *(own_task(plan, task) for task in plan.tasks))
    network = Network(tasks, (*move.links, *own_links(plan)), holds_of(move), milestones)
    day = plan.dates.move_days[0] if plan.dates else date.min
    return Project(
        plan=plan,
        way=same_day.WAY,
        network=network,
        scheduling=problem_of(plan, network, gear_of(move), day, round(facts.drive.likely)),
        routes=routes,
        loads=facts.trips.loads,
        water=facts.water,
        quantities=facts.named,
        gear_needed=facts.gear_needed,
        cautions=cautions_of(tasks),
        assumptions=(*plan.assumptions, *_way_assumed(plan), *move.assumptions),
        unsafe=unsafe,
        impossible=facts.impossible,
        findings=facts.findings,
    )


def _way_assumed(plan: Plan) -> tuple[Assumption, ...]:
    if plan.way:
        return ()
    return (
        Assumption("way", same_day.WAY, "the same tank is rebuilt and the homes can be reached in one day"),
    )


def on_day(project: Project, day: date) -> Project:
    """Hang a project on another day of its window.

    Parameters
    ----------
    project : Project
        A move. [-]
    day : date
        One of the plan's move days. [-]
    """
    if project.impossible or not project.network.tasks:
        return project
    before = project.scheduling
    drive = next((minutes for _, _, minutes in before.drives), 0)
    return replace(project, scheduling=problem_of(project.plan, project.network, before.gear, day, drive))


def refused_project(plan: Plan, reasons: tuple[Problem, ...]) -> Project:
    """Give an empty project of a plan that fits no way of moving, with the reasons.

    Parameters
    ----------
    plan : Plan
        What the keeper told us. [-]
    reasons : tuple of Problem
        Why nothing fits. [-]
    """
    network = Network(())
    problem = SchedulingProblem(network, plan.now, plan.now)
    return Project(plan, plan.way, network, problem, assumptions=plan.assumptions, impossible=reasons)
