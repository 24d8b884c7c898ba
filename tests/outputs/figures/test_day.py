from __future__ import annotations

import re
from itertools import pairwise

from moveplan.network.task import Kind
from moveplan.outputs.agenda import agenda
from moveplan.outputs.figures.day import DayPicture, day_pictures, moving_days
from tests.outputs.crowd import crowded
from tests.outputs.hostile import hostile
from tests.outputs.scene import bare, impossible, moving_day


def _picture() -> DayPicture:
    (picture,) = day_pictures(moving_day(), agenda(moving_day()))
    return picture


def test_every_task_that_somebody_works_on_is_tied_to_the_threads_of_all_who_do() -> None:
    found = agenda(moving_day())
    (day,) = moving_days(found)
    picture = _picture()
    lines = [
        line for line in found.lines if line.day == day and line.placement.people and not line.task.repeats
    ]
    assert [knot.line for knot in picture.knots] == lines
    for knot in picture.knots:
        assert len(set(knot.xs)) == len(knot.line.placement.people)
        assert list(knot.xs) == sorted(knot.xs)


def test_a_stretch_begins_and_lasts_as_the_schedule_says() -> None:
    picture = _picture()
    for knot in picture.knots:
        span = knot.line.placement.segments[0]
        assert knot.y == picture.scale.y(span.start)
        assert abs(knot.height - 1.1 * span.minutes) < 0.1


def test_each_lane_holds_the_threads_of_all_without_touching_the_next() -> None:
    picture = _picture()
    for one, other in pairwise(picture.lanes):
        assert one.x + one.width < other.x
    for knot in picture.knots:
        assert any(lane.x < knot.xs[0] and knot.xs[-1] < lane.x + lane.width for lane in picture.lanes)


def test_a_drive_stands_in_the_lane_of_its_vehicle_and_leads_to_the_other_place() -> None:
    picture = _picture()
    (drive,) = [knot for knot in picture.knots if knot.line.task.kind is Kind.TRAVEL]
    road = next(lane for lane in picture.lanes if lane.kind == "vehicle")
    assert all(road.x < x < road.x + road.width for x in drive.xs)
    driver = next(one for one in picture.threads if one.person in drive.line.placement.people)
    ways = [float(x) for x in re.findall(r"L([\d.]+) ", driver.path)]
    assert any(road.x < x < road.x + road.width for x in ways)
    assert ways[-1] > road.x + road.width or ways[-1] < road.x


def test_numbers_of_one_thread_stand_below_each_other() -> None:
    last: dict[float, float] = {}
    for knot in _picture().knots:
        assert knot.number.base - last.get(knot.xs[-1], 0.0) >= 11
        last[knot.xs[-1]] = knot.number.base


def test_signs_are_short_and_no_two_people_share_one() -> None:
    for outlook in (moving_day(), hostile(moving_day())):
        for picture in day_pictures(outlook, agenda(outlook)):
            signs = [thread.sign for thread in picture.threads]
            assert len(set(signs)) == len(signs)
            assert all(0 < len(sign) <= 12 for sign in signs)


def test_without_tied_tasks_the_busiest_day_is_drawn_and_without_a_schedule_none() -> None:
    assert len(day_pictures(bare(), agenda(bare()))) == 1
    assert day_pictures(impossible(), agenda(impossible())) == ()


def test_a_crowd_is_shared_out_among_pictures_that_fit_a_small_screen() -> None:
    outlook = crowded(moving_day(), 30)
    pictures = day_pictures(outlook, agenda(outlook))
    assert len(pictures) > 1
    assert all(picture.width <= 364 for picture in pictures)
    drawn = [thread.person for picture in pictures for thread in picture.threads]
    assert drawn == [person.id for person in outlook.project.scheduling.people]
    for line in {knot.line for picture in pictures for knot in picture.knots}:
        assert sum(
            len(knot.xs) for picture in pictures for knot in picture.knots if knot.line == line
        ) == len(line.placement.people)
