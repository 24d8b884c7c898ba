"""What all documents share: the templates' printing functions and the values they may name."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import partial
from typing import TYPE_CHECKING

from jinja2 import Environment

from moveplan.errors import one_by_one
from moveplan.outputs.figures.ruler import ruler_of
from moveplan.outputs.water import priced
from moveplan.outputs.wording.facts import Facts, facts_of
from moveplan.outputs.wording.templates import Target, environment
from moveplan.times import minute_of_day

if TYPE_CHECKING:
    from moveplan.outputs.outlook import Outlook

_BLANK_LINES = re.compile(r"\n{3,}")
"""What a part that is left out leaves behind; no value of a plan holds a line end."""


def printer(target: Target, facts: Facts) -> Environment:
    """Make a template environment that prints values as the plan wishes.

    Parameters
    ----------
    target : str
        ``html``, ``markdown`` or ``text``.
    facts : Facts
        Printing functions.
    """
    env = environment(target)
    env.filters.update(facts.filters())
    clock = partial(minute_of_day, zone=facts.project.plan.zone)
    env.globals |= {"ways_out": one_by_one, "ruler_of": partial(ruler_of, minute_of_day=clock)}
    return env


def shared_context(outlook: Outlook) -> dict[str, object]:
    """Give the values that every document may name."""
    from moveplan.outputs.agenda import agenda  # not loaded by who only prints values, such as check
    from moveplan.outputs.chances import stake_of
    from moveplan.outputs.papers.by_date import parts_of
    from moveplan.practice.attendance.rides import riders_of
    from moveplan.practice.hires import hires_of

    plan, found = outlook.project.plan, agenda(outlook)
    return {
        "outlook": outlook,
        "project": outlook.project,
        "plan": plan,
        "verdict": outlook.verdict.value,
        "scheduled": bool(outlook.schedule.placements),
        "follow": outlook.follow,
        "agenda": found,
        "parts": parts_of(outlook, found),
        "riders": riders_of(outlook.project, outlook.schedule),
        "water_choices": priced(outlook.project),
        "milestones": outlook.promised(),
        "likely": outlook.likely(),
        "finish": outlook.finish(),
        "stake": stake_of(outlook),
        "hires": hires_of(plan, outlook.schedule),
        "dates_missed": outlook.dates_missed(),
    }


def render(outlook: Outlook, target: Target, template: str, extra: Mapping[str, object] | None = None) -> str:
    """Fill one template with an outlook.

    Parameters
    ----------
    target : str
        ``html``, ``markdown`` or ``text``.
    template : str
        Name of the template.
    extra : Mapping of str to object or None
        Values that only this document needs.
    """
    env = printer(target, facts_of(outlook.project))
    text = env.get_template(template).render(shared_context(outlook) | dict(extra or {}))
    return _BLANK_LINES.sub("\n\n", text) if target == "markdown" else text
