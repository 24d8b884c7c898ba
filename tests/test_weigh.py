"""The ways side by side, plans against each other, and what changes with one thing."""

from __future__ import annotations

from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from moveplan.errors import PlanFileError
from moveplan.outputs.weighed import Weighed, WeighedPlan, Weighing
from moveplan.pipeline import Settings
from moveplan.risk.register import offers
from moveplan.risk.summary import RiskSummary
from moveplan.scheduling.effort import Effort
from moveplan.weigh import weigh

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
    verdicts = {row.label: one.verdict for row in found.plans for one in row.ways if one.way == "same-day"}
    assert verdicts[plain.label] == "ok"
    assert verdicts[changed.label] in ("cannot-be-done", "undecided")


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
    return weighed(name, changes=changes).plans[1]


def test_a_measure_is_switched_on_by_a_change() -> None:
    """A second air pump costs what it costs, and lowers the expected loss by what was offered."""
    plain, with_pump = weighed("house_move", changes=("risks.air-pump-stops.measures=second-air-pump",)).plans
    offered = next(one for one in plain.offers if one.measure.id == "second-air-pump")
    assert "second-air-pump" not in {one.measure.id for one in with_pump.offers}
    before, after = plain.best, with_pump.best
    assert before is not None
    assert before.outlook is not None
    assert before.outlook.risk is not None
    assert after is not None
    assert after.outlook is not None
    assert after.outlook.risk is not None
    losses = [
        {entry.id: entry.expected_loss for entry in one.outlook.risk.register}["air-pump-stops"]  # type: ignore[union-attr]
        for one in (before, after)
    ]
    assert losses[0] - losses[1] == offered.saves > 0
    lines = {line.item: line.amount for line in after.outlook.cost.lines}  # type: ignore[union-attr]
    assert lines["measure-air-pump-stops-second-air-pump"] == offered.measure.cost
    assert after.outlook.cost.total - before.outlook.cost.total == offered.measure.cost  # type: ignore[union-attr]


def risk_of(found: WeighedPlan) -> RiskSummary:
    assert found.best is not None
    assert found.best.outlook is not None
    assert found.best.outlook.risk is not None
    return found.best.outlook.risk


@pytest.mark.parametrize(
    ("risk", "measure"),
    [
        ("hire-window-missed", "hire-that-may-be-put-off"),
        ("keys-back-missed", "keys-a-week-later"),
        ("water-not-ready", "water-in-reserve"),
        ("safe-time-passed", "holding-tub-kept-ripe"),
        ("hidden-animal", "white-tub-and-lamp"),
    ],
)
def test_what_comes_out_of_the_simulation_is_lowered_by_what_was_offered(risk: str, measure: str) -> None:
    plain, after = weighed("house_move", changes=(f"risks.{risk}.measures={measure}",)).plans
    (offered,) = (one for one in offers(risk_of(plain).register) if one.measure.id == measure)
    losses = [
        {one.id: one.expected_loss for one in risk_of(found).register}[risk] for found in (plain, after)
    ]
    assert losses[0] - losses[1] == pytest.approx(offered.saves, abs=Decimal("0.02"))
    assert measure not in {one.measure.id for one in offers(risk_of(after).register)}


def test_the_measures_that_save_most_are_offered_first() -> None:
    found = weighed("house_move").plans[0].offers
    saves = [one.saves for one in found]
    assert len(found) == 5
    assert saves == sorted(saves, reverse=True)
    assert saves[-1] > 0


def test_a_house_move_that_slips_takes_its_dates_and_hires_along() -> None:
    row = changed("small_tank_move", "dates=+14 days")
    plain = row.plain
    assert plain is not None
    for before, after in ((plain.plan.dates, row.plan.dates),):
        assert before is not None
        assert after is not None
        assert (after.move_days[0] - before.move_days[0]).days == 14
        assert after.earliest_start == before.earliest_start
        assert after.keys_back is not None
        assert before.keys_back is not None
        assert after.keys_back - before.keys_back == 14 * 1440
    assert row.difference is not None
    assert row.difference.compared is not None
    one, other = row.difference.before.settled, row.difference.compared.settled
    assert one is not None
    assert other is not None
    assert 13 <= (other - one) / 1440 <= 15


def test_a_handover_after_the_move_day_is_an_answer_and_no_mistake() -> None:
    row = changed("house_move", "dates.access-from=+2 weeks")
    assert row.ways == ()
    assert row.best is None
    assert [problem.message for problem in row.contradictions] == [
        "the new home opens after the move-day 2027-03-13"
    ]


def test_a_third_more_old_water_counts_from_what_is_assumed() -> None:
    row = changed("small_tank_move", "systems.nano.water-kept=+30 %")
    assert [system.water_kept for system in row.plan.systems] == [pytest.approx(0.6 * 1.3)]


def test_a_way_that_falls_out_is_replaced_by_the_next() -> None:
    row = changed("house_move", "people.bea=none")
    assert row.difference is not None
    assert row.difference.before.way == "same-day"
    assert row.difference.after.verdict in {"cannot-be-done", "undecided"}
    assert row.difference.instead is row.best


def test_a_risk_of_another_way_does_no_harm() -> None:
    """Holding over has a task of its own; a risk that names it is sound, and passed over in the other ways."""
    text = "risks.tank-tips={event: The holding tank tips over, probability: 1 %, tasks: [set-up-holding]}"
    plain = weighed("house_move").plans[0]
    hold = next(one for one in plain.ways if one.way == "hold-over")
    assert hold.outlook is not None
    same = next(one for one in plain.ways if one.way == "same-day")
    assert same.outlook is not None
    ids = {task.id for task in hold.outlook.project.network.tasks}
    only = min(ids - {task.id for task in same.outlook.project.network.tasks})
    row = changed("house_move", text.replace("set-up-holding", only))
    for one in row.ways:
        if one.outlook is not None and one.outlook.risk is not None:
            known = {entry.id for entry in one.outlook.risk.register}
            assert ("tank-tips" in known) == (only in {task.id for task in one.outlook.project.network.tasks})


def test_a_risk_of_no_way_is_refused_before_the_search() -> None:
    with pytest.raises(PlanFileError, match='names the task "nowhere"'):
        weigh(
            [EXAMPLES / "house_move.yaml"],
            SETTINGS,
            ("risks.fog={event: Fog, probability: 1 %, tasks: [nowhere]}",),
        )


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
