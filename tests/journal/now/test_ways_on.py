"""When something fails in the middle of a day: what waits, how long the animals last, and which ways there are."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date
from itertools import pairwise

import pytest

from moveplan.journal.file.kept import snapshot_data, snapshot_of
from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.now.another import Another
from moveplan.journal.now.failure import Failed, Works
from moveplan.journal.now.held_up import Stuck
from moveplan.journal.now.next_up import NextUp, next_up
from moveplan.journal.now.travelling import Travelling
from moveplan.journal.premises import PlannedWater, Premises
from moveplan.journal.records import Begun, Done, Met, Opened, Out, Record, Shut, Tended
from moveplan.journal.state import state_of
from moveplan.network.task import Kind
from tests.journal.builders import T0, entries, planned, snapshot

OLD, NEW, VAN = "Mill Terrace", "Harbour Lane", "Hired van"


def day() -> Snapshot:
    """One system that is taken down, driven over and filled again; its fish may be shut in for 400 minutes."""
    plan = snapshot()
    stay = replace(
        plan.stays[0],
        in_vehicle_min=150,
        places=((OLD, "catch-fish", "start"), (VAN, "load-van", "finish"), (NEW, "drive-van", "finish")),
    )
    water = PlannedWater(
        id="reef",
        name="Reef",
        place=OLD,
        place_after=NEW,
        full=True,
        litres=200.0,
        pours=(("drain-reef", 0.0, 60.0), ("fill-reef", 200.0, 0.0)),
    )
    everybody: dict[str, object] = {"people": ("ines", "tom"), "day": "move"}
    tasks = (
        planned("no-way-back-reef", 20, 5, kind=Kind.HOLD_POINT, place=OLD, number=1, **everybody),
        planned("catch-fish", 30, 60, place=OLD, number=2, **everybody),
        planned("drain-reef", 90, 10, place=OLD, number=3, **everybody),
        planned("load-van", 100, 20, place=OLD, vehicles=("van",), number=4, **everybody),
        planned("drive-van", 120, 45, kind=Kind.TRAVEL, place=OLD, vehicles=("van",), number=5, **everybody),
        planned("fill-reef", 170, 40, place=NEW, number=6, **everybody),
        planned("start-reef", 210, 10, place=NEW, number=7, **everybody),
        planned("release-fish", 320, 30, place=NEW, number=8, **everybody),
    )
    names = [task.id for task in tasks]
    return replace(
        plan,
        tasks=tasks,
        stays=(stay,),
        waits={after: (before,) for before, after in pairwise(names)},
        premises=Premises(
            places={"mill": OLD, "harbour": NEW},
            waters=(water,),
            weights={"B1": 9.0, "B2": 8.5},
            powered=((NEW, "start-reef"),),
            air_min=600,
            ring=(("Quayside vet (invented)", "vet", "1234"),),
        ),
    )


VAN_FAILS = Failed(at=T0 + 95, what="vehicle", name="van")
CAUGHT = (
    Met(at=T0 + 25, task="no-way-back-reef", by="Ines"),
    Begun(at=T0 + 30, task="catch-fish"),
    Done(at=T0 + 90, task="catch-fish"),
)
LOADED = (
    *CAUGHT,
    Done(at=T0 + 100, task="drain-reef"),
    Begun(at=T0 + 100, task="load-van"),
    Done(at=T0 + 120, task="load-van"),
)
ARRIVED = (*LOADED, Begun(at=T0 + 120, task="drive-van"), Done(at=T0 + 165, task="drive-van"))


def at(minute: int, *records: Record) -> NextUp:
    return next_up(day(), state_of(entries(*records)), T0 + minute)


def test_a_van_that_fails_before_loading_holds_up_loading_and_drive_and_what_cannot_be_undone() -> None:
    found = at(95, *CAUGHT, VAN_FAILS)
    way = found.ways_on[0]
    assert way.held == ("drain-reef", "load-van", "drive-van")
    assert {turn.item.task.id for turn in found.first} == {"drain-reef"}
    # release-fish ends so long after the van comes: 10 drain, 20 load, 45 drive, 40 fill, 10 start, 30
    assert way.over_by == T0 + 30 + 400 - (10 + 20 + 45 + 40 + 10 + 30)
    assert (way.kg, way.aboard, len(way.boxes)) == (17.5, False, 2)
    assert way.tightest is not None
    assert way.tightest.left_min == 30 + 400 - 95


def test_what_cannot_be_undone_waits_from_the_last_yes_on_until_the_van_is_sure() -> None:
    early = ("no-way-back-reef", "catch-fish", "drain-reef")
    loads = ("load-van", "drive-van")
    begins = replace(VAN_FAILS, at=T0 + 10)
    found = at(15, begins)
    assert found.ways_on[0].held == early + loads
    assert {(turn.item.task.id, turn.ready, turn.held and turn.held.early) for turn in found.first} == {
        ("no-way-back-reef", False, True)
    }
    assert at(15, replace(begins, until=T0 + 90)).ways_on[0].held == loads
    assert at(91, replace(begins, until=T0 + 90)).ways_on[0].held == early + loads  # it was to be back by now
    runs = at(40, *CAUGHT[:2], begins).ways_on[0].held
    assert runs == ("drain-reef", *loads)
    loaded = at(130, *CAUGHT, Begun(at=T0 + 100, task="load-van"), *ARRIVED[-2:], VAN_FAILS)
    assert loaded.ways_on[0].held == ()
    plan = day()
    cared = ("no-way-back-reef", "drain-reef")
    for change in ({"times": 3}, {"vehicles": ("car",)}, {"kind": Kind.REST}, {"day": ""}, {"place": NEW}):
        tasks = tuple(replace(task, **change) if task.id == "catch-fish" else task for task in plan.tasks)
        held = next_up(replace(plan, tasks=tasks), state_of(entries(begins)), T0 + 15).ways_on[0].held
        assert held == cared + loads


def test_what_has_begun_to_go_into_it_stops_and_a_drive_that_is_on_the_road_does_not() -> None:
    plan = day()
    assert plan.premises is not None
    plan = replace(plan, premises=replace(plan.premises, loads=(("load-van", 120.5),)))

    def found(minute: int, *records: Record) -> tuple[NextUp, set[tuple[str, bool, bool]]]:
        one = next_up(plan, state_of(entries(*records)), T0 + minute)
        return one, {
            (turn.item.task.id, turn.runs, bool(turn.held and turn.held.stops)) for turn in one.first
        }

    van = replace(VAN_FAILS, at=T0 + 105)
    loading, turns = found(110, *LOADED[:-1], van)
    assert turns == {("load-van", True, True)}
    assert loading.ways_on[0].held == ("load-van", "drive-van")
    assert not loading.ways_on[0].aboard
    # In again for 20 once it works, then 45 drive, 40 fill, 10 start, 30 release, which was to end at 350.
    assert loading.behind_min == 105 + 120 + 20 + 45 + 40 + 10 + 30 - 350
    again = Works(at=T0 + 108, what="vehicle", name="van")
    assert found(110, *LOADED[:-1], van, again)[1] == {("load-van", True, False)}
    driving, turns = found(130, *ARRIVED[:-1], replace(van, at=T0 + 125))
    assert turns == {("drive-van", True, False)}
    assert driving.ways_on[0].aboard
    tank = Failed(at=T0 + 175, what="tank", name="reef")
    assert found(176, *ARRIVED, Begun(at=T0 + 170, task="fill-reef"), tank)[1] == {("fill-reef", True, True)}


def test_water_that_is_being_lowered_with_animals_in_it_stops_and_catching_and_the_last_water_go_on() -> None:
    plan = day()
    assert plan.premises is not None
    (reef,) = plan.premises.waters
    lower = planned("lower-reef", 25, 5, place=OLD, people=("ines", "tom"), day="move", number=9)
    plan = replace(
        plan,
        tasks=(*plan.tasks, lower),
        waits={**plan.waits, "lower-reef": ("no-way-back-reef",), "catch-fish": ("lower-reef",)},
        premises=replace(
            plan.premises,
            waters=(replace(reef, pours=(("lower-reef", 0.0, 90.0), *reef.pours)),),
            loads=(("load-van", 120.5),),
        ),
    )

    def first(minute: int, *records: Record) -> set[tuple[str, bool, bool]]:
        found = next_up(plan, state_of(entries(*records)), T0 + minute).first
        return {(one.item.task.id, bool(one.held and one.held.stops), one.runs) for one in found}

    lowers = (CAUGHT[0], Begun(at=T0 + 25, task="lower-reef"))
    van = replace(VAN_FAILS, at=T0 + 27)
    assert first(28, *lowers, van) == {("lower-reef", True, True)}
    held = next_up(plan, state_of(entries(*lowers, van)), T0 + 28).first[0].held
    assert held is not None
    assert held.early
    assert first(28, *lowers, replace(van, until=T0 + 60)) == {("lower-reef", False, True)}  # it is sure
    lowered = (*lowers, Done(at=T0 + 30, task="lower-reef"), CAUGHT[1])
    assert first(40, *lowered, replace(van, at=T0 + 35)) == {("catch-fish", False, True)}
    boxed = (*lowered, CAUGHT[2], Begun(at=T0 + 90, task="drain-reef"))
    assert first(96, *boxed, VAN_FAILS) == {("drain-reef", False, True)}


def test_who_comes_to_what_waits_for_the_drive_is_told_what_failed_and_who_rings() -> None:
    plan = day()
    alone = replace(
        plan,
        tasks=tuple(replace(task, people=("tom",)) if task.vehicles else task for task in plan.tasks),
    )
    found = next_up(alone, state_of(entries(*LOADED, VAN_FAILS)), T0 + 130)
    assert [(turn.name, turn.item.task.id, turn.ready) for turn in found.first] == [
        ("Ines Farrow", "fill-reef", False),
        ("Tomas Reddy", "drive-van", False),
    ]
    assert [turn.held for turn in found.first] == [Stuck(VAN_FAILS, VAN, "tom")] * 2
    driven = state_of(entries(*ARRIVED, VAN_FAILS))
    assert [turn.held for turn in next_up(alone, driven, T0 + 170).first] == [None, None]


def test_who_may_have_another_vehicle_and_who_drives_is_named() -> None:
    plan = day()
    assert plan.premises is not None
    hires = ("Quayside van hire (invented)", "van hire", "5678")
    stands = replace(
        plan.premises,
        ring=(*plan.premises.ring, hires),
        phones={"ines": "91"},
        loads=(("load-van", 120.5), ("gone", 9.0)),
    )
    plan = replace(
        plan,
        premises=stands,
        skills={"ines": ("drives",), "tom": ("drives", "lifts")},
        vehicles={"van": VAN, "car": "Small car"},
    )
    out = Out(at=T0 + 95, person="tom", first=date(2027, 3, 13), last=date(2027, 3, 13))

    def asked(*records: Record) -> Another | None:
        return next_up(plan, state_of(entries(*records)), records[-1].at).ways_on[0].another

    assert asked(*CAUGHT, VAN_FAILS) == Another(
        (hires,), (("Ines Farrow", "91"), ("Tomas Reddy", "")), ("Small car",), 120.5, T0 + 120
    )
    car = Failed(at=T0 + 95, what="vehicle", name="car")
    assert asked(*CAUGHT, VAN_FAILS, car, out) == Another(
        (hires,), (("Ines Farrow", "91"),), (), 120.5, T0 + 120
    )
    nobody = replace(plan, skills={"ines": ("cares",), "tom": ("lifts",)})
    way = next_up(nobody, state_of(entries(*CAUGHT, VAN_FAILS)), VAN_FAILS.at).ways_on[0]
    assert way.another is not None
    assert way.another.drivers == ()
    assert asked(*ARRIVED, replace(VAN_FAILS, at=T0 + 165)) == Another(
        (hires,), (("Ines Farrow", "91"), ("Tomas Reddy", "")), ("Small car",), 0.0, None
    )


def test_before_the_tank_is_drained_the_fish_can_go_back_into_it() -> None:
    back = at(95, *CAUGHT, VAN_FAILS).ways_on[0].backs[0]
    # the catch of an hour by two who are there is undone in an hour; the release takes 30 minutes
    assert (back.name, back.place, back.takes_min, back.runs) == ("Reef", OLD, 90, False)
    assert back.decide_by == T0 + 30 + 400 - 90
    drained = at(105, *CAUGHT, Begun(at=T0 + 95, task="drain-reef"), VAN_FAILS)
    assert drained.ways_on[0].backs == ()


def test_on_the_road_the_hours_in_the_vehicle_count_until_it_is_replaced() -> None:
    on_road = (*LOADED, Begun(at=T0 + 120, task="drive-van"), replace(VAN_FAILS, at=T0 + 130))
    way = at(130, *on_road).ways_on[0]
    assert way.aboard
    assert way.held == ("drive-van",)
    assert way.tightest is not None
    assert way.tightest.left_min == 30 + 150 - 130
    assert way.over_by == T0 + 30 + 150
    assert len(way.short) == 2  # two hours are assumed, and they last fifty minutes there
    soon = at(130, *on_road[:-1], Failed(at=T0 + 130, what="vehicle", name="van", until=T0 + 170)).ways_on[0]
    assert soon.short == ()


def test_once_it_works_again_everything_is_as_before() -> None:
    found = at(95, *CAUGHT, VAN_FAILS, Works(at=T0 + 95, what="vehicle", name="van"))
    assert found.ways_on == ()
    assert found == at(95, *CAUGHT)


def test_a_tank_that_fails_holds_up_its_filling_and_all_that_follows() -> None:
    way = at(165, *ARRIVED, Failed(at=T0 + 165, what="tank", name="reef")).ways_on[0]
    assert way.held == ("fill-reef", "start-reef", "release-fish")
    assert way.over_by == T0 + 430 - (40 + 10 + 30)
    assert way.backs == ()
    assert not way.inside


def test_an_old_tank_that_fails_may_still_have_animals_in_it() -> None:
    found = at(40, *CAUGHT[:2], Failed(at=T0 + 40, what="tank", name="reef"))
    assert found.ways_on[0].inside
    assert {turn.item.task.id for turn in found.first} == {"catch-fish"}


def test_no_power_holds_up_what_starts_there_and_the_opening_of_containers() -> None:
    way = at(165, *ARRIVED, Failed(at=T0 + 165, what="power", name="harbour")).ways_on[0]
    assert way.name == NEW
    assert way.held == ("start-reef", "release-fish")
    assert way.over_by == T0 + 430 - (10 + 30)


def test_a_tank_that_runs_where_they_are_takes_them_in() -> None:
    plan = day()
    assert plan.premises is not None
    other = PlannedWater(id="pool", name="Frag pool", place=NEW, place_after=NEW, full=True, litres=90.0)
    beside = replace(plan, premises=replace(plan.premises, waters=(*plan.premises.waters, other)))
    state = state_of(entries(*ARRIVED, Failed(at=T0 + 165, what="tank", name="reef")))
    (back,) = next_up(beside, state, T0 + 165).ways_on[0].backs
    assert (back.name, back.takes_min, back.runs) == ("Frag pool", 30, True)
    dark = state_of(entries(*ARRIVED, Failed(at=T0 + 165, what="power", name="harbour")))
    assert next_up(beside, dark, T0 + 165).ways_on[0].backs == ()


def test_nothing_is_held_by_a_vehicle_that_has_arrived() -> None:
    way = at(170, *ARRIVED, replace(VAN_FAILS, at=T0 + 166)).ways_on[0]
    assert (way.held, way.over_by) == ((), None)


@pytest.mark.parametrize(("where", "left"), [(VAN, 30 + 150 - 95), ("the garage", 30 + 400 - 95)])
def test_a_container_that_was_put_into_a_vehicle_lasts_as_long_as_there(where: str, left: int) -> None:
    moved = Tended(at=T0 + 92, container="B1", what="moved", where=where)
    boxes = {one.number: one for one in at(95, *CAUGHT, moved).travelling}
    assert (boxes["B1"].where, boxes["B1"].left_min) == (where, left)
    assert (boxes["B2"].where, boxes["B2"].left_min) == (OLD, 30 + 400 - 95)


def test_a_move_by_hand_counts_until_the_plan_moves_it_on() -> None:
    moved = Tended(at=T0 + 92, container="B1", what="moved", where="the garage")
    boxes = {one.number: one for one in at(125, *LOADED, moved).travelling}
    assert boxes["B1"].where == VAN


def test_what_stands_where_survives_the_way_through_the_journal() -> None:
    plan = day()
    assert snapshot_of(json.loads(json.dumps(snapshot_data(plan))), "here") == plan


def _aboard(minute: int, *records: Record, **changes: object) -> dict[str, Travelling]:
    plan = day()
    stay = replace(plan.stays[0], aboard_min=60, **changes)  # type: ignore[arg-type]
    found = next_up(replace(plan, stays=(stay,)), state_of(entries(*records)), T0 + minute)
    return {one.number: one for one in found.travelling}


LATE = (
    *CAUGHT,
    Done(at=T0 + 100, task="drain-reef"),
    Begun(at=T0 + 200, task="load-van"),
    Done(at=T0 + 220, task="load-van"),
)


def test_what_cold_ends_in_the_vehicle_counts_from_being_loaded_and_no_lid_resets_it() -> None:
    assert _aboard(225, *LATE)["B1"].left_min == 220 + 60 - 225
    looked = (Opened(at=T0 + 221, container="B1"), Shut(at=T0 + 223, container="B1"))
    assert _aboard(225, *LATE, *looked)["B1"].left_min == 220 + 60 - 225
    slow = (*LATE[:-1], Done(at=T0 + 250, task="load-van"))
    assert _aboard(255, *slow)["B1"].left_min == 220 + 60 - 255  # as planned, 20 minutes from its beginning
    carried = Tended(at=T0 + 205, container="B1", what="moved", where=VAN)
    boxes = _aboard(225, *LATE, carried)
    assert (boxes["B1"].left_min, boxes["B2"].left_min) == (205 + 60 - 225, 220 + 60 - 225)


def test_who_leaves_gives_no_container_time_again() -> None:
    """Loading was begun and nobody logged its end: it was over by the drive, and in the time that was accepted."""
    tom = Out(at=T0 + 250, person="tom", first=date(2027, 3, 13), last=date(2027, 3, 13))
    for drive, loaded in ((240, 220), (210, 210)):
        said = (*LATE[:-1], Begun(at=T0 + drive, task="drive-van"))
        for more in ((), (tom,)):
            assert _aboard(251, *said, *more)["B1"].left_min == loaded + 60 - 251


def test_only_a_room_ends_the_cold_of_a_vehicle() -> None:
    out = Tended(at=T0 + 221, container="B1", what="moved", where="the garage")
    back = Tended(at=T0 + 222, container="B1", what="moved", where=VAN)
    again = Tended(at=T0 + 223, container="B2", what="moved", where=VAN)
    assert _aboard(221, *LATE, out)["B1"].left_min == 30 + 400 - 221
    boxes = _aboard(225, *LATE, out, back, again)
    assert (boxes["B1"].left_min, boxes["B2"].left_min) == (222 + 60 - 225, 220 + 60 - 225)


def test_gas_ends_it_from_the_lid_in_the_vehicle_too() -> None:
    assert _aboard(225, *LATE, safe_low_min=210)["B1"].left_min == 30 + 210 - 225


def test_the_ride_counts_in_what_there_is_to_spare() -> None:
    # the drive takes 45 minutes, of 60 that are left in the cold
    before = _aboard(95, *CAUGHT, safe_low_min=4000)["B1"]
    assert (before.left_min, before.spare_min) == (30 + 4000 - 95, 60 - 45)
    driving = (*LATE, Begun(at=T0 + 240, task="drive-van"))
    assert _aboard(250, *driving, safe_low_min=4000)["B1"].spare_min == 60 - 20 - 45
    there = (*driving, Done(at=T0 + 285, task="drive-van"))
    assert _aboard(290, *there, safe_low_min=4000)["B1"].spare_min == 30 + 4000 - (290 + 40 + 10 + 30)
    fails = Failed(at=T0 + 250, what="vehicle", name="van", until=T0 + 260)
    assert _aboard(250, *driving, fails, safe_low_min=4000)["B1"].spare_min == 220 + 60 - (260 + 45)


def test_an_old_accepted_schedule_counts_from_the_lid() -> None:
    assert [one.left_min for one in at(150, *LOADED).travelling] == [30 + 150 - 150] * 2
