"""Mixed water stands in bins with numbers, that are there or ordered, and is never poured when it is too old."""

from __future__ import annotations

import math
import re
from collections import defaultdict

import pytest

from moveplan.network.link import Relation
from moveplan.practice.compose import project_of
from moveplan.practice.ledger.bins import STANDING_FILL, STORAGE, BinMeans, Bins, holds_l
from moveplan.practice.project import Project
from moveplan.quantities.containers.vessels import SOLD_L, Numbers, Use
from tests.examples import NAMES, plan, project

MOVES = [name for name in NAMES if name != "impossible_dates"]


def means(storage_l: float = 200.0, used: int = 2, there: int = 4) -> BinMeans:
    return BinMeans(
        storage_l, "tubs", 60.0, used, there, Numbers((), (), [f"T{at + 1}" for at in range(used)])
    )


def filled(bins: Bins, litres: float, task: str = "mix") -> dict[str, float]:
    entries = bins.numbered((("purified", "new:reef", litres),), task, 1)
    return {target.removeprefix("container:"): part for _, target, part in entries}


def test_the_storage_comes_first_then_tubs_that_are_left_over_then_ordered_bins() -> None:
    assert filled(Bins(means()), 180.0) == {"M1": 180.0}
    # 108 l beside 200 l of storage: two tubs of 60 l at nine tenths, the third and fourth of four.
    assert set(filled(Bins(means()), 308.0)) == {"M1", "T3", "T4"}
    # 109 l take three tubs, of which two are left: a bin is ordered instead.
    assert set(filled(Bins(means()), 309.0)) == {"M1", "M2"}


@pytest.mark.parametrize(
    ("litres", "gear", "count"),
    [
        (5.9, "bin-20", 1),
        (18.0, "bin-20", 1),  # nine tenths of 20 l
        (18.1, "bin-60", 1),
        (37.8, "bin-60", 1),
        (54.1, "bin-120", 1),
        (108.1, "bin-220", 1),
        (198.1, "bin-120", 2),  # more than the largest holds: two that share it
        (485.0, "bin-220", 3),
    ],
)
def test_what_is_ordered_is_the_smallest_that_holds_it_with_headroom(
    litres: float, gear: str, count: int
) -> None:
    bins = Bins(means(0.0, used=4))
    parts = filled(bins, litres)
    assert [vessel.gear for vessel in bins.vessels] == [gear] * count
    assert all(part <= STANDING_FILL * SOLD_L[gear] + 1e-9 for part in parts.values())
    assert sum(parts.values()) == pytest.approx(litres)


def test_a_second_batch_stands_in_the_smallest_free_bin_that_holds_it_all() -> None:
    bins = Bins(means(200.0))
    filled(bins, 250.0, "one")
    bins.numbered((("new:reef", "system:reef", 250.0),), "fill", 1)
    assert set(filled(bins, 30.0, "again")) == {"T3"}, "not in the storage of 200 l"


def test_no_bin_holds_more_than_it_can_and_all_of_the_water_is_somewhere() -> None:
    bins = Bins(means())
    parts = filled(bins, 700.0)
    assert sum(parts.values()) == pytest.approx(700.0)
    volumes = {vessel.number: holds_l(vessel) for vessel in bins.vessels}
    assert all(parts[number] <= volumes[number] + 1e-9 for number in parts)
    assert math.ceil(500 / (STANDING_FILL * 220)) == sum(one.gear in SOLD_L for one in bins.vessels)


def test_a_second_batch_gets_bins_of_its_own_and_what_was_filled_first_is_poured_first() -> None:
    bins = Bins(means())
    first, second = filled(bins, 150.0, "one"), filled(bins, 50.0, "two")
    assert set(first) & set(second) == set()
    poured = bins.numbered((("new:reef", "system:reef", 170.0),), "fill", 1)
    assert [(source, part) for source, _, part in poured] == [("container:M1", 150.0), ("container:T3", 20.0)]


def test_an_emptied_bin_is_filled_again_after_it_was_emptied() -> None:
    bins = Bins(means())
    filled(bins, 150.0, "one")
    bins.numbered((("new:reef", "system:reef", 150.0),), "fill", 1)
    assert set(filled(bins, 90.0, "again")) == {"M1"}
    assert bins.emptied_by("again") == ("fill",)
    assert [(use.from_task, use.until_task) for use in bins.uses()] == [("one", "fill"), ("again", "again")]


def test_what_nobody_has_mixed_stays_an_account_so_that_it_is_seen() -> None:
    assert Bins(means()).numbered((("new:reef", "drain", 5.0),), "away", 1) == (("new:reef", "drain", 5.0),)


def test_what_is_filled_up_and_drawn_again_and_again_stays_within_the_room_kept_for_it() -> None:
    bins = Bins(means(100.0))
    bins.keep_room("new:reef", 50.0)
    start = filled(bins, 80.0)
    assert len(start) == 2, "100 l do not hold 80 and 50 more"
    up = bins.numbered((("purified", "new:reef", 50.0),), "mix-weekly", 6)
    down = bins.numbered((("new:reef", "system:reef", 50.0),), "change-weekly", 6)
    risen = {target.removeprefix("container:"): part for _, target, part in up}
    fallen = {source.removeprefix("container:"): part for source, _, part in down}
    assert risen == pytest.approx(fallen), "each bin gets what it gives, every time"
    volumes = {vessel.number: holds_l(vessel) for vessel in bins.vessels}
    assert all(start[number] + risen[number] <= volumes[number] + 1e-9 for number in start)


def _inside(found: Project) -> dict[str, float]:
    times = {task.id: task.repeats.times for task in found.network.tasks if task.repeats}
    held: dict[str, float] = defaultdict(float)
    for pour in found.ledger.pours:
        for account, sign in ((pour.source, -1), (pour.target, 1)):
            held[account] += sign * pour.litres * times.get(pour.task, 1)
    return held


@pytest.mark.parametrize("name", MOVES)
def test_all_mixed_water_of_an_example_stands_in_bins_that_are_there_or_ordered(name: str) -> None:
    found = project(name)
    accounts = {account for pour in found.ledger.pours for account in (pour.source, pour.target)}
    assert not [account for account in accounts if account.startswith("new:")]
    bins = {use.vessel.number: use.vessel for use in found.ledger.containers if use.vessel.use is Use.MIXED}
    assert bins
    needed = {kind: (count, there) for kind, count, there in found.gear_needed}
    vats = {use.vessel.number: use.vessel for use in found.ledger.containers if use.vessel.use is Use.ROCK}
    for gear in SOLD_L:
        ordered = sum(one.gear == gear for one in (*bins.values(), *vats.values()))
        assert ordered == needed.get(gear, (0, 0))[0]
    making = found.plan.water_making
    for one in bins.values():
        if one.gear == STORAGE:
            assert making is not None
            assert one.volume_l == making.storage_l
    others = {use.vessel.number for use in found.ledger.containers if use.vessel.use is not Use.MIXED}
    assert not set(bins) & others, "a bin is no container of the day"
    assert all(abs(_inside(found)[one.account]) < 0.05 for one in bins.values())


def kept_min(found: Project, mixes: list[str]) -> list[int]:
    """Greatest gaps from mixes to the waves that they are for. [min]."""
    gaps = (link.max_gap_min for link in found.network.links if link.before in mixes)
    return [gap for gap in gaps if gap is not None]


def test_water_that_would_be_too_old_is_mixed_afresh_as_a_task_of_its_own() -> None:
    """Waves last for weeks: each of them, and the change after the last, has a mix of its own."""
    found = project("larger_tank_other_spot")
    mixes = [one.id for one in found.network.tasks if one.id.startswith("mix-afresh-wave-")]
    waves = [one.id for one in found.network.tasks if one.id.startswith("move-wave-")]
    assert len(mixes) == len(waves) > 1
    assert kept_min(found, mixes) == [14 * 24 * 60] * len(waves)
    short = project_of(plan("larger_tank_other_spot", "policy.mixed-water-keeps=5 days"), steps=False)
    assert kept_min(short, mixes) == [5 * 24 * 60] * len(waves)


def test_spare_water_serves_the_day_and_nothing_else() -> None:
    """Reserve, what gets animals used to the tank, and the first change: three amounts, none counted twice."""
    found = project("house_move")
    mixed = sum(pour.litres for pour in found.ledger.pours if pour.task.startswith("fill-bin"))
    assert found.water is not None
    ramps = sum(
        pour.litres
        for pour in found.ledger.pours
        if pour.source == "system:display"
        and pour.target.startswith("container:")
        and not pour.task.startswith(("draw-", "pack-media-"))
    )
    assert mixed == pytest.approx(found.water.new.likely + found.water.spare.likely + ramps, abs=0.1)
    change = [pour for pour in found.ledger.pours if pour.task == "first-change-display"]
    into = [pour.source for pour in change if pour.target == "system:display"]
    away = sum(pour.litres for pour in change if pour.source.startswith("container:C"))
    afresh = {pour.target for pour in found.ledger.pours if pour.task == "mix-afresh-change-display"}
    assert set(into) == afresh
    assert away == pytest.approx(found.water.spare.likely, abs=0.1), "all of the reserve is still there"


def _steps(found: Project, task: str) -> str:
    return " ".join(found.network.task(task).steps)


@pytest.mark.parametrize("name", ["small_tank_move", "house_move", "house_move_with_gap"])
def test_bins_are_washed_and_labelled_as_other_containers_and_loaded_where_both_homes_use_them(
    name: str,
) -> None:
    found = project(name)
    bins = {use.vessel.number: use.vessel for use in found.ledger.containers if use.vessel.use is Use.MIXED}
    places = {task.id: task.place for task in found.network.tasks}
    assert all(
        any(number in _spelled(row) for row in _steps(found, "print-labels").split(";")) for number in bins
    )
    spots = defaultdict(set)
    for use in found.ledger.containers:
        if use.vessel.use is Use.MIXED:
            spots[use.vessel.number].add(places[use.from_task])
    riding = [item for load in found.loads for item in load.items if item.name.startswith("empty bin")]
    stowing = [task for load in found.loads for task, items in load.stowed if set(items) & set(riding)]
    for task in stowing:
        cans = [one.id for one in found.network.tasks if one.id.startswith("fill-cans")]
        assert all(task in _after(found, one) for one in cans if places[one] == places[task]), "empty by then"
    ways = sum(len(several) - 1 for several in spots.values())
    assert len(riding) == ways
    cleaning = [_spelled(_steps(found, task)) for task in places if task.startswith("clean-old-room")]
    stayed = {
        one
        for one, where in spots.items()
        if len(where) == 1 and where <= {places[task] for task in places if task.startswith("clean-old-room")}
    }
    assert stayed <= set().union(*cleaning), "no bin is forgotten at the old home"
    assert {item.kg for item in riding} <= {bins[number].kg for number in bins if len(spots[number]) > 1}


def _after(found: Project, task: str) -> set[str]:
    """Every task that ends only after another has ended."""
    reached, left = {task}, [task]
    ends = (Relation.FINISHTOSTART, Relation.FINISHTOFINISH)
    while left:
        before = left.pop()
        after = {one.after for one in found.network.links if one.before == before and one.relation in ends}
        left += after - reached
        reached |= after
    return reached


def _spelled(row: str) -> set[str]:
    """Every number that a row of labels names, runs such as T1–T3 written out."""
    found = set()
    for first, last in re.findall(r"([A-Z]\d+)(?:–[A-Z](\d+))?", row):
        found |= {f"{first[0]}{one}" for one in range(int(first[1:]), int(last or first[1:]) + 1)}
    return found


def test_a_bin_that_holds_water_when_its_way_is_driven_stays_behind() -> None:
    bins = Bins(means(60.0, there=0, used=0))
    filled(bins, 50.0, "mix")
    bins.drive(0)
    bins.numbered((("new:reef", "drain", 50.0),), "clear", 1, 0)
    assert bins.numbered((("purified", "new:reef", 10.0),), "there", 1, 1) == (
        ("purified", "container:M2", 10.0),
    )
    assert set(filled(bins, 50.0, "here")) == {"M1"}
    assert bins.carried(0) == ()


def test_a_bin_travels_over_each_way_that_lies_between_its_uses() -> None:
    bins = Bins(means(60.0, there=0, used=0))
    for task, spot, litres in (("one", 0, 50.0), ("two", 1, 10.0), ("three", 2, 30.0)):
        bins.numbered((("purified", "new:reef", litres),), task, 1, spot)
        bins.numbered((("new:reef", "system:reef", litres),), f"pour-{task}", 1, spot)
    assert [bins.carried(way) for way in range(3)] == [(("M1", 60.0),), (("M1", 60.0),), ()]


_SALT = re.compile(r"([\d.]+) (k?g) into (each of )?([A-Z0-9–, ]+(?: and [A-Z]\d+)?)")


def _told_kg(text: str) -> float:
    """Add up the salt that a text tells bin by bin. [kg]."""
    return sum(
        float(amount) * (1.0 if unit == "kg" else 0.001) * (len(_spelled(numbers)) if each else 1)
        for amount, unit, each, numbers in _SALT.findall(text)
    )


@pytest.mark.parametrize("name", ["small_tank_move", "house_move", "house_move_with_gap", "several_systems"])
def test_salt_is_told_bin_by_bin_and_adds_up_to_what_is_ordered_and_billed(name: str) -> None:
    found = project(name)
    mixes = [task.id for task in found.network.tasks if task.id.startswith(("mix-water", "mix-spare"))]
    afresh = [task.id for task in found.network.tasks if task.id.startswith("mix-afresh")]
    assert found.water is not None
    told = sum(_told_kg(_steps(found, task)) for task in mixes)
    early = sum(one.salt_kg / one.batches for one in found.upkeep if one.daily_l)
    assert told == pytest.approx(found.water.salt.likely + early, rel=0.01)
    assert sum(_told_kg(_steps(found, task)) for task in afresh) == pytest.approx(
        found.afresh_salt_kg, rel=0.01
    )


def test_a_batch_in_several_tubs_tells_the_salt_of_each() -> None:
    found = project("house_move")
    pours = [pour for pour in found.ledger.pours if pour.task == "fill-bin-2"]
    assert len(pours) == 3
    text = _steps(found, "mix-water-2")
    whole = float(re.findall(r"([\d.]+) kg in all", text)[0])
    assert whole == pytest.approx(_told_kg(text), rel=0.01)


MIXED = (
    "purpose=house-move-larger-tank",
    "way=new-tank-ahead",
    "as-of=2027-03-02 09:00",
    "dates.earliest-start=2027-03-07",
    "dates.access-from=2027-05-01 12:00",
    "systems.display.new-tank={tank: {length: 120 cm, width: 60 cm, height: 60 cm}}",
)


def test_what_is_for_the_day_is_mixed_for_it_where_only_one_of_two_tanks_is_filled_long_before() -> None:
    found = project("several_systems", *MIXED)
    first = {one.id for one in found.network.tasks if one.id.startswith("fill-bin")}
    taken = {pour.target for pour in found.ledger.pours if pour.task in first}
    uses = [use for use in found.ledger.containers if use.vessel.account in taken and use.from_task in first]
    assert {end for use in uses for end in use.ends} == {"fill-ahead-display"}
    (kept,) = (one for one in found.network.links if one.after == "fill-ahead-display" and one.max_gap_min)
    assert kept.max_gap_min == 14 * 24 * 60
    (eve,) = (one for one in found.network.links if one.before == "mix-spare" and one.max_gap_min)
    assert (eve.after, eve.max_gap_min) == ("go-or-no-go", 12 * 24 * 60)
    day = [pour for pour in found.ledger.pours if pour.task == "fill-tank-frags" and "system" in pour.target]
    bins = {pour.target for pour in found.ledger.pours if pour.task == "mix-spare"}
    assert {pour.source for pour in day if not pour.source.startswith("container:T")} <= bins
    held = sum(pour.litres for pour in found.ledger.pours if pour.target == "purified") - sum(
        pour.litres for pour in found.ledger.pours if pour.source == "purified"
    )
    assert held == pytest.approx(0.0, abs=0.05), "no change is counted for a tank that is not ripened"
    places = {one.id: one.place for one in found.network.tasks}
    assert places["mix-spare"] == places["fill-tank-frags"] == "orchard", "no mixed water is carried there"
