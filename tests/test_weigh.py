"""The ways side by side, plans against each other, and what changes with one thing."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from moveplan.errors import PlanFileError
from moveplan.pipeline import Settings
from moveplan.scheduling.effort import Effort
from moveplan.weigh import Weighed, Weighing, weigh

EXAMPLES = Path(__file__).parents[1] / "examples"
SETTINGS = Settings(effort=Effort(seconds=0.2, engine="serial"), runs=200)


@cache
def weighed(*names: str, changes: tuple[str, ...] = ()) -> Weighing:
    return weigh([EXAMPLES / f"{name}.yaml" for name in names], SETTINGS, changes)


def ways(name: str) -> dict[str, Weighed]:
    return {one.way: one for one in weighed(name).plans[0].ways}


def test_every_way_is_weighed_or_ruled_out_with_its_line() -> None:
    found = ways("house_move")
    assert set(found) == {"same-day", "hold-over", "new-tank-ahead", "same-spot", "shut-down"}
    for one in found.values():
        if one.fits:
            assert one.verdict
        else:
            assert one.outlook is None
            assert all(reason.where and reason.remedy for reason in one.reasons)


def test_a_way_that_can_be_done_has_all_its_figures() -> None:
    one = ways("house_move")["same-day"]
    assert one.verdict == "ok"
    assert one.outlook is not None
    assert one.cost == one.outlook.cost.total + (one.outlook.cost.reserve or 0)  # type: ignore[union-attr]
    assert 600 <= one.transit_min <= 900
    assert 40 <= one.labour_h <= 110
    assert 5 <= one.weeks <= 10
    assert one.leaving == 0
    assert "Point of no return" in one.holds


def test_hours_of_work_are_those_of_all_people() -> None:
    one = ways("house_move")["same-day"]
    assert one.outlook is not None
    minutes = 0
    for placement in one.outlook.schedule.placements:
        minutes += len(placement.people) * sum(piece.minutes for piece in placement.segments)
    assert one.labour_h == pytest.approx(minutes / 60)


def test_shutting_down_costs_every_animal_and_comes_after_the_ways_that_keep_them() -> None:
    found = weighed("house_move").plans[0]
    assert found.best is not None
    assert found.best.way == "same-day"
    assert ways("house_move")["shut-down"].leaving == 47
    done = [one.way for one in found.ways if one.verdict == "ok"]
    assert done[-1] == "shut-down"


def test_a_change_is_shown_beside_the_plan_as_it_is() -> None:
    found = weighed("small_tank_move", changes=("people.milo=none",))
    assert [row.label for row in found.plans] == [
        "small_tank_move.yaml",
        "small_tank_move.yaml with people.milo=none",
    ]
    plain, changed = found.plans
    assert len(plain.plan.people) == 2
    assert len(changed.plan.people) == 1
    assert plain.best is not None
    assert next(one for one in changed.ways if one.way == "same-day").verdict == "cannot-be-done"


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (
            "people.mil=none",
            '49 people.mil: a change names it, but the plan has no such entry; did you mean "milo"?',
        ),
        (
            "nothing",
            '"nothing" is not a change; write for example "dates.access-from=2027-03-27" or "people.tom=none"',
        ),
        (
            "vehicles.car.payload=heavy",
            '"heavy" is not a mass',
        ),
    ],
)
def test_a_change_that_cannot_be_made_says_so(change: str, message: str) -> None:
    with pytest.raises(PlanFileError) as caught:
        weigh([EXAMPLES / "small_tank_move.yaml"], SETTINGS, (change,))
    assert message in str(caught.value)


def test_weighing_twice_gives_the_same() -> None:
    path = [EXAMPLES / "small_tank_move.yaml"]
    first, second = weigh(path, SETTINGS), weigh(path, SETTINGS)
    for one, other in zip(first.plans[0].ways, second.plans[0].ways, strict=True):
        assert (one.way, one.verdict, one.cost, one.at_risk) == (
            other.way,
            other.verdict,
            other.cost,
            other.at_risk,
        )
