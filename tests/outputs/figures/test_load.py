from __future__ import annotations

import re
from dataclasses import replace

import pytest

from moveplan.outputs.agenda import agenda
from moveplan.outputs.documents.labels import labels_of
from moveplan.outputs.figures.load import LoadPicture, load_pictures
from moveplan.outputs.figures.scale import FITS
from moveplan.outputs.outlook import Outlook, Verdict
from moveplan.practice.project import Load, LoadItem
from tests.examples import NAMES, scheduled
from tests.outputs.scene import moving_day

EXAMPLES = [name for name in NAMES if name != "impossible_dates"]


def picture(*items: LoadItem) -> LoadPicture:
    outlook = moving_day()
    loads = (Load("van", 1, items),) if items else outlook.project.loads
    (found,) = load_pictures(replace(outlook, project=replace(outlook.project, loads=loads)))
    return found


def test_items_stand_on_the_floor_to_scale_and_never_on_each_other() -> None:
    found = picture()
    on_floor = [one for one in found.standing if one.width]
    for at, one in enumerate(on_floor):
        assert found.left <= one.x
        assert one.x + one.width <= found.left + found.width + 0.01
        assert one.y + one.height <= found.top + found.height + 0.01
        for other in on_floor[at + 1 :]:
            apart = one.x + one.width <= other.x + 0.11 or other.x + other.width <= one.x + 0.11
            assert apart or one.y + one.height <= other.y + 0.11 or other.y + other.height <= one.y + 0.11


def test_what_finds_no_room_or_has_no_size_is_listed_only() -> None:
    found = picture(
        LoadItem("stand", 50.0, 3.0, 1.6, 1.0), LoadItem("more", 5.0, 1.0, 1.0, 1.0), LoadItem("x", 1.0)
    )
    assert [one.order for one in found.standing if not one.width] == [2, 3]
    assert found.total_kg == 56.0


def test_a_long_item_lies_along_the_vehicle_which_is_drawn_from_the_cab_down() -> None:
    found = picture(LoadItem("board", 5.0, 2.5, 0.3, 0.1))
    (board,) = found.standing
    van = moving_day().project.plan.vehicles[0]
    px_per_m = found.height / van.load_length_m
    assert found.width == pytest.approx(van.load_width_m * px_per_m, abs=0.1)
    assert (board.width, board.height) == pytest.approx((0.3 * px_per_m, 2.5 * px_per_m), abs=0.1)
    assert (board.x, board.y) == (found.left, found.top)
    assert board.text[0] == "1"
    assert found.middle_m == pytest.approx(1.25, abs=0.01)


@pytest.mark.parametrize(("length_m", "width_m"), [(4.3, 1.75), (7.2, 2.4), (1.0, 1.1), (2.0, 6.0)])
def test_any_load_space_is_drawn_as_wide_as_a_telephone_and_as_long_as_a_page(
    length_m: float, width_m: float
) -> None:
    outlook = moving_day()
    van = replace(outlook.project.plan.vehicles[0], load_length_m=length_m, load_width_m=width_m)
    plan = replace(outlook.project.plan, vehicles=(van,))
    (found,) = load_pictures(replace(outlook, project=replace(outlook.project, plan=plan)))
    assert found.width <= FITS - 8
    assert found.height <= 1000
    assert found.width / found.height == pytest.approx(width_m / length_m, rel=0.01)


def test_only_what_finds_no_room_for_its_words_has_them_beside_the_picture() -> None:
    found = picture(
        LoadItem("board", 5.0, 1.0, 1.0, 0.1), LoadItem("a very long name of a small thing", 5.0, 0.3, 0.3)
    )
    assert [one.in_full for one in found.standing] == [True, False]
    assert found.standing[0].text == ("1", "board", "5 kg")


def test_a_vehicle_that_the_plan_does_not_describe_has_no_floor() -> None:
    outlook = moving_day()
    loads = (Load("unknown", 1, (LoadItem("box", 10.0, 0.6, 0.4, 0.4),)),)
    (found,) = load_pictures(replace(outlook, project=replace(outlook.project, loads=loads)))
    assert (found.vehicle, found.width, [one.width for one in found.standing]) == (None, 0.0, [0.0])


def test_light_things_go_on_top_where_animals_find_no_room_on_the_floor() -> None:
    found = picture(
        LoadItem("stand", 50.0, 2.4, 1.6, 1.0),
        LoadItem("carton", 7.0, 0.6, 1.6, 0.5),
        LoadItem("kit", 9.0, 0.0, 0.0, 0.0),
        LoadItem("tub", 33.0, 0.6, 0.4, 0.4, livestock=True),
    )
    assert [one.order for one in found.standing if one.stacked] == [2]
    assert found.standing[3].width
    assert [one.order for one in found.standing if not one.width] == [2, 3]


def test_fragile_things_stand_on_the_floor_too_and_nothing_stands_three_high() -> None:
    tubs = [LoadItem(f"tub {n}", 30.0, 0.8, 0.8, 0.4) for n in range(8)]
    found = picture(*tubs, LoadItem("glass", 5.0, 0.8, 0.8, 0.4, fragile=True))
    stacked = [one for one in found.standing if one.stacked]
    assert found.standing[-1].width
    assert 0 < len(stacked) <= 4


def test_heavy_and_fragile_things_never_go_on_top() -> None:
    found = picture(
        LoadItem("stand", 50.0, 3.0, 1.6, 1.0),
        LoadItem("glass", 5.0, 1.0, 1.0, 1.0, fragile=True),
        LoadItem("tub", 33.0, 0.6, 0.4, 0.4, livestock=True),
    )
    assert not any(one.stacked for one in found.standing)
    assert [one.order for one in found.standing if not one.width] == [2, 3]


def test_a_container_is_named_by_the_number_on_its_label() -> None:
    small, large = (
        LoadItem("box of corals", 12, 0.3, 0.3, number="X4"),
        LoadItem("tub of rock", 17, 0.8, 0.6, number="T2"),
    )
    outlook = moving_day()
    load = replace(outlook.project.loads[0], items=(small, large))
    (picture,) = load_pictures(replace(outlook, project=replace(outlook.project, loads=(load,))))
    first, second = picture.standing
    assert first.text[0] == "X4"
    assert second.text[0] == "T2"
    assert second.text[-1] == "17 kg"


def test_a_can_tells_its_mass_where_there_is_no_room_for_its_name() -> None:
    (can,) = picture(LoadItem("can of new water", 14.4, 0.3, 0.18, 0.4, number="C1")).standing
    assert can.text == ("C1", "14.4 kg")
    (jug,) = picture(LoadItem("jug of new water", 14.4, 0.1, 0.08, 0.4, number="C1")).standing
    assert jug.text == ("C1",)


@pytest.mark.parametrize("name", EXAMPLES)
def test_what_is_loaded_stands_in_the_order_of_the_loading_tasks(name: str) -> None:
    """Every number of the list belongs to the task that names it, and tasks follow each other as they are planned."""
    project, schedule = scheduled(name)
    starts = {one.task: one.start for one in schedule.placements}
    for load in project.loads:
        rows = load.in_order(starts).stowed
        assert [starts[task] for task, _ in rows] == sorted(starts[task] for task, _ in rows)
        assert sorted(item.name for _, items in rows for item in items) == sorted(
            one.name for one in load.items
        )
        for task, items in rows:
            (first, *_) = project.network.task(task).steps
            for number in (item.number for item in items if item.number):
                assert number in _expanded(first), (task, number)


@pytest.mark.parametrize("name", EXAMPLES)
def test_everything_that_rides_with_a_number_has_one_label_and_one_line(name: str) -> None:
    """Also sand, rock, water and media; a number is on one thing of a trip alone."""
    project, schedule = scheduled(name)
    outlook = Outlook(project, project.plan.now, Verdict.OK, (), schedule)
    labels = [one.number for one in labels_of(outlook, agenda(outlook).openings) if one.number]
    riding = {use.vessel.number for use in project.ledger.containers}
    for picture in load_pictures(outlook):
        numbers = [one.item.number for one in picture.standing if one.item.number]
        assert len(numbers) == len(set(numbers))
        riding |= set(numbers)
        assert all(one.item.number for one in picture.standing if one.item.name.startswith("bucket"))
    assert set(labels) >= riding - {""}
    sand = [number for number in labels if number.startswith("S")]
    assert len(sand) == len(set(sand))


def _expanded(text: str) -> set[str]:
    """Give all numbers of a sentence, such as X1–X3."""
    found = set(re.findall(r"\b[A-Z]\d+\b", text))
    for letter, first, last in re.findall(r"\b([A-Z])(\d+)–[A-Z](\d+)", text):
        found |= {f"{letter}{number}" for number in range(int(first), int(last) + 1)}
    return found
