"""A project under way: what is left gets a new schedule, and is judged; what is done is shown as it was."""

from __future__ import annotations

from dataclasses import replace

from moveplan.cost.lines import cost_of
from moveplan.cost.reserve import with_reserve
from moveplan.door import door
from moveplan.network.task import State
from moveplan.outputs import gave_way
from moveplan.outputs.closed import short_of_time
from moveplan.outputs.drift import dangers_of, drift_of
from moveplan.outputs.outlook import Outlook, Verdict
from moveplan.practice.project import Project
from moveplan.practice.under_way.renew import Renewed, on_same_day, renewed
from moveplan.practice.under_way.story import Story, in_words_of_then
from moveplan.scheduling.schedule import Schedule
from moveplan.stages.hung import on_each_day
from moveplan.stages.judged import judge
from moveplan.stages.reading import Settings
from moveplan.stages.told import as_accepted


def renew(project: Project, story: Story, settings: Settings) -> tuple[Project, Renewed]:
    """Project under way to a new schedule of what is left, with the fewest needless changes.

    Parameters
    ----------
    story : Story
        What has happened, and the schedule in force.

    Returns
    -------
    tuple of (Project, Renewed)
        The project hung on the day that was chosen, and its schedule.
    """
    tried = []
    for hung in sorted(on_each_day(project), key=lambda one: not on_same_day(one, story)):
        accepted = as_accepted(hung, story)
        tried.append((accepted, renewed(accepted, story, settings.effort, improve=settings.improve)))
        if tried[-1][1].found.placements:
            break
    return tried[-1]


def judge_again(project: Project, again: Renewed, story: Story, settings: Settings) -> Outlook:
    """Schedule of a project under way to outlook: what is left is judged, what is done is shown as it was.

    Parameters
    ----------
    settings : Settings
        Runs and seed of the simulation.
    """
    gives_way = door.GIVE_WAY if again.late else door.BEHIND if again.behind else ()
    network = in_words_of_then(project.network, again.states, story)
    whole = replace(
        project,
        plan=replace(project.plan, now=story.now),
        network=network,
        scheduling=replace(again.rest.scheduling, network=network),
    )
    ahead = judge(
        again.rest,
        again.found,
        settings,
        gives_way=gives_way,
        late=again.late,
        whole=(whole, _without_dropped(again)),
    )
    door.check_shown(again)
    broken = door.faults_of(again.rest, again.found, gives_way)
    gave = (*again.given_way, *gave_way.told(broken, project))
    shown = replace(
        whole,
        findings=(*ahead.project.findings, *again.findings, *story.faults),
        day_notes=ahead.project.day_notes,
        day_said=ahead.project.day_said,
    )
    outlook = replace(
        ahead,
        project=shown,
        now=story.now,
        schedule=again.shown,
        states=again.states,
        times=again.ahead(ahead.times),
        readings=story.state.readings,
        entries=story.entries,
        numbers=story.numbers,
    )
    if ahead.cost is not None and ahead.risk is not None:
        outlook = replace(outlook, cost=with_reserve(cost_of(shown, again.shown), ahead.risk))
    short = short_of_time(outlook, story)
    dangers = dangers_of(short, again.broken, outlook)
    verdict = Verdict.UNSAFE if dangers and ahead.verdict.follows else ahead.verdict
    verdict = Verdict.TIGHT if gave and verdict is Verdict.OK else verdict
    said = () if again.found.placements else again.findings
    return replace(
        outlook,
        drift=drift_of(outlook, story, dangers),
        problems=(*said, *dangers, *ahead.problems, *gave),
        verdict=verdict,
        late=again.late
        or bool(short),  # who is in a closed container is not put back by a list that is taken away
    )


def _without_dropped(again: Renewed) -> Schedule:
    """Give the schedule as it is shown, with nobody at work at what was dropped."""
    return replace(
        again.shown,
        placements=tuple(
            replace(one, people=(), segment_people=())
            if again.states.get(one.task) is State.CANCELLED
            else one
            for one in again.shown.placements
        ),
    )
