"""What has failed, told on top of a plan that goes on as if it worked again."""

from __future__ import annotations

from collections.abc import Iterator

from moveplan.errors import Problem
from moveplan.journal.now.failure import POWER, TANK, Failed
from moveplan.plan.move import Plan
from moveplan.practice.under_way.story import Story
from moveplan.times import to_local

_MEND = {
    TANK: "nobody fills it; animals stay in their containers with air and heat",
    POWER: "battery air on, lids and blankets on; wiring is for a licensed electrician",
}
_CALL = "call for another one now; the animals' containers go first"


def failures_told(story: Story, plan: Plan) -> Iterator[Problem]:
    """Tell what has failed, since when, and from when the plan counts on it again.

    Parameters
    ----------
    story : Story
        What has happened.
    plan : Plan
        For names and times.
    """
    for failure in story.state.failures:
        back = "expected back" if failure.until is not None else "planned on as if it worked again"
        yield Problem(
            f"{_named(failure, plan, story)} failed at {to_local(failure.at, plan.zone):%a %H:%M}, {back} at "
            f"{to_local(failure.planned_on, plan.zone):%a %H:%M}",
            "",
            f"{_MEND.get(failure.what, _CALL)}; moveplan next PLAN says which ways there are, and "
            f"moveplan record PLAN fails {failure.what} {failure.name} --until TIME, or works {failure.what} "
            f"{failure.name}, plans on with it",
        )


def _named(failure: Failed, plan: Plan, story: Story) -> str:
    names = {one.id: one.name for one in plan.vehicles} | {one.id: one.name for one in plan.places}
    systems = story.last.systems if story.last else {}
    if failure.what == TANK:
        return f"the tank {systems.get(failure.name, failure.name)}"
    name = names.get(failure.name, failure.name)
    return f"the power at {name}" if failure.what == POWER else name
