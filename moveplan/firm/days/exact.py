"""Days, crews and vehicles by the constraint solver: a proven choice, or a bound on how much better one could be."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from moveplan.firm.days.question import A_CALL, Answer, DayStatus, Hand, Question, Sent, Wanted, Wheels
from moveplan.scheduling.constraints.library import cp_model
from moveplan.times import MINUTES_A_DAY

DETERMINISTIC_LIMIT = 20.0
"""Effort of the solver, in its own deterministic units, so that the same firm gives the same days. [-]"""
GUARD_S = 60.0
"""By the clock, far above what the effort takes. [s]"""
_STATUS = {
    cp_model.OPTIMAL: DayStatus.OPTIMAL,
    cp_model.FEASIBLE: DayStatus.FEASIBLE,
    cp_model.INFEASIBLE: DayStatus.INFEASIBLE,
}


@dataclass(slots=True)
class _Job:
    """Variables of one job: its days, its moment of midnight, who and what goes."""

    wanted: Wanted
    there: cp_model.IntVar
    midnight: cp_model.IntVar
    days: dict[date, cp_model.IntVar] = field(default_factory=dict)
    crew: dict[str, cp_model.IntVar] = field(default_factory=dict)
    vehicles: dict[str, cp_model.IntVar] = field(default_factory=dict)


def chosen_exactly(question: Question, hint: Answer | None = None, *, any_does: bool = False) -> Answer:
    """Choose days, crews and vehicles at the least cost.

    Parameters
    ----------
    hint : Answer or None
        Where to begin.
    any_does : bool
        Whether it is only asked if there is a choice at all: the first that is found is given, and costs nothing.
    """
    model = cp_model.CpModel()
    first = min((day for one in question.wanted for day in one.days), default=date.min)
    jobs = [_job(model, question, one, first) for one in question.wanted]
    _people(model, question, jobs)
    _wheels(model, question, jobs)
    _gear(model, question, jobs)
    _water(model, question, jobs)
    if not any_does:
        model.minimize(sum(_cost(one) for one in jobs))
    if hint is not None:
        _hint(model, jobs, hint)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.catch_sigint_signal = False
    solver.parameters.max_deterministic_time = DETERMINISTIC_LIMIT
    solver.parameters.max_time_in_seconds = GUARD_S
    return _answer(solver, solver.solve(model), jobs)


def _job(model: cp_model.CpModel, question: Question, one: Wanted, first: date) -> _Job:
    name, days = one.job, question.days(one)
    last = max(((day - first).days for day in days), default=0)
    job = _Job(
        one, model.new_bool_var(f"there {name}"), model.new_int_var(0, last * MINUTES_A_DAY, f"day {name}")
    )
    job.days = {day: model.new_bool_var(f"{name} {day}") for day in days}
    model.add(sum(job.days.values()) == job.there)
    at = sum((day - first).days * MINUTES_A_DAY * var for day, var in job.days.items())
    model.add(job.midnight == at)
    if one.promised:
        model.add(job.there == 1)
    return job


def _people(model: cp_model.CpModel, question: Question, jobs: list[_Job]) -> None:
    """Let nobody be on two moving days at once, nor without their rest between two, nor on days off."""
    rows: dict[str, list[cp_model.IntervalVar]] = {hand.id: [] for hand in question.hands}
    for job in jobs:
        for hand in question.hands:
            rows[hand.id].append(_goes(model, job, job.crew, job.wanted.crew, hand, hand.rest_min))
        if job.wanted.crew is None:
            _crew(model, question, job)
    for times in rows.values():
        model.add_no_overlap(times)


def _goes(
    model: cp_model.CpModel,
    job: _Job,
    sent: dict[str, cp_model.IntVar],
    fixed: tuple[str, ...] | None,
    one: Hand | Wheels,
    rest_min: int = 0,
) -> cp_model.IntervalVar:
    """Let somebody or something go to a job or not, as it is fixed, and give the time that it takes of them.

    Parameters
    ----------
    sent : dict of str to variable
        Who or what goes to the job, to be added to.
    """
    heart = job.wanted.heart
    goes = sent[one.id] = model.new_bool_var(f"{heart.job} {one.id}")
    model.add_implication(goes, job.there)
    if fixed is not None:
        model.add(goes == (job.there if one.id in fixed else 0))
    start, length = job.midnight + heart.leaves_min, heart.home_min - heart.leaves_min + rest_min
    away = model.new_optional_fixed_size_interval_var(start, length, goes, f"{heart.job} {one.id}")
    for day, var in job.days.items():
        if day in one.away:
            model.add_bool_or([goes.negated(), var.negated()])
    return away


def _crew(model: cp_model.CpModel, question: Question, job: _Job) -> None:
    heart = job.wanted.heart
    model.add(sum(job.crew.values()) == heart.crew * job.there)
    model.add(sum(job.crew[one.id] for one in question.hands if one.leads) >= job.there)
    drivers = sum(job.crew[one.id] for one in question.hands if one.drives)
    model.add(drivers >= heart.vehicles * job.there)


def _wheels(model: cp_model.CpModel, question: Question, jobs: list[_Job]) -> None:
    rows: dict[str, list[cp_model.IntervalVar]] = {one.id: [] for one in question.wheels}
    for job in jobs:
        for one in question.wheels:
            rows[one.id].append(_goes(model, job, job.vehicles, job.wanted.vehicles, one))
        if job.wanted.vehicles is None:
            model.add(sum(job.vehicles.values()) == job.wanted.heart.vehicles * job.there)
    for times in rows.values():
        model.add_no_overlap(times)


def _gear(model: cp_model.CpModel, question: Question, jobs: list[_Job]) -> None:
    for gear, count in question.gear.items():
        intervals, demands = [], []
        for job in jobs:
            for name, needed, start, finish in job.wanted.heart.gear:
                if name == gear:
                    intervals.append(
                        model.new_optional_fixed_size_interval_var(
                            job.midnight + start, finish - start, job.there, f"{gear} {job.wanted.job}"
                        )
                    )
                    demands.append(needed)
        if intervals:
            model.add_cumulative(intervals, demands, count)


def _water(model: cp_model.CpModel, question: Question, jobs: list[_Job]) -> None:
    """Let what is fetched in no stretch of days be more than what was kept and what is made meanwhile.

    What is made beyond the store is poured away, so this says the same as a stock carried from day to day.
    """
    if question.water is None:
        return
    rate, kept = question.water
    fetched: dict[int, list[tuple[int, cp_model.IntVar]]] = {}
    for job in jobs:
        for offset, litres in job.wanted.heart.water:
            for day, var in job.days.items():
                fetched.setdefault(day.toordinal() + offset, []).append((-(-int(10 * litres) // 1), var))
    for begin in sorted(fetched):
        for end in (day for day in sorted(fetched) if day >= begin):
            rows = [row for day, several in fetched.items() if begin <= day <= end for row in several]
            there = int(10 * (kept + rate * (end - begin)))
            if sum(litres for litres, _ in rows) > there:
                model.add(sum(litres * var for litres, var in rows) <= there)


def _cost(job: _Job) -> cp_model.LinearExprT:
    placed = sum(job.wanted.cost(day) * var for day, var in job.days.items())
    before = job.wanted.before
    called = sum(A_CALL * var for one, var in job.crew.items() if before and one not in before)
    return placed + called + job.wanted.cost(None) * (1 - job.there)


def _hint(model: cp_model.CpModel, jobs: Iterable[_Job], hint: Answer) -> None:
    for job in jobs:
        sent = hint.of(job.wanted.job)
        for day, var in job.days.items():
            model.add_hint(var, sent is not None and sent.day == day)
        for several, chosen in (
            (job.crew, sent.crew if sent else ()),
            (job.vehicles, sent.vehicles if sent else ()),
        ):
            _hint_each(model, several, chosen)


def _hint_each(
    model: cp_model.CpModel, several: Mapping[str, cp_model.IntVar], chosen: tuple[str, ...]
) -> None:
    for name, var in several.items():
        model.add_hint(var, name in chosen)


def _answer(solver: cp_model.CpSolver, code: cp_model.CpSolverStatus, jobs: list[_Job]) -> Answer:
    status = _STATUS.get(code, DayStatus.UNKNOWN)
    if status in (DayStatus.INFEASIBLE, DayStatus.UNKNOWN):
        return Answer(status, left=tuple(one.wanted.job for one in jobs))
    sent, left = [], []
    for job in jobs:
        day = next((day for day, var in job.days.items() if solver.boolean_value(var)), None)
        if day is None:
            left.append(job.wanted.job)
            continue
        crew = tuple(one for one, var in job.crew.items() if solver.boolean_value(var))
        vehicles = tuple(one for one, var in job.vehicles.items() if solver.boolean_value(var))
        sent.append(Sent(job.wanted.job, day, crew, vehicles))
    bound = -int(-solver.best_objective_bound // 1)
    return Answer(status, tuple(sent), tuple(left), round(solver.objective_value), bound)
