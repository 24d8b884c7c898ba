"""Schedules past the safe times of animals, where these alone are in the way, and whose are passed by how much."""

from __future__ import annotations

from dataclasses import replace

from moveplan.errors import Problem
from moveplan.network.link import Relation
from moveplan.practice.project import Project
from moveplan.practice.stays import Shut, too_short
from moveplan.risk.prepared.stays import stays_of
from moveplan.scheduling.schedule import Schedule


def without_limits(project: Project) -> Project:
    """Take the greatest gaps of all animals out of the network, for a schedule that says what they lack."""
    stays = {(stay.since.task, stay.until.task) for stay in stays_of(project)}
    network = project.network
    links = tuple(
        link
        for link in network.links
        if (link.before, link.after) not in stays
        or link.relation is not Relation.STARTTOFINISH
        or link.min_gap_min is not None
    )
    if len(links) == len(network.links):
        return project
    loose = replace(network, links=links)
    return replace(project, network=loose, scheduling=replace(project.scheduling, network=loose))


def too_long(project: Project, schedule: Schedule) -> tuple[Problem, ...]:
    """Say which animals a finished schedule keeps in their containers for longer than their safe time allows.

    Parameters
    ----------
    project : Project
        Whose network has no greatest gap for them; where it has, no schedule passes one.
    """
    stands = {one.task: one for one in schedule.placements}
    routes = {route.livestock: route for route in project.routes}
    found = []
    for stay in stays_of(project):
        if not {stay.since.task, stay.until.task} <= set(stands):
            continue
        route, safe = routes[stay.livestock], stay.safe
        begin, end = (getattr(stands[one.task], one.edge) for one in (stay.since, stay.until))
        short = end - begin - (int(safe.estimate.low) - route.allowance_min)
        if short > 0:
            shut = Shut(route.livestock, route.name, route.count, stay.container, safe)
            found.append(too_short(project.plan, shut, end - begin, short, route.allowance_min))
    return tuple(found)
