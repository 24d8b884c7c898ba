from __future__ import annotations

from dataclasses import replace

from moveplan.outputs.figures.load import LoadPicture, load_pictures
from moveplan.practice.project import Load, LoadItem
from tests.outputs.scene import moving_day


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
            apart = one.x + one.width <= other.x or other.x + other.width <= one.x
            assert apart or one.y + one.height <= other.y or other.y + other.height <= one.y


def test_what_finds_no_room_or_has_no_size_is_listed_only() -> None:
    found = picture(
        LoadItem("stand", 50.0, 3.0, 1.6, 1.0), LoadItem("more", 5.0, 1.0, 1.0, 1.0), LoadItem("x", 1.0)
    )
    assert [one.order for one in found.not_on_floor] == [2, 3]
    assert found.total_kg == 56.0


def test_a_long_item_lies_along_the_vehicle() -> None:
    (board,) = picture(LoadItem("board", 5.0, 2.5, 0.3, 0.1)).standing
    assert (board.width, board.height) == (45.0, 375.0)
    assert board.text == ("1",)


def test_a_vehicle_that_the_plan_does_not_describe_has_no_floor() -> None:
    outlook = moving_day()
    loads = (Load("unknown", 1, (LoadItem("box", 10.0, 0.6, 0.4, 0.4),)),)
    (found,) = load_pictures(replace(outlook, project=replace(outlook.project, loads=loads)))
    assert (found.vehicle, found.width, len(found.not_on_floor)) == (None, 0.0, 1)


def test_light_things_go_on_top_where_animals_find_no_room_on_the_floor() -> None:
    found = picture(
        LoadItem("stand", 50.0, 2.4, 1.6, 1.0),
        LoadItem("carton", 7.0, 0.6, 1.6, 0.5),
        LoadItem("kit", 9.0, 0.0, 0.0, 0.0),
        LoadItem("tub", 33.0, 0.6, 0.4, 0.4, livestock=True),
    )
    assert [one.order for one in found.standing if one.stacked] == [2]
    assert found.standing[3].width
    assert [one.order for one in found.not_on_floor] == [2, 3]


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
    assert [one.order for one in found.not_on_floor] == [2, 3]


def test_a_container_is_named_by_the_number_on_its_label() -> None:
    small, large = (
        LoadItem("box of corals", 12, 0.3, 0.3, number="X4"),
        LoadItem("tub of rock", 17, 0.8, 0.6, number="T2"),
    )
    outlook = moving_day()
    load = replace(outlook.project.loads[0], items=(small, large))
    (picture,) = load_pictures(replace(outlook, project=replace(outlook.project, loads=(load,))))
    assert picture.standing[0].text == ("X4",)
    assert " ".join(picture.standing[1].text).startswith("2. T2 tub of")
