"""Measures against what comes out of the simulation: counted in the runs or assumed, and paid for once."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from moveplan.cost.lines import cost_of
from moveplan.estimate import Provenance
from moveplan.plan.risks import PossibleMeasure, RiskChange
from moveplan.practice.project import Project
from moveplan.risk.assess import risk_summary
from moveplan.risk.prepared.compile import prepare
from moveplan.risk.register.awaited import awaited
from moveplan.risk.register.changes import with_measures
from moveplan.risk.register.default import table
from moveplan.risk.register.ranked import register_of
from moveplan.risk.runs.outcome import Outcome
from moveplan.risk.runs.simulate import Simulation
from moveplan.risk.summary import Measure, RegisterEntry, RiskSummary
from moveplan.scheduling.schedule import Engine, Schedule, Status
from moveplan.times import MINUTES_A_DAY
from tests.examples import scheduled

RUNS = 4000
COUNTED = {"hire-window-missed": "hire-that-may-be-put-off", "keys-back-missed": "keys-a-week-later"}


def changed(*changes: RiskChange, name: str = "house_move_with_gap") -> tuple[Project, Schedule]:
    project, schedule = scheduled(name)
    return replace(project, plan=replace(project.plan, risks=changes)), schedule


def found(
    *changes: RiskChange, name: str = "house_move_with_gap"
) -> tuple[RiskSummary, dict[str, RegisterEntry]]:
    risk = risk_summary(*changed(*changes, name=name), runs=RUNS)
    return risk, {entry.id: entry for entry in risk.register}


def only(entry: RegisterEntry) -> Measure:
    (measure,) = entry.measures
    return measure


def test_every_entry_of_a_simulation_was_awaited_and_has_a_measure() -> None:
    project, schedule = scheduled("house_move_with_gap")
    there = awaited(project, schedule)
    assert {entry.id for entry in there} == set(table("computed")) - {"cycle-not-done"}
    assert {entry.id for entry in risk_summary(project, schedule, runs=RUNS).register} == {
        entry.id for entry in (*there, *register_of(project, schedule))
    }
    for entry in there:
        assert entry.probability == 0
        assert entry.cost == 0
        assert not only(entry).taken


@pytest.mark.parametrize(("risk", "measure"), COUNTED.items())
def test_more_time_does_what_was_offered(risk: str, measure: str) -> None:
    """What taking it leaves is what the register promised before, since the same runs are counted."""
    _, before = found()
    _, after = found(RiskChange(risk, measures=(measure,)))
    promised = with_measures(before[risk], (measure,))
    assert before[risk].probability > after[risk].probability
    assert after[risk].probability == pytest.approx(promised.probability, abs=1e-6)
    assert after[risk].expected_loss == pytest.approx(promised.expected_loss, abs=Decimal("0.02"))
    assert only(after[risk]).taken
    assert only(after[risk]).effect is Provenance.COMPUTED


def test_late_keys_are_counted_by_hand() -> None:
    project, schedule = scheduled("house_move_with_gap")
    prepared = prepare(project, schedule, register_of(project, schedule))
    outcome = Outcome(prepared)
    assert project.plan.dates is not None
    assert project.plan.dates.keys_back is not None
    due = float(project.plan.dates.keys_back - project.scheduling.start)
    late = still = 0
    simulation = Simulation(
        prepared.net, prepared.tables, prepared.loading, 1, len(outcome.containers.groups)
    )
    for chunk in simulation.chunks(RUNS):
        outcome.deadlines.add(chunk)
        back = chunk.finishes[prepared.at["give-keys-back"]]
        late += int((back > due).sum())
        still += int((back > due + 7 * MINUTES_A_DAY).sum())
    assert late > still
    assert outcome.deadlines.missed["keys-back-missed"].mean() == late / RUNS
    assert outcome.deadlines.still_missed["keys-back-missed"].mean() == still / RUNS


def test_the_chances_told_elsewhere_are_those_of_the_register() -> None:
    risk, entries = found(RiskChange("hire-window-missed", measures=("hire-that-may-be-put-off",)))
    assert risk.second_hire == entries["hire-window-missed"].probability
    risk, entries = found(RiskChange("keys-back-missed", measures=("keys-a-week-later",)))
    assert risk.keys_back_missed == entries["keys-back-missed"].probability


def test_less_is_lost_on_average_by_as_much_as_the_entry_loses() -> None:
    """The mean of the simulated cost falls by what the expected loss falls; same seed, same runs."""
    for risk, measure in (*COUNTED.items(), ("water-not-ready", "water-in-reserve")):
        name = "service_firm_office_tank" if risk == "water-not-ready" else "house_move_with_gap"
        before, usual = found(name=name)
        after, with_it = found(RiskChange(risk, measures=(measure,)), name=name)
        assert before.cost is not None
        assert after.cost is not None
        fell = before.cost.mean - after.cost.mean
        assert fell == pytest.approx(
            usual[risk].expected_loss - with_it[risk].expected_loss, abs=Decimal("0.03")
        )


def test_an_assumed_measure_leaves_its_share() -> None:
    _, before = found(name="house_move")
    _, after = found(RiskChange("safe-time-passed", measures=("holding-tub-kept-ripe",)), name="house_move")
    one, two = before["safe-time-passed"], after["safe-time-passed"]
    assert one.probability > 0
    assert two.probability == pytest.approx(0.4 * one.probability, abs=1e-6)
    assert two.cost == one.cost


def test_a_measure_of_the_keepers_own_is_taken() -> None:
    friend = PossibleMeasure("friend-with-van", "A friend's van on call", Decimal(10), probability_left=0.5)
    _, before = found()
    _, after = found(
        RiskChange("hire-window-missed", possible_measures=(friend,), measures=("friend-with-van",))
    )
    risk = "hire-window-missed"
    assert after[risk].probability == pytest.approx(0.5 * before[risk].probability, abs=1e-6)
    assert [one.id for one in after[risk].measures] == ["hire-that-may-be-put-off", "friend-with-van"]


def test_a_measure_taken_stands_in_the_bill_once() -> None:
    project, schedule = changed(
        RiskChange("hire-window-missed", measures=("hire-that-may-be-put-off",)),
        RiskChange("keys-back-missed", measures=("keys-a-week-later",)),
    )
    lines = {line.item: line for line in cost_of(project, schedule).lines}
    days = sum(vehicle.cost_per_day for vehicle in project.plan.vehicles if vehicle.hired)
    hire = lines["measure-hire-window-missed-hire-that-may-be-put-off"]
    assert hire.amount == days
    assert hire.provenance is Provenance.COMPUTED, "the price of a day is given, not the number of vehicles"
    assert "at the price of a day in the plan" in hire.basis
    assert lines["measure-keys-back-missed-keys-a-week-later"].amount == Decimal("90.00")


def test_a_hire_without_a_price_has_no_day_to_offer() -> None:
    project, schedule = scheduled("house_move_with_gap")
    free = tuple(replace(vehicle, cost_per_day=Decimal(0)) for vehicle in project.plan.vehicles)
    unpriced = replace(project, plan=replace(project.plan, vehicles=free))
    entries = {entry.id: entry for entry in awaited(unpriced, schedule)}
    assert entries["hire-window-missed"].measures == ()


def test_unplaced_vehicles_count_as_used() -> None:
    project, _ = scheduled("house_move_with_gap")
    entries = {entry.id: entry for entry in awaited(project, Schedule(Status.UNKNOWN, Engine.SERIAL))}
    assert entries["hire-window-missed"].tasks == ()
    assert only(entries["hire-window-missed"]).cost > 0


def test_water_that_is_late_by_minutes_is_waited_for() -> None:
    """A decision that follows the water at once is no miss: an hour of grace, as for the moving day itself."""
    project, schedule = scheduled("service_firm_office_tank")
    outcome = Outcome(prepare(project, schedule, register_of(project, schedule)))
    (row,) = (row for row in outcome.deadlines.rows if row.entry.id == "water-not-ready")
    needed = schedule.of("go-or-no-go").start - project.scheduling.start
    assert row.by_min == (needed + 60.0,)
