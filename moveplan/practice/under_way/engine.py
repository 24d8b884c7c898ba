"""A project that is under way, as the engine wants it: what is done stands still, what runs ends, the rest waits.

Every task stays in the network. One that is done, or runs, becomes a block of time without people or gear; one that was
dropped takes no time, so that what waited for it still waits for what came before it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from moveplan.errors import Problem
from moveplan.estimate import exactly
from moveplan.journal.now.held_up import held_until
from moveplan.journal.now.standing import Standing
from moveplan.journal.state import TaskState
from moveplan.journal.waters.ripening import Ripening
from moveplan.network.graph import Network
from moveplan.network.link import Hold, Link
from moveplan.network.task import Kind, Repeat, State, Task, Timing
from moveplan.practice.project import Project
from moveplan.practice.under_way.left import what_is_left
from moveplan.practice.under_way.story import Story
from moveplan.practice.under_way.unsaid import findings_of, surely_over
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Placement
from moveplan.times import Interval

_GRID = 5
"""What is left of a wait is rounded up to this. Chosen. [min]"""


@dataclass(frozen=True, slots=True)
class Underway:
    """A project under way.

    Parameters
    ----------
    rest : Project
        As the engine wants it.
    real : Mapping of str to Placement
        Tasks that are done or run, where they really stand.
    past : Mapping of str to tuple of Interval
        Recurring care that is not over: the times that are done. [min]
    states : Mapping of str to State
        How far each task is.
    broken : tuple of Link
        Greatest gaps that are passed already; they are no longer in the network.
    findings : tuple of Problem
        What the keeper should know.
    """

    rest: Project
    real: Mapping[str, Placement]
    past: Mapping[str, tuple[Interval, ...]]
    states: Mapping[str, State]
    broken: tuple[Link, ...]
    findings: tuple[Problem, ...]


def under_way(project: Project, story: Story) -> Underway:
    """State what is left to do.

    Parameters
    ----------
    project : Project
        The plan as a project, on the day that is tried.
    """
    network, problem = _forecast(project.network, story), project.scheduling
    stands = story.standing()
    states = {task.id: _state(task, _told(task, story, stands)) for task in network.tasks}
    held = held_until(story.state.failures, story.last, stands) if story.last and stands else {}
    real = {
        task.id: _real(task, states[task.id], story, held)
        for task in network.tasks
        if states[task.id].state is State.COMPLETED or _runs(task, states[task.id])
    }
    past = {task.id: pieces for task in network.tasks if (pieces := _past(task, states[task.id], story))}
    over = surely_over(project, states, story) | {
        task.id: _all_past(task, past[task.id], story)
        for task in network.tasks
        if task.id in past
        and task.id not in real
        and task.repeats
        and len(past[task.id]) >= task.repeats.times
    }
    real |= over
    tasks = tuple(
        _held(
            _restated(task, states[task.id], real.get(task.id), past.get(task.id, ()), problem, story),
            None if task.id in real else held.get(task.id),
            problem,
        )
        for task in network.tasks
    )
    links, broken = _links(network, tasks, real, past, story.now, problem.start)
    rest = Network(tasks, links, _holds(network.holds, real), network.milestones)
    return Underway(
        rest=replace(project, network=rest, scheduling=what_is_left(problem, rest, network, real, story.now)),
        real=real,
        past=past,
        states={name: found.state for name, found in states.items()},
        broken=broken,
        findings=tuple(findings_of(network, states, story, over)),
    )


def _forecast(network: Network, story: Story) -> Network:
    """Let a filter ripen for as long as its readings let expect."""
    known = {one.task: one for one in story.ripening}
    return replace(
        network,
        tasks=tuple(_as_read(task, known[task.id]) if task.id in known else task for task in network.tasks),
    )


def _as_read(task: Task, cycle: Ripening) -> Task:
    if cycle.low is None or cycle.likely is None or cycle.high is None or not cycle.fits:
        return task
    low, likely, high = (
        max(_GRID, -(-(one - cycle.since) // _GRID) * _GRID) for one in (cycle.low, cycle.likely, cycle.high)
    )
    basis = f"{cycle.readings} readings since the dose, weighed with the growth model"
    return replace(
        task, estimate=replace(task.estimate, low=low, likely=likely, high=high, basis=basis, inputs=())
    )


def _told(task: Task, story: Story, stands: Standing | None) -> TaskState:
    """Tell how far a task is; what runs by itself has done so since what it waits for, whether or not it was said."""
    found = story.state.of(task.id)
    if found.state is not State.NEEDS_ACTION:
        return found
    since = next((one.since for one in story.ripening if one.task == task.id), None)
    ended = None
    if since is None and stands is not None and task.kind is Kind.WAIT and task.crew is None:
        since, ended = stands.begun.get(task.id), stands.ended.get(task.id)
    state = State.IN_PROCESS if ended is None else State.COMPLETED
    return found if since is None else replace(found, state=state, begun=since, done=ended)


def _state(task: Task, found: TaskState) -> TaskState:
    """Tell how far a task is; recurring care is done with its last time."""
    if task.repeats and found.state is State.IN_PROCESS and len(found.times) >= task.repeats.times:
        return replace(found, state=State.COMPLETED, done=max(at for _, at in found.times))
    return found


def _runs(task: Task, found: TaskState) -> bool:
    return found.state is State.IN_PROCESS and found.begun is not None and not task.repeats


def _real(task: Task, found: TaskState, story: Story, held: Mapping[str, int]) -> Placement:
    """Where a task that is done or runs really stands, with the people it was planned for."""
    planned = story.planned(task.id)
    people, vehicles = (planned.people, planned.vehicles) if planned else ((), task.vehicles)
    if found.times:
        pieces = _times(task, found)
        return Placement(task.id, pieces[0].start, pieces[-1].finish, pieces, people, vehicles)
    forecast = any(one.task == task.id for one in story.ripening)
    as_planned = planned is None or task.repeats or forecast
    lasting = task.minutes if planned is None or as_planned else planned.finish - planned.start
    if found.done is not None:
        worked = lasting if found.took_min is None else found.took_min
        begun = found.begun if found.begun is not None and found.begun <= found.done else found.done - worked
        end = found.done
    else:
        begun = found.begun or story.now
        end = max(begun + lasting, story.now + 1, held.get(task.id, begun) + min(lasting, task.minutes))
    return Placement(task.id, begun, end, (Interval(begun, end),), people, vehicles)


def _past(task: Task, found: TaskState, story: Story) -> tuple[Interval, ...]:
    """Find the times of recurring care that are over: where they were logged, else where they were planned.

    What was missed is not made up for: care that was to happen on a day is of no use a week later.
    """
    if task.repeats is None or found.state not in (State.NEEDS_ACTION, State.IN_PROCESS):
        return ()
    planned = story.planned(task.id)
    pieces = {at: Interval(done - task.minutes, done) for at, done in found.times}
    for at, piece in enumerate(planned.segments if planned else (), start=1):
        if piece.finish <= story.now:
            pieces.setdefault(at, piece)
    return tuple(sorted(pieces.values()))


def _all_past(task: Task, pieces: tuple[Interval, ...], story: Story) -> Placement:
    planned = story.planned(task.id)
    people, vehicles = (planned.people, planned.vehicles) if planned else ((), task.vehicles)
    return Placement(task.id, pieces[0].start, pieces[-1].finish, pieces, people, vehicles)


def _times(task: Task, found: TaskState) -> tuple[Interval, ...]:
    return tuple(sorted(Interval(at - task.minutes, at) for _, at in found.times))


def _restated(
    task: Task,
    found: TaskState,
    stands: Placement | None,
    past: tuple[Interval, ...],
    problem: SchedulingProblem,
    story: Story,
) -> Task:
    if stands is not None:
        return _block(task, stands, problem, story.now if found.state is State.IN_PROCESS else None)
    if found.state is State.CANCELLED:
        return _bare(task, 0, "dropped")
    if task.repeats and past:
        left = Repeat(task.repeats.every_min, task.repeats.times - len(past), task.repeats.slack_min)
        due = past[-1].start + task.repeats.every_min - task.repeats.slack_min
        return replace(task, repeats=left, not_before=max(_up(story.now, problem), _up(due, problem)))
    return _soon(replace(task, not_before=_not_before(task, problem, story)), problem, story)


def _held(task: Task, until: int | None, problem: SchedulingProblem) -> Task:
    """Let what a failure holds up begin only when that is over."""
    if until is None or task.estimate.high <= 0:
        return task
    return replace(task, not_before=max(task.not_before or problem.start, _up(until, problem)))


def _soon(task: Task, problem: SchedulingProblem, story: Story) -> Task:
    """Let work that should be over by now be done as soon as it can."""
    planned = story.planned(task.id)
    if planned is None or planned.finish > story.now or task.day or task.crew is None or task.repeats:
        return task
    return replace(task, due=_up(story.now, problem), timing=Timing.EARLY, margin_min=0)


def _bare(task: Task, minutes: int, basis: str) -> Task:
    """Take everything but the time off a task."""
    return replace(
        task,
        estimate=exactly(minutes, "min", basis),
        kind=Kind.WAIT,
        place="",
        place_after="",
        crew=None,
        larger_crews=(),
        vehicles=(),
        gear=(),
        may_pause=False,
        not_before=None,
        finish_by=None,
        due=None,
        day="",
        timing=Timing.EARLY,
        margin_min=0,
        repeats=None,
        planned_min=None,
    )


def _block(task: Task, stands: Placement, problem: SchedulingProblem, now: int | None) -> Task:
    """Make a block of time of a task; one that still runs may end earlier or later than it is expected to."""
    begin, end = (
        _down(max(stands.start, problem.start), problem),
        _up(max(stands.finish, problem.start), problem),
    )
    bare = _bare(task, end - begin, "as it was")
    if now is not None:
        low = min(max(task.estimate.low, now - begin), end - begin)
        high = max(task.estimate.high, end - begin)
        bare = replace(bare, estimate=replace(bare.estimate, low=low, high=high, basis="it runs"))
    return replace(bare, not_before=begin, finish_by=end)


def _down(moment: int, problem: SchedulingProblem) -> int:
    return moment - (moment - problem.start) % problem.grid_min


def _up(moment: int, problem: SchedulingProblem) -> int:
    return max(moment + -(moment - problem.start) % problem.grid_min, problem.start)


def _not_before(task: Task, problem: SchedulingProblem, story: Story) -> int:
    now = _up(story.now, problem)
    return now if task.not_before is None else max(task.not_before, now)


def _links(
    network: Network,
    tasks: tuple[Task, ...],
    real: Mapping[str, Placement],
    past: Mapping[str, tuple[Interval, ...]],
    now: int,
    start: int,
) -> tuple[tuple[Link, ...], tuple[Link, ...]]:
    """Leave out what binds a task that has begun, and greatest gaps that are passed already.

    What was over before the start of the plan stands at it for the engine: its gaps are so much less.
    """
    restated = {task.id: task for task in tasks}
    kept: list[Link] = []
    broken: list[Link] = []
    for link in network.links:
        if link.after in real or link.after in past:
            continue
        if link.before in real and _passed(link, real[link.before], restated[link.after], now):
            broken.append(link)
            link = replace(link, max_gap_min=None)
        if link.before in real and (early := start - _edge(link, real[link.before])) > 0:
            least, most = (
                None if gap is None else gap - early for gap in (link.min_gap_min, link.max_gap_min)
            )
            link = replace(link, min_gap_min=least, max_gap_min=most)
        if link.min_gap_min is not None or link.max_gap_min is not None:
            kept.append(link)
    return tuple(kept), tuple(broken)


def _edge(link: Link, before: Placement) -> int:
    return before.finish if link.relation.from_finish else before.start


def _passed(link: Link, before: Placement, after: Task, now: int) -> bool:
    if link.max_gap_min is None:
        return False
    since = _edge(link, before)
    soonest = now + (after.minutes if link.relation.to_finish else 0)
    return since + link.max_gap_min < soonest


def _holds(holds: Iterable[Hold], real: Mapping[str, Placement]) -> tuple[Hold, ...]:
    """Keep gear that is still held: what ended with a task that has begun is free."""
    return tuple(hold for hold in holds if hold.until_task not in real)
