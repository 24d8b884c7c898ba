"""Power and water of systems that run beside the rest."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from moveplan.cost.lines import cost_of
from moveplan.network.graph import Network
from moveplan.plan.systems import Equipment, NewTank
from moveplan.practice.project import Moment, Project, Stop
from moveplan.scheduling.schedule import Schedule
from tests.outputs.scene import moving_day

SCENE = moving_day()
HEATER = Equipment("heater", "Heater", "heater", 2, 100.0, 0.0, 1.0)
PUMP = Equipment("pump", "Pump", "return-pump", 1, 20.0, 2000.0, 1.0)
BOOK = "; price invented, from the price book: put your own under prices"


def _holding() -> Project:
    """The tang waits in a holding system from the drive until the release."""
    project = SCENE.project
    system = replace(
        project.plan.systems[0],
        id="vat",
        name="Holding vat",
        role="holding",
        sump_l=0.0,
        equipment=(HEATER, PUMP),
    )
    begin, end = Moment("drive-over", "finish"), Moment("test-water", "start")
    wait = Stop("Quarry Rise", "Holding vat", begin, end)
    route = project.routes[1]
    moved = replace(route, stops=(*route.stops[:3], wait, *route.stops[4:]))
    plan = replace(project.plan, systems=(*project.plan.systems, system))
    return replace(project, plan=plan, routes=(moved,))


def test_a_holding_system_draws_power_while_animals_wait() -> None:
    """2 x 100 W at 40 % and 20 W for 29 h 30 min: 2.95 kWh."""
    found = {line.item: line for line in cost_of(_holding(), SCENE.schedule).lines}
    line = found["running-vat"]
    hours = (SCENE.schedule.of("test-water").start - SCENE.schedule.of("drive-over").finish) / 60
    assert float(line.quantity) == pytest.approx(0.1 * hours, abs=0.05)
    assert line.name == "Electricity of Holding vat beside the rest"
    assert line.basis == f"100 W on average for 1.2 days{BOOK}"


def test_nothing_runs_beside_on_a_move_of_one_day() -> None:
    assert not [line for line in cost_of(SCENE.project, SCENE.schedule).lines if "running" in line.item]


def test_a_new_tank_runs_until_the_first_animal_comes() -> None:
    """From the start of its cycle until corals and fish are home, by the release of the corals."""
    project = SCENE.project
    system = project.plan.systems[0]
    new = NewTank(system.tank, 0.0, 50.0, "other", 14.0, "300", 0.0, 0.0, (PUMP,))
    task = replace(project.network.task("wait-for-salt"), id="cycle-done-display")
    network = Network((*project.network.tasks, task), project.network.links)
    stands = replace(SCENE.schedule.of("wait-for-salt"), task="cycle-done-display")
    schedule = replace(SCENE.schedule, placements=(*SCENE.schedule.placements, stands))
    plan = replace(project.plan, systems=(replace(system, new_tank=new),))
    found = {
        line.item: line for line in cost_of(replace(project, plan=plan, network=network), schedule).lines
    }
    minutes = schedule.of("release-corals").finish - stands.start
    assert float(found["running-display"].quantity) == pytest.approx(20 * minutes / 60_000, abs=0.05)
    assert found["running-display"].unit_price == Decimal("0.30")


def test_without_a_schedule_nothing_is_known_to_run() -> None:
    bare = Schedule(SCENE.schedule.status, SCENE.schedule.engine)
    assert not [line for line in cost_of(_holding(), bare).lines if "running" in line.item]
