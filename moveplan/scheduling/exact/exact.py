"""The exact engine: a constraint solver, started from the serial schedule, one aim after the other.

The solver is imported by the modules of the model, and those only when this module runs. Effort is counted in
the solver's own deterministic time, with a fixed seed and one worker, so that a run can be repeated;
a wall-clock limit far above it is only a guard.
"""

from __future__ import annotations

import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from moveplan.scheduling.constraints.aims import Goal, goals
from moveplan.scheduling.constraints.gear import add_gear
from moveplan.scheduling.constraints.library import cp_model
from moveplan.scheduling.constraints.pace import (
    MOVE_A_SECOND,
    PRESOLVE_S_A_VARIABLE,
    own_tasks_a_second,
    writing_s,
)
from moveplan.scheduling.constraints.people import add_tasks
from moveplan.scheduling.constraints.places import add_tracks
from moveplan.scheduling.constraints.solver import run, solver_with
from moveplan.scheduling.constraints.tasks import Given, Sheet, add_rules, add_tied_days
from moveplan.scheduling.constraints.windows import tighten
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.objective.aims import CHANGES, EXPOSURE, FINISH, LATENESS, values
from moveplan.scheduling.schedule import Aim
from moveplan.scheduling.state.desk import Desk, Spot
from moveplan.scheduling.state.model import Model

_LEAST_SHARE = 0.02
"""Least effort for an aim, however little is left for it. Chosen. [s]"""


@dataclass(slots=True)
class Answer:
    """What the exact engine found.

    Parameters
    ----------
    status : CpSolverStatus
        Status of the solver for the first aim.
    desk : Desk or None
        The best schedule.
    aims : list of Aim
        Those that were reached.
    restricted : bool
        Whether the model asked for more than the problem, so that nothing counts as proven.
    guard_struck, interrupted : bool
        What ended the search early.
    """

    status: Any = cp_model.UNKNOWN
    desk: Desk | None = None
    aims: list[Aim] = field(default_factory=list)
    restricted: bool = False
    guard_struck: bool = False
    interrupted: bool = False

    @property
    def infeasible(self) -> bool:
        """Whether it is proven that there is no schedule."""
        return self.status == cp_model.INFEASIBLE and not self.restricted


def written(model: Model, given: Given, desk: Desk | None) -> Sheet | None:
    """Write the whole model; None where it would be too large to help."""
    sheet = Sheet(model, given, desk)
    tighten(sheet)
    add_tasks(sheet)
    add_rules(sheet)
    add_tied_days(sheet)
    add_gear(sheet)
    return sheet if add_tracks(sheet) else None


class Exact:
    """Improves one aim after the other.

    Parameters
    ----------
    given : Given
        What is held fixed.
    desk : Desk or None
        A schedule to start from.
    seconds : float
        Part of the effort that is left for this engine. [s]
    only : sequence of str
        Names of the aims to take; empty: all.
    held : mapping of str to int, optional
        Aims that must come out no worse than this.
    leave : sequence of str
        Names of aims to leave alone.
    presolved : bool
        Whether the solver may simplify the model first.
    least : mapping of str to int, optional
        Bounds known of aims; 0 where there is none. An aim that has reached its bound is not searched.
    quick : bool
        Whether the model is one of many small questions, on which the solver should not dwell.
    """

    def __init__(
        self,
        model: Model,
        given: Given,
        desk: Desk | None,
        effort: Effort,
        seconds: float,
        only: Sequence[str] = (),
        held: Mapping[str, int] | None = None,
        leave: Sequence[str] = (),
        presolved: bool = True,
        least: Mapping[str, int] | None = None,
        quick: bool = False,
    ) -> None:
        self.model = model
        self.effort = effort
        writing = writing_s(model) if model.only_finish else 0.0
        self.left = max(seconds - writing, seconds / 2)
        self.desk = desk
        self.answer = Answer(desk=desk)
        self.only = only
        self.held = held or {}
        self.leave = leave
        self.presolved = presolved
        self.least = least or {}
        self.quick = quick
        self.sheet = written(model, given, desk)

    def run(self) -> Answer:
        """Take the aims in order."""
        sheet = self.sheet
        if sheet is None:
            return self.answer
        before = self.effort.previous.placements if self.effort.previous else ()
        self.answer.restricted = sheet.draft.restricted or sheet.draft.same_crew
        starts = {placement.task: placement.start for placement in before}
        wanted = [goal for goal in goals(sheet, starts, self._needed) if not self._hold(sheet, goal)]
        for goal in wanted:
            done = self._done(sheet, goal)
            if not done and not self._reach(sheet, goal, last=goal is wanted[-1]):
                break
        if self.answer.desk is None and self.answer.status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            self.answer.desk = self.desk
        return self.answer

    def first(self) -> Answer:
        """Find any schedule, whatever its aims."""
        sheet = self.sheet
        if sheet is None:
            return self.answer
        self.answer.restricted = sheet.draft.restricted or sheet.draft.same_crew
        if any(late < early for early, late in zip(sheet.early, sheet.late, strict=True)):
            self.answer.status = cp_model.INFEASIBLE
            return self.answer
        status, solution = self._read(self._solve(sheet.draft.hinted, FINISH, self.left))
        self.answer.status = status
        if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            self.answer.desk = read_desk(sheet, solution)
        return self.answer

    def _needed(self, name: str) -> bool:
        """Whether an aim is to be taken or held."""
        return name in self.held or (name not in self.leave and (not self.only or name in self.only))

    def _hold(self, sheet: Sheet, goal: Goal) -> bool:
        """Hold an aim that must come out no worse; false where it is to be improved."""
        if goal.name in self.held:
            sheet.draft.at_most(goal.expression, self.held[goal.name] * goal.scale)
        return goal.name in self.held

    def _done(self, sheet: Sheet, goal: Goal) -> bool:
        """Hold an aim that is as good as can be in the schedule known so far; false where it may be better."""
        if self.desk is None or not sheet.draft.hinted:
            return False
        value = dict(values(self.desk))[goal.name] if goal.name != CHANGES else 1
        if value > self.least.get(goal.name, 0):
            return False
        if not self.answer.aims:
            self.answer.status = cp_model.OPTIMAL
        sheet.draft.at_most(goal.expression, value * goal.scale + goal.scale - 1)
        self.answer.aims.append(Aim(goal.name, value, value, proven=True))
        return True

    def _reach(self, sheet: Sheet, goal: Goal, last: bool) -> bool:
        """Improve one aim and hold it; false where the search has to end. The last gets all that is left."""
        draft = sheet.draft
        draft.cp.minimize(goal.expression)
        solver = self._solve(
            draft.hinted, goal.name, max(self.left * (1.0 if last else goal.share), _LEAST_SHARE)
        )
        status, solution = self._read(solver)
        if not self.answer.aims:
            self.answer.status = status
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return False
        draft.learn(solution)
        draft.hinted = True
        value = round(solver.objective_value)
        bound = value if status == cp_model.OPTIMAL else _up(solver.best_objective_bound)
        scaled, least = value // goal.scale, min(bound // goal.scale, value // goal.scale)
        loose = draft.restricted or (draft.same_crew and self._before_hands(goal))
        self.answer.aims.append(
            Aim(goal.name, scaled, 0 if loose else least, scaled == (0 if loose else least))
        )
        draft.at_most(goal.expression, value)
        self.desk = self.answer.desk = read_desk(sheet, solution)
        return not (self.answer.interrupted or self.answer.guard_struck)

    def _before_hands(self, goal: Goal) -> bool:
        """Whether an aim comes before that of recurring care staying in the same hands."""
        return goal.name in (LATENESS, EXPOSURE) or (self.model.only_finish and goal.name == FINISH)

    def _solve(self, hinted: bool, goal: str, seconds: float) -> Any:
        assert self.sheet is not None  # noqa: S101 - run() has looked
        if self.sheet.draft.hinted:
            self.sheet.draft.hint()
        light = not self.model.only_finish
        presolve_s = PRESOLVE_S_A_VARIABLE * len(self.sheet.draft.cp.proto.variables) if light else 0.0
        enough = max(seconds - presolve_s, seconds / 2)
        orders = not light or goal == FINISH
        rate = MOVE_A_SECOND if light else own_tasks_a_second(self.model)
        relaxed = not self.quick and (not light or goal in (LATENESS, EXPOSURE))
        settings = (self.effort.seed, hinted, light or self.quick, self.presolved, orders, rate, relaxed)
        solver = solver_with(enough, *settings)
        began = time.monotonic()
        run(solver, self.sheet.draft.cp, self.effort, goal)
        self.left = max(0.0, self.left - presolve_s - solver.response_proto.deterministic_time / rate)
        self.answer.guard_struck |= time.monotonic() - began >= solver.parameters.max_time_in_seconds
        self.answer.interrupted |= bool(self.effort.interrupted and self.effort.interrupted())
        return solver

    def _read(self, solver: Any) -> tuple[Any, Any]:
        return solver.response_proto.status, solver


def _up(bound: float) -> int:
    """Round a bound up to the next whole number, forgiving the noise of floating point."""
    return -int(-(bound - 1e-6) // 1)


def read_desk(sheet: Sheet, solver: Any) -> Desk:
    """Turn a solution into a schedule."""
    desk = Desk(sheet.model)
    for position in range(len(sheet.tasks)):
        desk.put(position, _spot(sheet, solver, position))
    return desk


def _spot(sheet: Sheet, solver: Any, position: int) -> Spot:
    job, timing, base = sheet.model.jobs[position], sheet.tasks[position], sheet.grid.start
    crew = tuple(at for at, literal in sorted(timing.presence.items()) if solver.value(literal))
    segments = [(base + solver.value(p.start), base + solver.value(p.end)) for p in timing.pieces]
    if job.task.may_pause and job.task.repeats is None and (crew or job.vehicles):
        segments = _stretches(sheet, job.vehicles, crew, segments[0], [o.minutes for o in job.options])
    return Spot(segments[0][0], segments[-1][1], tuple(segments), (crew,))


def _stretches(
    sheet: Sheet,
    vehicles: tuple[int, ...],
    crew: tuple[int, ...],
    whole: tuple[int, int],
    options: Sequence[int],
) -> list[tuple[int, int]]:
    hours = Desk(sheet.model).common(crew, vehicles)
    for minutes in options:
        work = hours.walk(whole[0], minutes)
        if work and (work[0][0], work[-1][1]) == whole:
            return work
    return [whole]
