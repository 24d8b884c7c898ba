"""The scene with many more people, who share its work out among themselves."""

from __future__ import annotations

from dataclasses import replace

from moveplan.outputs.outlook import Outlook


def crowded(outlook: Outlook, count: int) -> Outlook:
    """The same outlook with so many people; each of the new ones works on every eighth task beside the others."""
    project, schedule = outlook.project, outlook.schedule
    plan, scheduling = project.plan, project.scheduling
    names = {f"hand-{number}": f"Helper number {number}" for number in range(count - len(scheduling.people))}
    more = tuple(replace(scheduling.people[0], id=key, name=name) for key, name in names.items())
    helpers = tuple(replace(plan.people[0], id=key, name=name, phone="") for key, name in names.items())
    placements = tuple(
        replace(one, people=(*one.people, *(person.id for person in more[at % 8 :: 8])))
        if one.people
        else one
        for at, one in enumerate(schedule.placements)
    )
    project = replace(
        project,
        plan=replace(plan, people=(*plan.people, *helpers)),
        scheduling=replace(scheduling, people=(*scheduling.people, *more)),
    )
    return replace(outlook, project=project, schedule=replace(schedule, placements=placements))
