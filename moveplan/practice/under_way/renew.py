"""A new schedule with the fewest needless changes: all of the old one, else all but what has to give way, else anew."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial
from itertools import product

from moveplan.errors import Problem
from moveplan.journal.now.takeover import not_there
from moveplan.network.link import Link
from moveplan.network.task import State, Task
from moveplan.practice.project import Project
from moveplan.practice.under_way.engine import Underway, under_way
from moveplan.practice.under_way.failures import failures_told
from moveplan.practice.under_way.given_way import given_way
from moveplan.practice.under_way.late_day import ends_of_limits, late_day, past_return
from moveplan.practice.under_way.story import Story
from moveplan.scheduling.dates.critical import Times
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.improve.keeping import kept, length_min
from moveplan.scheduling.objective.aims import exposure, exposure_of
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Engine, Placement, Schedule, Status
from moveplan.scheduling.solve import solve
from moveplan.scheduling.verify import verify
from moveplan.scheduling.ways_out.ways import quickly
from moveplan.times import Interval, to_local

Placed = Mapping[str, Placement]


@dataclass(frozen=True, slots=True)
class Renewed:
    """A schedule of a project under way.

    Parameters
    ----------
    rest : Project
        What the engine was asked, for what is computed from it.
    found : Schedule
        What it answered.
    shown : Schedule
        The same for people: what is done where it really was.
    states : Mapping of str to State
        How far each task is.
    broken : tuple of Link
        Greatest gaps that cannot be kept any more.
    findings : tuple of Problem
        What the keeper should know.
    behind : frozenset of str
        Tasks that have begun or must be over.
    late : bool
        Whether the point of no return is passed, so that there is a list to follow whatever is broken.
    given_way : tuple of Problem
        What has failed, and limits of people, vehicles and dates that gave way.
    """

    rest: Project
    found: Schedule
    shown: Schedule
    states: Mapping[str, State]
    broken: tuple[Link, ...]
    findings: tuple[Problem, ...]
    behind: frozenset[str]
    late: bool = False
    given_way: tuple[Problem, ...] = ()

    def ahead(self, times: Mapping[str, Times]) -> dict[str, Times]:
        """Keep the early and late dates of what has not begun; the rest has none any more."""
        dropped = {name for name, state in self.states.items() if state is State.CANCELLED}
        return {name: one for name, one in times.items() if name not in self.behind | dropped}


def on_same_day(project: Project, story: Story) -> bool:
    """Whether a project hangs on the moving day of the schedule in force."""
    starts = {task.day: task.start for task in story.last.tasks if task.day} if story.last else {}
    return all(
        any(day.start <= starts[tied.tag] < day.finish for day in tied.days)
        for tied in project.scheduling.tied_days
        if tied.tag in starts
    )


def renewed(project: Project, story: Story, effort: Effort, *, improve: bool = False) -> Renewed:
    """Schedule what is left to do.

    Parameters
    ----------
    project : Project
        On the day that is tried.
    story : Story
        What has happened, and the schedule in force.
    improve : bool
        Whether starts that need not move may, for a better schedule; never past the point of no return.
    """
    way = under_way(project, story)
    problem = way.rest.scheduling
    before = _before(problem, way, story)
    if past_return(project, way):
        return _on_late(project, way, story, effort)
    anew = partial(_anew, problem, before, effort)
    stays = _with_fewest_changes(problem, before, effort, anew)
    found = _improved(problem, stays, effort) if improve else stays
    broken = way.broken
    if not found.placements:
        looser, bound = _loosened(problem, way)
        again = solve(looser, effort) if bound else found
        if again.placements:
            problem, found, broken = looser, again, (*broken, *_exceeded(bound, again))
    return _as_renewed(project, way, story, problem, found, broken)


def _on_late(project: Project, way: Underway, story: Story, effort: Effort) -> Renewed:
    """Go on past the point of no return: within every limit if that is seen at once, else without those of people."""
    strict = way.rest.scheduling
    out = not_there(story.state, to_local(story.now, project.plan.zone).date())
    before = _before(strict, way, story)
    found = _with_fewest_changes(strict, before, effort, lambda: _at_once(strict, effort))
    if found.placements:
        return replace(_as_renewed(project, way, story, strict, found, way.broken), late=True)
    ends = tuple(ends_of_limits(strict, story.now, story.state.failures))
    for in_time, until in product((True, False), ends):
        late = late_day(project, way, story.now, until, in_time=in_time, out=out)
        problem = late.problem
        found = _with_fewest_changes(problem, before, effort, partial(_at_once, problem, effort))
        if found.placements:
            break
    found = found if found.placements else solve(late.problem, effort)
    broken = (*way.broken, *_exceeded(late.gaps, found)) if found.placements else way.broken
    renewed_late = _as_renewed(project, way, story, late.problem, found, broken)
    gave = (*renewed_late.given_way, *given_way(late, strict, found, project))
    return replace(renewed_late, late=bool(found.placements), given_way=gave)


def _as_renewed(
    project: Project,
    way: Underway,
    story: Story,
    problem: SchedulingProblem,
    found: Schedule,
    broken: tuple[Link, ...],
) -> Renewed:
    rest = replace(way.rest, network=problem.network, scheduling=problem)
    return Renewed(
        rest,
        found,
        _shown(project, way, found, story),
        way.states,
        broken,
        way.findings,
        frozenset(way.real),
        given_way=tuple(failures_told(story, project.plan)),
    )


def _before(problem: SchedulingProblem, way: Underway, story: Story) -> dict[str, Placement]:
    """Where the schedule in force has what is left to do, and where what is done stands."""
    placed: dict[str, Placement] = {}
    for task in problem.network.tasks:
        if task.id in way.real:
            begin, end = task.not_before or problem.start, task.finish_by or problem.start
            placed[task.id] = Placement(task.id, begin, end, (Interval(begin, end),))
            continue
        planned = story.planned(task.id)
        if way.states[task.id] is State.CANCELLED:
            moment = max(planned.start if planned else problem.start, problem.start)
            moment -= (moment - problem.start) % problem.grid_min
            placed[task.id] = Placement(task.id, moment, moment, (Interval(moment, moment),))
        elif planned is not None:
            pieces = planned.segments[-task.repeats.times :] if task.repeats else planned.segments
            placed[task.id] = Placement(
                task.id, pieces[0].start, pieces[-1].finish, pieces, planned.people, planned.vehicles
            )
    return placed


def _with_fewest_changes(
    problem: SchedulingProblem, before: Placed, effort: Effort, anew: Callable[[], Schedule]
) -> Schedule:
    """Move only what has to move, unless animals wait longer so than in a schedule made anew."""
    stays = kept(problem, before, effort)
    if stays is not None and exposure_of(problem, stays) <= exposure(problem, before):
        return _restored(problem, before, stays)
    other = anew()
    if not other.placements:
        return other if stays is None else _restored(problem, before, stays)
    other = _restored(problem, before, other)
    if stays is None or exposure_of(problem, other) < exposure_of(problem, stays):
        return other
    return _restored(problem, before, stays)


def _improved(problem: SchedulingProblem, stays: Schedule, effort: Effort) -> Schedule:
    """Look for a better schedule than the one with the fewest changes, in which animals wait no longer."""
    found = solve(problem, effort)
    if stays.placements and (
        not found.placements or exposure_of(problem, found) > exposure_of(problem, stays)
    ):
        return stays
    return found


def _at_once(problem: SchedulingProblem, effort: Effort) -> Schedule:
    return quickly(problem, effort) or Schedule(Status.UNKNOWN, Engine.SERIAL)


def _anew(problem: SchedulingProblem, before: Placed, effort: Effort) -> Schedule:
    previous = Schedule(Status.FEASIBLE, Engine.SERIAL, tuple(before.values()))
    return solve(problem, replace(effort, previous=previous if before else None))


def _restored(problem: SchedulingProblem, before: Placed, found: Schedule) -> Schedule:
    """Put back what moved without need: one task after the other, where the whole still holds."""
    for at, task in enumerate(problem.network.tasks if found.placements else ()):
        old = before.get(task.id)
        if old is None or old == found.placements[at]:
            continue
        placements = (*found.placements[:at], old, *found.placements[at + 1 :])
        tried = replace(
            found,
            status=Status.FEASIBLE,
            placements=placements,
            makespan_min=length_min(problem, placements),
            bound_min=0,
            aims=(),
        )
        if not verify(problem, tried):
            found = tried
    return found


def _loosened(problem: SchedulingProblem, way: Underway) -> tuple[SchedulingProblem, tuple[Link, ...]]:
    """Take off the greatest gaps that run already, where nothing else helps."""
    bound = tuple(
        link for link in problem.network.links if link.max_gap_min is not None and link.before in way.real
    )
    links = tuple(
        replace(link, max_gap_min=None) if link in bound else link
        for link in problem.network.links
        if link not in bound or link.min_gap_min is not None
    )
    return replace(problem, network=replace(problem.network, links=links)), bound


def _exceeded(bound: tuple[Link, ...], found: Schedule) -> Iterator[Link]:
    placed = {one.task: one for one in found.placements}
    for link in bound:
        if link.gap_between(placed[link.before], placed[link.after]) > (link.max_gap_min or 0):
            yield link


def _shown(project: Project, way: Underway, found: Schedule, story: Story) -> Schedule:
    """Put what is done where it really was."""
    if not found.placements:
        return found
    placed = {one.task: one for one in found.placements}
    routes = {stop.since.task for route in project.routes for stop in route.stops if stop.since}
    return replace(
        found,
        placements=tuple(
            _stand(task, placed[task.id], way, story, on_route=task.id in routes)
            for task in project.network.tasks
        ),
    )


def _stand(task: Task, engine: Placement, way: Underway, story: Story, *, on_route: bool) -> Placement:
    if task.id in way.real:
        return way.real[task.id]
    planned = story.planned(task.id)
    if way.states[task.id] is State.CANCELLED and planned is not None and not on_route:
        return Placement(
            task.id, planned.start, planned.finish, planned.segments, planned.people, planned.vehicles
        )
    past = way.past.get(task.id, ())
    if not past:
        return engine
    pieces = (*past, *engine.segments)
    crews = engine.segment_people
    if crews:
        crews = (*((engine.people,) * len(past)), *crews)
    return replace(engine, start=pieces[0].start, segments=pieces, segment_people=crews)
