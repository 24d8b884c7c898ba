"""What has failed, told on top of a plan that goes on as if it worked again."""

from __future__ import annotations

from collections.abc import Iterator

from moveplan.errors import Problem
from moveplan.journal.now.another import another
from moveplan.journal.now.failure import POWER, TANK, Failed
from moveplan.plan.move import Plan
from moveplan.practice.under_way.story import Story
from moveplan.times import to_local

_MEND = {
    TANK: "nobody fills it; animals stay in their containers with air and heat",
    POWER: "battery air on, lids and blankets on; wiring is for a licensed electrician",
}


def failures_told(story: Story, plan: Plan) -> Iterator[Problem]:
    """Tell what has failed, since when, and from when the plan counts on it again.

    Parameters
    ----------
    plan : Plan
        For names and times.
    """
    for failure in story.state.failures:
        back = "expected back" if failure.until is not None else "planned on as if it worked again"
        yield Problem(
            f"{_named(failure, plan, story)} failed at {to_local(failure.at, plan.zone):%a %H:%M}, {back} at "
            f"{to_local(failure.planned_on, plan.zone):%a %H:%M}",
            "",
            f"{_MEND.get(failure.what) or _rung_for(failure, plan, story)}; moveplan next PLAN says which ways there "
            f"are, and moveplan record PLAN fails {failure.what} {failure.name} --until TIME, or works {failure.what} "
            f"{failure.name}, plans on with it",
        )


def _rung_for(failure: Failed, plan: Plan, story: Story) -> str:
    """Say whom to ring for another vehicle, by when and for how much."""
    stands = story.standing()
    if story.last is None or stands is None:
        return "ring for another one now; the animals' containers go first"
    found = another(failure.name, story.last, story.state, stands)
    ring = [_rung(name, phone) for name, _, phone in found.ring] or ["whoever hires one out or lends one"]
    said = [f"ring {' or '.join(ring)} for another one now"]
    if found.vehicles:
        said.append(f"of this plan there is {', '.join(found.vehicles)}")
    if found.kg and found.leaves:
        said.append(f"{found.kg:.0f} kg were to leave at {to_local(found.leaves, plan.zone):%a %H:%M}")
    if found.drivers is not None:
        said.append(
            f"{' or '.join(_rung(*one) for one in found.drivers) or 'nobody who is there'} may drive it"
        )
    return "; ".join((*said, "the animals' containers go first"))


def _rung(name: str, phone: str) -> str:
    return f"{name} {phone}".strip()


def _named(failure: Failed, plan: Plan, story: Story) -> str:
    names = {one.id: one.name for one in plan.vehicles} | {one.id: one.name for one in plan.places}
    systems = story.last.systems if story.last else {}
    if failure.what == TANK:
        return f"the tank {systems.get(failure.name, failure.name)}"
    name = names.get(failure.name, failure.name)
    return f"the power at {name}" if failure.what == POWER else name
