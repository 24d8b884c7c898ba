"""The ways side by side, plans against each other, and what changes with one thing."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from moveplan.errors import PlanFileError
from moveplan.outputs.weighed import Weighed, WeighedPlan, Weighing
from moveplan.pipeline import Settings
from moveplan.risk.register.ranked import offers
from moveplan.risk.summary import RiskSummary
from moveplan.scheduling.effort import Effort
from moveplan.times import to_local
from moveplan.weigh import weigh

EXAMPLES = Path(__file__).parents[1] / "examples"
SETTINGS = Settings(effort=Effort(seconds=0.2, engine="serial"), runs=200)


MEASURES = {
    "hire-window-missed": "hire-that-may-be-put-off",
    "keys-back-missed": "keys-a-week-later",
    "water-not-ready": "water-in-reserve",
    "safe-time-passed": "holding-tub-kept-ripe",
}
"""A measure against each of some risks of the house move, none of which touches the risk of another."""
SELDOM = {"water-not-ready", "keys-back-missed", "safe-time-passed"}
"""What happens in few runs or none: water is ready weeks before, the keys go back 13 days after the move day, and
a safe time is passed in 13 of 10,000 runs, since the hours of a battery count as they are."""
OTHERS = {"air-pump-stops": "second-air-pump", "hidden-animal": "white-tub-and-lamp"}
"""Such measures for the small move: where animals are close to their limits, these make them safer too."""


def switched_on(measures: dict[str, str]) -> tuple[str, ...]:
    return tuple(f"risks.{risk}.measures={measure}" for risk, measure in measures.items())


ALONE = ("people.milo=none",)
BESIDE = {"house_move": switched_on(MEASURES), "small_tank_move": switched_on(OTHERS)}
"""Changes beside which a plan as it is has to be weighed anyway."""


@cache
def weighed(name: str, *changes: str) -> Weighing:
    return weigh([EXAMPLES / f"{name}.yaml"], SETTINGS, changes)


def ways(name: str) -> dict[str, Weighed]:
    return {one.way: one for one in plain(name).ways}


def plain(name: str) -> WeighedPlan:
    return weighed(name, *BESIDE[name]).plans[0]


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
    assert one.follows
    assert one.outlook is not None
    assert one.cost == one.outlook.cost.total + (one.outlook.cost.reserve or 0)  # type: ignore[union-attr]
    assert (
        240 <= one.transit_min <= 900
    )  # hours in containers on one day, from the first lid to the last release
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
    found = plain("house_move")
    assert found.best is not None
    assert found.best.way == "same-day"
    assert ways("house_move")["shut-down"].leaving == 47
    done = [one.way for one in found.ways if one.follows]
    assert done[-1] == "shut-down"


def test_a_change_is_shown_beside_the_plan_as_it_is() -> None:
    found = weighed("small_tank_move", *ALONE)
    assert [row.label for row in found.plans] == [
        "small_tank_move.yaml",
        "small_tank_move.yaml with people.milo=none",
    ]
    before, after = found.plans
    assert len(before.plan.people) == 2
    assert len(after.plan.people) == 1
    assert before.best is not None
    follows = {row.label: one.follows for row in found.plans for one in row.ways if one.way == "same-day"}
    assert follows[before.label]
    assert follows[after.label]  # a tank that one can carry: nobody else has to be there


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (
            "people.mil=none",
            '49 people.mil: a change names it, but the plan has no such entry; did you mean "milo"?',
        ),
        (
            "nothing",
            '"nothing" is not a change; write for example "dates.access-from=2027-03-27", "people.tom=none"'
            ' or "dates=+14 days"',
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


def changed(name: str, *changes: str) -> WeighedPlan:
    return weighed(name, *changes).plans[1]


def risk_of(found: WeighedPlan) -> RiskSummary:
    assert found.best is not None
    assert found.best.outlook is not None
    assert found.best.outlook.risk is not None
    return found.best.outlook.risk


def lines_of(found: WeighedPlan) -> dict[str, Decimal]:
    assert found.best is not None
    assert found.best.outlook is not None
    assert found.best.outlook.cost is not None
    return {line.item: line.amount for line in found.best.outlook.cost.lines}


def test_measures_are_switched_on_by_a_change_and_cost_what_was_offered() -> None:
    before, after = weighed("house_move", *BESIDE["house_move"]).plans
    prices = {
        f"measure-{risk}-{one.measure.id}": one.measure.cost
        for risk, measure in MEASURES.items()
        for one in offers(risk_of(before).register)
        if one.measure.id == measure
    }
    assert len(prices) == len(MEASURES)
    lines = lines_of(after)
    assert {item: lines[item] for item in prices} == prices
    assert sum(lines.values()) - sum(lines_of(before).values()) == sum(prices.values())


@pytest.mark.parametrize(
    ("name", "risk", "measure"),
    [
        *(("house_move", *one) for one in MEASURES.items()),
        *(("small_tank_move", *one) for one in OTHERS.items()),
    ],
)
def test_a_measure_lowers_the_expected_loss_by_what_was_offered(name: str, risk: str, measure: str) -> None:
    """Also where the loss comes out of the simulation."""
    before, after = weighed(name, *BESIDE[name]).plans
    (offered,) = (one for one in offers(risk_of(before).register) if one.measure.id == measure)
    losses = [
        {one.id: one.expected_loss for one in risk_of(found).register}[risk] for found in (before, after)
    ]
    assert losses[0] - losses[1] == pytest.approx(offered.saves, abs=Decimal("0.02"))
    assert losses[0] > 0 or risk in SELDOM
    assert measure not in {one.measure.id for one in offers(risk_of(after).register)}


def test_the_measures_that_spare_the_day_most_are_offered_first_and_then_those_that_save_most() -> None:
    found = plain("house_move").offers
    brings = [(one.spares_min, one.saves - one.measure.cost) for one in found]
    assert len(found) == 5
    assert brings == sorted(brings, reverse=True)
    assert min(one.saves for one in found) > 0


def test_a_house_move_that_slips_takes_its_dates_and_hires_along() -> None:
    row = changed("house_move", "dates=+7 days", "confidence=60 %")
    assert row.plain is not None
    before, after = row.plain.plan, row.plan
    assert before.dates is not None
    assert after.dates is not None
    assert (after.dates.move_days[0] - before.dates.move_days[0]).days == 7
    assert after.dates.earliest_start == before.dates.earliest_start
    assert after.dates.keys_back is not None
    assert before.dates.keys_back is not None
    keys = [to_local(moment, before.zone) for moment in (before.dates.keys_back, after.dates.keys_back)]
    assert keys[1] == keys[0] + timedelta(days=7)
    hires = [
        [to_local(one.hire_from, plan.zone) for one in plan.vehicles if one.hire_from is not None]
        for plan in (before, after)
    ]
    assert hires[1] == [one + timedelta(days=7) for one in hires[0]] != []
    assert row.difference is not None
    assert row.difference.compared is not None
    assert row.difference.compared.way == row.difference.before.way
    begun, done = row.difference.before.settled, row.difference.compared.settled
    assert begun is not None
    assert done is not None
    assert 6 <= (done - begun) / 1440 <= 8


def test_a_handover_after_the_move_day_is_an_answer_and_no_mistake() -> None:
    row = changed("small_tank_move", "dates.access-from=+2 weeks")
    assert row.ways == ()
    assert row.best is None
    assert [problem.message for problem in row.contradictions] == [
        "the new home opens after the move-day 2027-05-29"
    ]


def test_a_third_more_old_water_counts_from_what_is_assumed() -> None:
    row = changed("small_tank_move", "systems.nano.water-kept=+30 %")
    assert [system.water_kept for system in row.plan.systems] == [pytest.approx(0.6 * 1.3)]


def test_a_way_that_falls_out_is_replaced_by_the_next() -> None:
    hours = [f"people.{who}.moving-day=06:30-18:00" for who in ("ines", "bea")]
    row = changed("house_move", "people.tomas=none", *hours)
    assert row.difference is not None
    assert row.difference.before.way == "same-day"
    assert not row.difference.after.follows
    assert row.best is not None
    assert row.best.way != "same-day"
    assert row.difference.instead is row.best


def test_a_risk_of_another_way_does_no_harm() -> None:
    """Holding over has a task of its own; a risk that names it is sound, and passed over in the other ways."""
    text = "risks.tank-tips={event: The holding tank tips over, probability: 1 %, tasks: [set-up-holding]}"
    there = ways("small_tank_move")
    hold = there["hold-over"]
    assert hold.outlook is not None
    same = there["same-day"]
    assert same.outlook is not None
    ids = {task.id for task in hold.outlook.project.network.tasks}
    only = min(ids - {task.id for task in same.outlook.project.network.tasks})
    row = changed("small_tank_move", text.replace("set-up-holding", only))
    for one in row.ways:
        if one.outlook is not None and one.outlook.risk is not None:
            known = {entry.id for entry in one.outlook.risk.register}
            assert ("tank-tips" in known) == (only in {task.id for task in one.outlook.project.network.tasks})


def test_a_risk_of_no_way_is_refused_before_the_search() -> None:
    with pytest.raises(PlanFileError, match='names the task "nowhere"'):
        weigh(
            [EXAMPLES / "small_tank_move.yaml"],
            SETTINGS,
            ("risks.fog={event: Fog, probability: 1 %, tasks: [nowhere]}",),
        )


def test_weighing_twice_gives_the_same() -> None:
    first, second = (
        ways("small_tank_move"),
        weigh([EXAMPLES / "small_tank_move.yaml"], SETTINGS).plans[0].ways,
    )
    assert list(first) == [other.way for other in second]
    for other in second:
        one = first[other.way]
        assert (one.verdict, one.cost, one.at_risk) == (other.verdict, other.cost, other.at_risk)
