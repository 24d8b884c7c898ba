from __future__ import annotations

from dataclasses import replace
from itertools import islice, pairwise, product

import pytest

from moveplan.outputs.figures.ribbons import Piece
from moveplan.outputs.figures.scale import FITS
from moveplan.outputs.figures.whereabouts import whereabouts
from moveplan.outputs.livestock import dated_routes
from moveplan.outputs.outlook import Outlook
from moveplan.practice.project import Moment, Route, Stop
from moveplan.quantities.safe_time.safe_time import SafeTime
from moveplan.units import show_duration
from tests.outputs.scene import ROUTES, impossible, minutes, moving_day


def with_routes(*routes: Route) -> Outlook:
    outlook = moving_day()
    return replace(outlook, project=replace(outlook.project, routes=routes))


def _safe_for(route: Route, low: float) -> tuple[Stop, ...]:
    safe = SafeTime(minutes(low, low * 1.5, low * 2), "oxygen")
    return tuple(replace(stop, safe=safe if stop.safe else None) for stop in route.stops)


def with_safe(low: float) -> Outlook:
    return with_routes(replace(ROUTES[1], stops=_safe_for(ROUTES[1], low)))


def test_places_stand_in_the_order_of_the_way() -> None:
    (picture,) = whereabouts(moving_day())
    assert [(lane.where, lane.system) for lane in picture.lanes] == [
        ("Mill Terrace", "Display reef"),
        ("Mill Terrace", ""),
        ("Hired long van", ""),
        ("Quarry Rise", ""),
        ("Quarry Rise", "Display reef"),
    ]


def test_a_ribbon_ends_where_the_data_say() -> None:
    (picture,) = whereabouts(moving_day())
    drawn = [(dated, ribbon) for ribbon in picture.ribbons for _, dated in ribbon.members]
    assert {dated.route.livestock for dated, _ in drawn} == {
        dated.route.livestock for dated in dated_routes(moving_day())
    }
    for dated, ribbon in drawn:
        spans = [stop.span for stop in dated.stops]
        assert [(piece.y0, piece.y1) for piece in ribbon.pieces] == [
            (picture.scale.y(span.start), picture.scale.y(span.finish)) for span in spans
        ]


def test_animals_that_travel_together_are_one_ribbon_the_scarcest_first() -> None:
    tang = ROUTES[1]
    scarce = replace(tang, livestock="scarce", name="Scarce", stops=_safe_for(tang, 430))
    (picture,) = whereabouts(with_routes(tang, scarce))
    (ribbon,) = picture.ribbons
    assert [dated.route.livestock for _, dated in ribbon.members] == ["scarce", tang.livestock]
    assert any("Scarce" in piece.name for piece in ribbon.pieces)


def test_the_time_left_stands_where_a_place_is_left_and_no_text_is_longer_than_its_piece() -> None:
    (picture,) = whereabouts(moving_day())
    tang = next(one for one in picture.ribbons if one.dated.route.livestock == ROUTES[1].livestock)
    (stay,) = tang.dated.stays
    closed = [piece for piece in tang.pieces if piece.closed]
    assert closed[-1].left == show_duration(int(stay.safe.estimate.low) - stay.span.minutes)
    for ribbon in picture.ribbons:
        for piece in ribbon.pieces:
            assert (len(piece.name) + len(piece.left)) * 7.6 <= piece.y1 - piece.y0


def test_the_minutes_left_are_told_at_each_change_of_place() -> None:
    (picture,) = whereabouts(moving_day())
    for ribbon in picture.ribbons:
        (stay,) = ribbon.dated.stays
        closed = [stop.span.finish for stop in ribbon.dated.stops if stop.safe is not None]
        assert ribbon.leaves == tuple(
            (moment, stay.safe.estimate.low - (moment - stay.span.start)) for moment in closed
        )
        assert len(closed) == 3
    (late,) = whereabouts(with_safe(300))[0].ribbons
    assert [left >= 0 for _, left in late.leaves] == [True, True, False]


def test_all_places_stand_side_by_side_on_a_small_screen() -> None:
    (picture,) = whereabouts(moving_day())
    assert picture.width <= FITS
    many = [
        replace(ROUTES[1], livestock=f"g{at}", name="G", stops=_safe_for(ROUTES[1], 400)) for at in range(3)
    ]
    assert whereabouts(with_routes(*many))[0].width == pytest.approx(picture.width, abs=1)


def _apart(count: int) -> list[Route]:
    """Groups that each ride in a ribbon of their own, as no two are shut in and let out with the same tasks."""
    placed = {one.task: one for one in moving_day().schedule.placements}
    drive, tang = placed["drive-over"], ROUTES[1]
    packed = {one.start: Moment(one.task, "start") for one in placed.values()}
    freed = {one.finish: Moment(one.task, "finish") for one in placed.values()}
    ways = product(
        [edge for at, edge in sorted(packed.items()) if drive.start - 300 < at < drive.start],
        [edge for at, edge in sorted(freed.items()) if drive.finish < at < drive.finish + 400],
    )
    home, shut, over, there, again = tang.stops
    return [
        replace(
            tang,
            livestock=f"g{number}",
            name=f"Group {number}",
            stops=(
                replace(home, until=out),
                replace(shut, since=out),
                over,
                replace(there, until=back),
                replace(again, since=back),
            ),
        )
        for number, (out, back) in enumerate(islice(ways, count))
    ]


def test_however_many_ribbons_there_are_a_small_screen_shows_all_places_with_names_while_they_have_room() -> (
    None
):
    for count, named in ((4, True), (6, True), (9, False), (30, False)):
        (picture,) = whereabouts(with_routes(*_apart(count)))
        assert len(picture.ribbons) == count
        assert picture.width <= FITS
        pieces = [piece for ribbon in picture.ribbons for piece in ribbon.pieces if piece.closed]
        assert any(piece.left for piece in pieces) is named
        assert any(piece.name for piece in pieces) is named
        for lane in picture.lanes:
            inside = sorted(
                {
                    piece.x
                    for ribbon in picture.ribbons
                    for piece in ribbon.pieces
                    if lane.x < piece.x < lane.x + lane.width
                }
            )
            assert len(inside) == count
            widest = max(
                piece.w0 for ribbon in picture.ribbons for piece in ribbon.pieces if piece.x in inside
            )
            assert all(other - one >= widest - 0.11 for one, other in pairwise(inside))


def test_a_place_has_room_only_for_the_ribbons_that_come_to_it() -> None:
    one, other = _apart(2)
    stops = tuple(replace(stop, where=f"{stop.where} annexe") for stop in other.stops)
    (alone,), (two,) = (
        whereabouts(with_routes(*found)) for found in ((one,), (one, replace(other, stops=stops)))
    )
    assert len(two.lanes) == 2 * len(alone.lanes)
    for lane in two.lanes:
        (x,) = {
            piece.x
            for ribbon in two.ribbons
            for piece in ribbon.pieces
            if lane.x < piece.x < lane.x + lane.width
        }
        assert x == pytest.approx(lane.x + lane.width / 2, abs=0.1)


def test_a_ribbon_thins_as_its_minutes_fall_below_what_the_scarcest_begin_with() -> None:
    (picture,) = whereabouts(moving_day())
    tang = next(one for one in picture.ribbons if one.dated.route.livestock == ROUTES[1].livestock)
    least = min(stay.safe.estimate.low for dated in dated_routes(moving_day()) for stay in dated.stays)
    assert [piece.closed for piece in tang.pieces] == [False, True, True, True, False]
    first, last = tang.pieces[1], tang.pieces[3]
    assert last.w1 / first.w0 == pytest.approx((470 - 420) / least, abs=0.001)
    assert tang.pieces[1].w1 == tang.pieces[2].w0


def test_past_the_low_end_the_ribbon_is_marked_as_over_from_that_minute() -> None:
    (picture,) = whereabouts(with_safe(300))
    pieces = picture.ribbons[0].pieces
    over = [piece for piece in pieces if piece.over]
    assert len(over) == 1
    (stay,) = dated_routes(with_safe(300))[0].stays
    assert over[0].y0 == picture.scale.y(stay.span.start + 300)
    assert over[0].y1 == picture.scale.y(stay.span.finish)
    assert [piece.w1 for piece in pieces if piece.y1 == over[0].y0] == [0.0]


def test_a_limit_that_is_reached_on_the_road_marks_all_later_places_as_over() -> None:
    (picture,) = whereabouts(with_safe(140))
    assert [piece.over for piece in picture.ribbons[0].pieces] == [False, False, False, True, True, False]


def test_without_a_limit_the_ribbon_keeps_its_width() -> None:
    (picture,) = whereabouts(with_safe(float("inf")))
    assert {piece.w0 for piece in picture.ribbons[0].pieces if piece.closed} == {12.0}
    assert {piece.w1 for piece in picture.ribbons[0].pieces if piece.closed} == {12.0}


def test_stays_on_two_days_make_two_pictures() -> None:
    bag = SafeTime(minutes(300, 400, 500), "oxygen")
    route = Route(
        "goby",
        "Goby",
        1,
        (
            Stop("Mill Terrace", "Display reef", None, Moment("mix-water", "start")),
            Stop("Mill Terrace", "bag", Moment("mix-water", "start"), Moment("mix-water", "finish"), bag),
            Stop(
                "Mill Terrace", "Holding tank", Moment("mix-water", "finish"), Moment("catch-fish", "start")
            ),
            Stop("Van", "bag", Moment("catch-fish", "start"), Moment("release-fish", "finish"), bag),
            Stop("Quarry Rise", "Display reef", Moment("release-fish", "finish"), None),
        ),
    )
    first, second = whereabouts(with_routes(route))
    assert [lane.system or lane.where for lane in first.lanes] == [
        "Display reef",
        "Mill Terrace",
        "Holding tank",
    ]
    assert [lane.system or lane.where for lane in second.lanes] == ["Holding tank", "Van", "Display reef"]


def test_nothing_is_drawn_without_a_schedule_or_without_containers() -> None:
    assert whereabouts(impossible()) == ()
    assert whereabouts(with_routes()) == ()


def test_the_corners_of_a_piece_go_around_its_middle_line() -> None:
    piece = Piece(100.0, 10.0, 50.0, 8.0, 4.0, closed=True)
    assert piece.points == "96,10 104,10 102,50 98,50"
