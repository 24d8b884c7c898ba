"""A plan made into a project: the one way into practice."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from moveplan.errors import Problem
from moveplan.estimate import Estimate
from moveplan.network.graph import Network
from moveplan.plan.move import Assumption, Plan
from moveplan.plan.systems import System
from moveplan.practice.comfort.mealtimes import Mealtime, said
from moveplan.practice.comfort.running import running_of
from moveplan.practice.drafting.cautions import cautions_of
from moveplan.practice.drafting.cushions import with_cushions
from moveplan.practice.drafting.draft import MOVING_DAY, SECOND_DAY, SUFFIXES, Draft
from moveplan.practice.drafting.wording import Wording
from moveplan.practice.ledger.bodies import bodies_of
from moveplan.practice.ledger.entries import Ledger
from moveplan.practice.ledger.holds import gear_of, holds_of
from moveplan.practice.measured import alike, measured_journeys
from moveplan.practice.own_tasks import own_links, own_network, own_problem, own_task
from moveplan.practice.project import Load, Project, WaterChoice
from moveplan.practice.resources import Days, problem_of
from moveplan.practice.stays import routes_of
from moveplan.practice.ways.courses import Course, course_of
from moveplan.practice.ways.fitting import WayFit, chosen
from moveplan.practice.ways.moves import Milestones, compose
from moveplan.quantities.assemble import facts_of
from moveplan.quantities.containers.journeys import Measured
from moveplan.quantities.containers.vessels import Vessel
from moveplan.quantities.course import other_systems
from moveplan.quantities.facts import Facts
from moveplan.quantities.keeping.boarders import Boarders, boarders_of
from moveplan.quantities.leg.shares import shares_of
from moveplan.quantities.leg.shortages import said as said_short
from moveplan.quantities.leg.shortages import shorts_of
from moveplan.quantities.water.amounts import Water, summed
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.times import to_local

ROUNDS = 3
"""How often containers are chosen anew for the hours of the tasks that they make; then the last choice stands. [-]"""
Known = tuple[tuple[Vessel, ...], float, int]
"""What an earlier composition has found: bins, dry mix for what is mixed afresh, heaters in a bin. [-], [kg], [-]"""
EVE = "go-or-no-go"
"""How the decisions on the eve of a moving day are called; a second one has a suffix."""


def project_of(plan: Plan, *, steps: bool = True) -> Project:
    """Make a project of a plan.

    Parameters
    ----------
    steps : bool
        Whether tasks say what they are and how they are done, which takes longest to word.

    Raises
    ------
    CannotBeDoneError
        Where no way of moving fits the facts.
    """
    if plan.purpose == "own-tasks":
        problem = own_problem(plan)
        return Project(plan, "", own_network(plan), problem, assumptions=plan.assumptions)
    way, others = chosen(plan)
    words = Wording(plan.units, steps=steps, locale=plan.locale)
    return _move(plan, course_of(plan, way.way), words, () if plan.way else (_way_assumed(way, others),))


def _move(plan: Plan, course: Course, words: Wording, assumed: tuple[Assumption, ...]) -> Project:
    move, milestones, unsafe, measured = _composed(plan, course, words)
    legs = move.legs
    eves = [task for task in move.tasks if task.startswith(EVE)]
    cushioned = with_cushions(move.tasks, move.links, eves)
    tasks = (*cushioned.values(), *(own_task(plan, task) for task in plan.tasks))
    running = running_of(move)
    network = Network(tasks, (*move.links, *own_links(plan)), holds_of(move, running), milestones)
    days = _days(course, tuple(move.mealtimes))
    return Project(
        plan=plan,
        way=course.way,
        network=network,
        scheduling=problem_of(plan, network, gear_of(move, running), days),
        routes=routes_of(move.passages),
        loads=_loads(legs, move),
        water=_water(legs),
        water_choices=_choices(plan, legs),
        quantities=_named(legs),
        gear_needed=move.gear_needed(),
        cautions=cautions_of(tasks),
        assumptions=(
            *(*plan.assumptions, *assumed, *_staying(plan), *course.assumptions, *move.assumptions),
            *said(plan, days.mealtimes, dict(days.tagged)),
        ),
        unsafe=(*unsafe, *move.unsafe),
        impossible=_once(facts.impossible for facts in legs),
        findings=(
            *_once(facts.findings for facts in legs),
            *move.findings,
            *said_short(plan, shorts_of(plan, move.gear_needed())),
            *unnamed(plan),
        ),
        ledger=Ledger(tuple(move.pours), (*move.uses, *move.bins.uses()), move.bodies, running),
        hints=tuple(dict.fromkeys((*(hint for facts in legs for hint in facts.hints), *move.hints))),
        meals=tuple(move.meals),
        upkeep=move.upkeep(),
        mealtimes=days.mealtimes,
        mixings=tuple(move.mixings),
        curing=move.curing_water(),
        afresh_salt_kg=move.afresh_kg,
        reserve_salt=move.reserve_salt(),
        measured=measured,
    )


def unnamed(plan: Plan) -> tuple[Problem, ...]:
    """Say that nobody lives in the tanks of a plan, which is seldom so."""
    if plan.livestock:
        return ()
    message = "the plan names no animals: nothing is planned for them, and no container is held ready"
    remedy = 'name them under livestock, such as "{clowns: {kind: clownfish, count: 2}}"'
    return (Problem(message, plan.where("livestock"), remedy),)


def _composed(
    plan: Plan, course: Course, words: Wording
) -> tuple[Draft, Milestones, tuple[Problem, ...], tuple[Measured, ...]]:
    """Choose containers for the hours that the tasks of the day take, and compose the tasks for these containers."""
    measured: tuple[Measured, ...] = tuple({} for _ in course.legs)
    plain = Wording(plan.units, silent=True)
    boarders = boarders_of(plan, course.legs[0].origin)
    legs = _legs(plan, course, measured)
    known: Known = ((), 0.0, 0)
    used = measured
    for _ in range(ROUNDS):
        draft = _draft(plan, plain, legs, boarders)
        compose(draft)
        known = _known(draft)
        before, measured, gone = measured, measured_journeys(draft), course
        course = _with_bins(course, draft)
        if measured != before or course != gone:
            legs, used = _legs(plan, course, measured), measured
        if alike(before, measured):
            break
    while True:
        draft = _draft(plan, words, legs, boarders, known)
        milestones, unsafe = compose(draft)
        if known == _known(draft):
            return draft, milestones, unsafe, used
        known = _known(draft)


def _with_bins(course: Course, draft: Draft) -> Course:
    """Let the bins that are used at both ends of a way travel along."""
    legs = tuple(replace(leg, bins=draft.bins.carried(way)) for way, leg in enumerate(course.legs))
    return replace(course, legs=legs)


def _known(draft: Draft) -> Known:
    """Bins, dry mix and heaters that the first tasks have to name, though only the last ones ask for them."""
    return tuple(draft.bins.vessels), round(draft.afresh_kg, 6), draft.heaters_hung()


def _legs(plan: Plan, course: Course, measured: tuple[Measured, ...]) -> tuple[Facts, ...]:
    return tuple(facts_of(plan, leg, one) for leg, one in zip(course.legs, measured, strict=True))


def _draft(
    plan: Plan,
    words: Wording,
    legs: tuple[Facts, ...],
    boarders: Boarders,
    known: Known = ((), 0.0, 0),
) -> Draft:
    return Draft(
        plan,
        legs[0],
        words,
        legs=legs,
        bodies=bodies_of(legs),
        boarders=boarders,
        known_bins=known[0],
        known_afresh_kg=known[1],
        known_heaters=known[2],
    )


def _days(course: Course, mealtimes: tuple[Mealtime, ...]) -> Days:
    day = course.legs[0].days[0] if course.legs[0].days else date.min
    later = tuple((SECOND_DAY, leg.days[0]) for leg in course.legs[1:])
    return Days(((MOVING_DAY, day), *later), mealtimes)


def _once(groups: Iterable[tuple[Problem, ...]]) -> tuple[Problem, ...]:
    return tuple(dict.fromkeys(problem for several in groups for problem in several))


def _loads(legs: tuple[Facts, ...], move: Draft) -> tuple[Load, ...]:
    """List the loads of all legs by their loading tasks; trips of a vehicle are counted on from leg to leg."""
    made: dict[str, int] = {}
    loads: list[Load] = []
    for facts, suffix in zip(legs, SUFFIXES, strict=False):
        before = dict(made)
        for load in facts.trips.loads:
            trip = before.get(load.vehicle, 0) + load.trip
            made[load.vehicle] = max(made.get(load.vehicle, 0), trip)
            rows = move.stowed.get((suffix, load.vehicle, load.trip), [])
            items = tuple(item for _, several in rows for item in several) or load.items
            steps = tuple((task, len(several)) for task, several in rows)
            loads.append(replace(load, trip=trip, items=items, steps=steps))
    return tuple(loads)


def _water(legs: tuple[Facts, ...]) -> Water | None:
    filled = tuple(facts.water for facts in legs if facts.water.mixed_l)
    return summed(filled) if filled else None


def _choices(plan: Plan, legs: tuple[Facts, ...]) -> tuple[WaterChoice, ...]:
    found = (_choice(plan, facts, suffix) for facts, suffix in zip(legs, SUFFIXES, strict=False))
    return tuple(choice for choice in found if choice.shares)


def _choice(plan: Plan, facts: Facts, suffix: str) -> WaterChoice:
    poured = tuple(one for one in facts.systems if not one.standing)
    return WaterChoice(
        tuple(one.rebuilt.name for one in poured),
        tuple(one.task("draw-keep-water") + suffix for one in poured),
        tuple(one.water.kept.basis for one in poured),
        shares_of(plan, facts),
    )


def _named(legs: tuple[Facts, ...]) -> tuple[tuple[str, Estimate], ...]:
    return tuple(row for facts in legs for row in facts.named)


def _staying(plan: Plan) -> tuple[Assumption, ...]:
    return tuple(map(_left_out, other_systems(plan)))


def _left_out(system: System) -> Assumption:
    words, why = "stays as it is", "it changes neither its place nor its tank"
    if system.moves_to != system.place:
        words, why = (
            "travels empty and dry",
            "it is no display, and neither animals nor rock are said to be in it",
        )
    return Assumption(f"systems.{system.id}", f"{system.name} {words}", why)


def _way_assumed(way: WayFit, others: tuple[WayFit, ...]) -> Assumption:
    named = ", ".join(one.way for one in others)
    return Assumption("way", way.way, f"{way.why}; {named} would also fit" if named else way.why)


def on_day(project: Project, day: date) -> Project:
    """Hang a project on another day of its window.

    Parameters
    ----------
    day : date
        One of the plan's move days.
    """
    if project.impossible or not project.network.tasks:
        return project
    before = project.scheduling
    later = tuple(
        (tied.tag, _day_of(project, tied.days[0].start))
        for tied in before.tied_days
        if tied.tag != MOVING_DAY
    )
    days = Days(((MOVING_DAY, day), *later), project.mealtimes)
    return replace(project, scheduling=problem_of(project.plan, project.network, before.gear, days))


def _day_of(project: Project, minute: int) -> date:
    return to_local(minute, project.plan.zone).date()


def refused_project(plan: Plan, reasons: tuple[Problem, ...]) -> Project:
    """Give an empty project of a plan that fits no way of moving, with the reasons.

    Parameters
    ----------
    reasons : tuple of Problem
        Why nothing fits.
    """
    network = Network(())
    problem = SchedulingProblem(network, plan.now, plan.now)
    return Project(plan, plan.way, network, problem, assumptions=plan.assumptions, impossible=reasons)
