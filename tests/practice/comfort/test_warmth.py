"""Where containers stand, how warm they stay, who airs them and what they draw, on one small move by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from moveplan.estimate import exactly
from moveplan.network.graph import Network
from moveplan.network.task import Task
from moveplan.plan.supplies import GearItem
from moveplan.practice.comfort.outlets import aired, heaters_of
from moveplan.practice.comfort.power import draws_of, over_circuits, plugged_in, unknown_circuits
from moveplan.practice.comfort.warmth import warmth_of
from moveplan.practice.comfort.whereabouts import standings_of
from moveplan.practice.ledger.entries import InUse, Ledger, Running
from moveplan.practice.project import Load, LoadItem, Project
from moveplan.quantities.containers.vessels import Held, Use, Vessel
from moveplan.quantities.safe_time.boxes import Box, Journey
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Engine, Placement, Schedule, Status
from moveplan.science.heat.heating import heat_capacity_of_volume_wh_k
from moveplan.science.heat.vessels import Surface
from moveplan.science.heat.walls import wall_u_w_m2_k
from moveplan.times import Interval
from tests.quantities.plans import plan_of

TASKS = {
    "draw": ("old", 0, 60),
    "load-animals-van": ("old", 150, 180),
    "unload-animals-van": ("new", 270, 280),
    "free": ("new", 400, 420),
}
TUB = Vessel(
    "T1", "tub", "tub", Use.ANIMALS, "reef", 60.0, 15.0, 2.0, (Held("livestock", "goby", 1),), stones=1
)


def _project(
    vessels: tuple[Vessel, ...] = (TUB,), gear: tuple[GearItem, ...] = (), pumps: int = 0
) -> Project:
    plan = replace(plan_of(), gear=gear)
    tasks = (
        Task(id=name, title=name, place=place, estimate=exactly(60, "min", ""))
        for name, (place, _, _) in TASKS.items()
    )
    network = Network(tuple(tasks))
    items = tuple(LoadItem("tub of animals", 17.0, livestock=True, number=one.number) for one in vessels)
    ledger = Ledger(
        containers=tuple(InUse(one, "draw", "free") for one in vessels),
        running=(Running("old", "", "draw", 200.0), Running("new", "unload-animals-van", "", 300.0)),
    )
    return Project(
        plan,
        "",
        network,
        SchedulingProblem(network, 0, 500),
        loads=(Load("van", 1, items),),
        gear_needed=(("air-pump", pumps, 0),),
        ledger=ledger,
    )


def _schedule() -> Schedule:
    rows = (
        Placement(name, since, until, (Interval(since, until),)) for name, (_, since, until) in TASKS.items()
    )
    return Schedule(Status.FEASIBLE, Engine.SERIAL, tuple(rows))


def test_a_container_stands_in_one_room_rides_and_stands_in_the_other() -> None:
    (one,) = standings_of(_project(), _schedule())
    assert [(leg.since, leg.until, leg.where.id) for leg in one.stretches] == [
        (60, 180, "old"),
        (180, 270, "van"),
        (270, 420, "new"),
    ]
    assert (one.since, one.filled, one.until) == (0, 60, 420)


def test_a_task_that_is_gone_takes_its_containers_along() -> None:
    schedule = replace(_schedule(), placements=_schedule().placements[1:])
    assert standings_of(_project(), schedule) == ()


def _integrated_c(project: Project, spread: float, airs: tuple[float, float, float]) -> float:
    """Integrate Newton's law of cooling for the tub, by scipy."""
    box = Box("tub", 60.0, 15.0, Journey(0, 0, 0))
    loss = spread * wall_u_w_m2_k(box.wall, Surface.STILL) * box.area_m2
    system = project.plan.systems[0]
    capacity = float(heat_capacity_of_volume_wh_k(15.0, system.temperature_c, system.salinity_psu))
    water = system.temperature_c
    for hours, air in zip((2.0, 1.5, 2.5), airs, strict=True):
        solved = solve_ivp(
            lambda _, t, air=air: loss / capacity * (air - t), (0.0, hours), [water], rtol=1e-10, atol=1e-10
        )
        water = float(solved.y[0][-1])
    return water


def test_the_path_is_that_of_scipy_in_likely_and_in_coldest_air() -> None:
    project = _project()
    ((_, path),) = warmth_of(project, standings_of(project, _schedule()))
    old, new, van = *project.plan.places, project.plan.vehicles[0]
    coldest = (old.room_temperature_c, van.air_temperature_c, new.room_temperature_c)
    warmest = (old.room_high_c, van.air_high_c, new.room_high_c)
    middle = tuple(float(np.mean(pair)) for pair in zip(coldest, warmest, strict=True))
    assert path[-1].likely_c == pytest.approx(_integrated_c(project, 1.0, middle), abs=1e-6)  # type: ignore[arg-type]
    assert path[-1].low_c == pytest.approx(_integrated_c(project, 1.3, coldest), abs=1e-6)
    assert [point.at for point in path] == [0, 60, 120, 180, 240, 270, 330, 390, 420]
    assert all(point.low_c <= point.likely_c <= point.high_c for point in path)
    assert path[0].likely_c == path[1].likely_c == project.plan.systems[0].temperature_c


def test_a_heater_holds_the_temperature_in_rooms_and_not_on_the_road() -> None:
    heated = _project((replace(TUB, heater_w=60.0),))
    ((_, warm),) = warmth_of(heated, standings_of(heated, _schedule()))
    assert warm[3].likely_c == pytest.approx(warm[0].likely_c)
    assert warm[5].likely_c < warm[3].likely_c < warm[7].likely_c + 1.0


def test_pumps_on_the_wall_serve_in_rooms_and_batteries_on_the_road() -> None:
    gear = (
        GearItem("wall", "Wall pump", "mains-air-pump", 1, outlets=1),
        GearItem("small", "Battery pump", "air-pump", 1, battery_h=1.0),
    )
    vessels = (TUB, replace(TUB, number="T2"))
    project = _project(vessels, gear, pumps=1)
    rows = aired(project, standings_of(project, _schedule()), {})
    told = {
        number: [
            (row.outlet_of, row.since, row.until) for row in rows if row.standing.use.vessel.number == number
        ]
        for number in ("T1", "T2")
    }
    assert told["T1"] == [("mains", 60, 180), ("small", 180, 240), ("mains", 270, 420)]
    assert told["T2"] == [("small", 60, 120)], "a battery that is empty ends it"


def test_heaters_there_are_given_out_before_those_ordered() -> None:
    gear = (GearItem("own", "Small heater", "heater", 1, power_w=25.0),)
    vessels = tuple(replace(TUB, number=f"T{at}", heater_w=25.0) for at in (1, 2))
    project = _project(vessels, gear)
    given = heaters_of(project, standings_of(project, _schedule()))
    assert list(given.values()) == ["own", "tub-heater"]


def test_watts_are_added_up_by_place_and_told_where_they_are_too_many() -> None:
    project = _project((replace(TUB, heater_w=25.0),))
    draws = draws_of(plugged_in(project, _schedule(), standings_of(project, _schedule())))
    assert [(one.place.id, one.since, one.until, one.watts) for one in draws] == [
        ("old", 0, 60, 200.0),
        ("old", 60, 180, 25.0),
        ("new", 270, 420, 325.0),
    ]
    assert over_circuits(project, _schedule()) == ()
    places = tuple(replace(place, circuit_w=400.0) for place in project.plan.places)
    weak = replace(project, plan=replace(project.plan, places=places))
    (problem,) = over_circuits(weak, _schedule())
    assert "325 W" in problem.message
    assert "320 W" in problem.message
    assert "5 W too much" in problem.message
    assert unknown_circuits(project, _schedule()) == ()
    bare = replace(
        project,
        plan=replace(
            project.plan, places=tuple(replace(place, country="US") for place in project.plan.places)
        ),
    )
    heavy = replace(bare.ledger, running=(*bare.ledger.running, Running("old", "", "", 1500.0, "lights")))
    (told,) = unknown_circuits(replace(bare, ledger=heavy), _schedule())
    for said in ("1700 W", "1440 W", "1500 W lamps"):
        assert said in told.message
    assert "places.old.circuit" in told.remedy
