from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

from moveplan.outputs.data.result import result_data
from moveplan.outputs.livestock import Stay, dated_routes
from moveplan.outputs.outlook import Outlook
from moveplan.practice.project import Moment, Route, Stop
from moveplan.quantities.safe_time.safe_time import SafeTime
from moveplan.times import Interval
from tests.outputs.scene import ROUTES, impossible, minutes, moving_day
from tests.outputs.scene_plan import at

BAG = SafeTime(minutes(300, 420, 600), "oxygen")


def with_routes(*routes: Route) -> Outlook:
    outlook = moving_day()
    return replace(outlook, project=replace(outlook.project, routes=routes))


def test_every_route_runs_from_the_start_to_the_end_without_a_hole() -> None:
    for dated in dated_routes(moving_day()):
        assert dated.stops[0].span.start == at("2027-03-01 09:00")
        assert dated.stops[-1].span.finish == at("2027-06-05 18:20")
        for one, other in pairwise(dated.stops):
            assert one.span.finish == other.span.start


def test_a_container_carried_through_three_places_is_one_stay() -> None:
    clowns = dated_routes(moving_day())[0]
    (stay,) = clowns.stays
    assert stay.where == ("Mill Terrace", "Hired long van", "Quarry Rise")
    assert (stay.span.start, stay.span.finish) == (at("2027-05-22 09:30"), at("2027-05-22 16:30"))
    assert stay.margin_min == 100


def test_where_two_stops_disagree_the_container_gets_the_time() -> None:
    route = Route(
        "goby",
        "Goby",
        1,
        (
            Stop("Mill Terrace", "Display reef", None, Moment("catch-fish", "finish")),
            Stop("Mill Terrace", "bag", Moment("catch-fish", "start"), Moment("release-fish", "start"), BAG),
            Stop("Quarry Rise", "Display reef", Moment("release-fish", "finish"), None),
        ),
    )
    (stay,) = dated_routes(with_routes(route))[0].stays
    assert (stay.span.start, stay.span.finish) == (at("2027-05-22 09:30"), at("2027-05-22 16:30"))


def test_between_two_filtered_systems_the_change_is_when_the_next_begins() -> None:
    route = Route(
        "goby",
        "Goby",
        1,
        (
            Stop("Mill Terrace", "Display reef", None, None),
            Stop("Mill Terrace", "Holding tank", Moment("fill-tubs", "start"), None),
        ),
    )
    stops = dated_routes(with_routes(route))[0].stops
    assert [stop.container for stop in stops] == ["Display reef", "Holding tank"]
    assert stops[1].span.start == at("2027-05-22 07:30")


def test_the_stay_with_the_least_margin_speaks_for_the_group() -> None:
    bucket = SafeTime(minutes(200, 260, 300), "temperature")
    route = Route(
        "goby",
        "Goby",
        1,
        (
            Stop("Mill Terrace", "bag", Moment("catch-fish", "start"), Moment("drive-over", "start"), BAG),
            Stop("Van", "bucket", Moment("drive-over", "start"), Moment("carry-in", "finish"), bucket),
            Stop("Quarry Rise", "Display reef", Moment("carry-in", "finish"), None),
        ),
        allowance_min=20,
    )
    (animal,) = result_data(with_routes(route))["livestock"]
    assert len(animal["stays"]) == 2
    assert [
        animal[key] for key in ("safe_minutes", "planned_minutes", "allowance_minutes", "limited_by")
    ] == [
        200,
        95,
        20,
        "temperature",
    ]


def test_an_endless_limit_is_null() -> None:
    endless = SafeTime(minutes(math.inf, math.inf, math.inf), "policy")
    snail = ROUTES[3]
    stops = tuple(replace(stop, safe=endless if stop.safe else None) for stop in snail.stops)
    (animal,) = result_data(with_routes(replace(snail, stops=stops)))["livestock"]
    assert animal["safe_minutes"] is None
    assert animal["stays"][0]["safe_low_minutes"] is None
    assert animal["planned_minutes"] == 375


def test_a_group_that_is_never_in_a_container_has_no_safe_time() -> None:
    stays_put = Route("goby", "Goby", 1, (Stop("Mill Terrace", "Display reef", None, None),))
    (animal,) = result_data(with_routes(stays_put))["livestock"]
    assert animal["stays"] == []
    assert "safe_minutes" not in animal


def test_without_a_schedule_there_are_no_dated_routes() -> None:
    assert dated_routes(impossible()) == ()


ROAD = SafeTime(minutes(300, 420, 600), "temperature", before_min=60.0, in_vehicle_min=200.0)


def in_vehicle_min(
    room_min: int, safe: SafeTime = ROAD, where: tuple[str, ...] = ("Mill", "Van")
) -> float | None:
    return Stay(where, "bag", Interval(0, 240), safe, room_min=room_min).in_vehicle_min


def test_a_stay_in_the_vehicle_ends_later_by_what_the_room_took_longer() -> None:
    """Reckoned with 60 min in the room and closed for 200 min: 90 min in the room are 230 min, 30 are still 200."""
    assert in_vehicle_min(60) == 200
    assert in_vehicle_min(90) == 230
    assert in_vehicle_min(30) == 200


def test_a_stay_in_the_vehicle_never_outlasts_the_safe_time() -> None:
    """200 + (161 - 60) min would be 301, and the low end is 300."""
    assert in_vehicle_min(160) == 300
    assert in_vehicle_min(161) == 300


def test_without_a_ride_or_a_limit_nothing_ends_in_a_vehicle() -> None:
    assert in_vehicle_min(60, where=("Mill",)) is None
    assert in_vehicle_min(60, replace(ROAD, in_vehicle_min=0.0)) is None
    assert in_vehicle_min(60, replace(ROAD, estimate=minutes(math.inf, math.inf, math.inf))) is None
