"""When somebody is there: on the moving day by what is said of it, and else by the hours of the week."""

from __future__ import annotations

import pytest

from tests import examples


@pytest.mark.parametrize(("name", "person"), [("tight_day", "dara"), ("tight_day", "milo")])
def test_what_is_said_of_the_moving_day_takes_the_place_of_the_hours_of_the_week(
    name: str, person: str
) -> None:
    """Who leaves at half past five for a night shift is not there until six because Saturdays say so."""
    move, problem = examples.plan(name), examples.project(name).scheduling
    (day,) = problem.tied_days[0].days
    (helper,) = (one for one in move.people if one.id == person)
    (rule,) = helper.moving_day_hours
    (there,) = (one for one in problem.people if one.id == person)
    free = [one for one in there.available if one.start < day.finish and day.start < one.finish]
    assert [(one.start - day.start, one.finish - day.start) for one in free] == [
        (rule.from_minute, rule.to_minute)
    ]
    assert any(one.to_minute > rule.to_minute for one in helper.hours)
