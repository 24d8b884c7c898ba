"""Diaries, stocks and ranges of starts against looking at every minute."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from moveplan.scheduling.constraints.ranges import Grid, extent, joined, pausing_starts, shared, starts
from moveplan.scheduling.state.stock import Stock
from moveplan.scheduling.state.tracks import NEVER, Track, Windows
from moveplan.scheduling.state.work import Crowd, Hours, tightest
from moveplan.times import Interval

END = 40

pieces = st.lists(st.integers(0, END), min_size=2, max_size=8, unique=True).map(
    lambda cuts: [
        Interval(a, b) for a, b in zip(*[iter(sorted(cuts)[: len(cuts) // 2 * 2])] * 2, strict=True)
    ]
)


def _inside(hours: list[Interval], begin: int, end: int) -> bool:
    return any(piece.start <= begin and end <= piece.finish for piece in hours)


@settings(max_examples=100, deadline=None)
@given(
    pieces,
    st.lists(st.tuples(st.integers(0, END), st.integers(1, 5)), max_size=6),
    st.integers(1, 6),
    st.data(),
)
def test_the_earliest_free_stretch_is_found(
    hours: list[Interval], wanted: list[tuple[int, int]], lasts: int, data: st.DataObject
) -> None:
    track = Track(Windows(hours), "", 0, {})
    booked: list[tuple[int, int]] = []
    for begin, length in wanted:
        if _inside(hours, begin, begin + length) and all(
            begin + length <= a or b <= begin for a, b in booked
        ):
            track.add((begin, begin + length, "", ""))
            booked.append((begin, begin + length))
    if booked and data.draw(st.sampled_from([0, 1])):
        gone = booked.pop(data.draw(st.integers(0, len(booked) - 1)))
        track.remove((*gone, "", ""))
    moment = data.draw(st.integers(0, END))
    free = [
        at
        for at in range(moment, END + 1)
        if _inside(hours, at, at + lasts) and all(at + lasts <= a or b <= at for a, b in booked)
    ]
    assert track.earliest(moment, lasts, "", "") == min(free, default=NEVER)


@settings(max_examples=150, deadline=None)
@given(
    pieces,
    st.lists(st.tuples(st.integers(0, END), st.integers(1, 9), st.booleans()), max_size=12),
    st.integers(0, END),
)
def test_what_is_free_is_known_after_bookings_come_and_go(
    hours: list[Interval], changes: list[tuple[int, int, bool]], moment: int
) -> None:
    """Also across pauses, where a booking goes on outside the hours."""
    track = Track(Windows(hours), "", 0, {})
    booked: list[tuple[int, int]] = []
    for begin, length, strike in changes:
        if strike and booked:
            track.remove((*booked.pop(begin % len(booked)), "", ""))
        elif all(begin + length <= a or b <= begin for a, b in booked):
            track.add((begin, begin + length, "", ""))
            booked.append((begin, begin + length))
    free = [
        at
        for at in range(END + 1)
        if _inside(hours, at, at + 1) and all(at + 1 <= a or b <= at for a, b in booked)
    ]
    told = [at for a, b in zip(track.free_from, track.free_until, strict=True) for at in range(a, b)]
    assert told == free
    assert track.idle(moment) == min((at for at in free if at >= moment), default=NEVER)


def test_drives_are_kept_before_and_after_and_across_visits_without_a_place() -> None:
    track = Track(Windows([Interval(0, 1000)]), "old", 0, {("old", "new"): 45, ("new", "old"): 45})
    track.add((100, 130, "old", "old"))
    track.add((300, 330, "new", "new"))
    assert track.earliest(0, 20, "new", "new") == 175
    assert track.earliest(110, 20, "old", "old") == 130
    assert track.earliest(240, 20, "old", "old") == 375
    assert track.earliest(0, 20, "old", "new") == 0
    track.add((140, 160, "", ""))
    assert track.earliest(130, 10, "new", "new") == 205


@settings(max_examples=100, deadline=None)
@given(
    st.lists(st.tuples(st.integers(0, 20), st.integers(1, 6), st.integers(1, 2)), max_size=6),
    st.integers(1, 4),
    st.integers(1, 3),
    st.data(),
)
def test_stock_is_counted_at_every_minute(
    uses: list[tuple[int, int, int]], lasts: int, number: int, data: st.DataObject
) -> None:
    stock = Stock(3)
    for begin, length, count in uses:
        stock.add(begin, begin + length, count)
    if uses and data.draw(st.sampled_from([0, 1])):
        begin, length, count = uses.pop()
        stock.add(begin, begin + length, -count)

    def fits(begin: int, end: int) -> bool:
        return all(sum(n for b, w, n in uses if b <= at < b + w) + number <= 3 for at in range(begin, end))

    moment = data.draw(st.integers(0, 25))
    assert stock.earliest(moment, lasts, number) == next(
        at for at in range(moment, 99) if fits(at, at + lasts)
    )
    assert stock.clear_from(moment, 60, number) == next(at for at in range(moment, 99) if fits(at, 60))
    stock.count = 3 - number
    short = (at for at in range(moment, 99) if not fits(at, at + 1))
    assert stock.short_from(moment) == next(short, NEVER)


@settings(max_examples=100, deadline=None)
@given(pieces, st.integers(1, 12), st.sampled_from([1, 2, 5]))
def test_ranges_of_starts_are_those_of_every_minute(hours: list[Interval], lasts: int, step: int) -> None:
    grid, windows = Grid(0, step), Windows(hours)
    numbers = {n for low, high in starts(grid, windows, lasts) for n in range(low, high + 1)}
    assert numbers == {n for n in range(END + 1) if _inside(hours, n * step, n * step + lasts)}
    found = {
        n * step: elapsed
        for elapsed, ranges in pausing_starts(grid, windows, lasts).items()
        for low, high in ranges
        for n in range(low, high + 1)
    }
    expected = {}
    for moment in range(0, END + 1, step):
        work = windows.walk(moment, lasts)
        if work and work[0][0] == moment:
            expected[moment] = work[-1][1] - moment
    assert found == expected


def test_ranges_are_joined_and_shared() -> None:
    assert joined([(4, 6), None, (0, 3), (9, 9)]) == [(0, 6), (9, 9)]
    assert shared([(0, 5), (8, 9)], [(3, 8)]) == [(3, 5), (8, 8)]


@settings(max_examples=100, deadline=None)
@given(st.lists(pieces, min_size=1, max_size=3), st.integers(0, END), st.integers(0, 30))
def test_hours_are_added_up_as_minute_by_minute(free: list[list[Interval]], first: int, minutes: int) -> None:
    hours = Hours([Windows(own) for own in free])
    there = [sum(_inside(own, at, at + 1) for own in free) for at in range(END)]
    for last in range(first, END + 1):
        assert hours.between(first, last) == sum(there[first:last])
    enough = [last for last in range(first, END + 1) if sum(there[first:last]) >= minutes]
    assert hours.when(first, minutes) == min(enough, default=None)


ranges = pieces.map(lambda found: [(piece.start, piece.finish - 1) for piece in found])


@settings(max_examples=200, deadline=None)
@given(ranges, ranges)
def test_the_ends_of_what_two_lists_share_are_those_of_the_whole(
    one: list[tuple[int, int]], other: list[tuple[int, int]]
) -> None:
    whole = shared(one, other)
    assert extent(one, other) == ((whole[0][0], whole[-1][1]) if whole else None)


@settings(max_examples=200, deadline=None)
@given(
    st.lists(st.tuples(st.integers(0, END), st.integers(1, END), st.integers(0, 9)), min_size=1, max_size=6),
    st.integers(1, 2),
)
def test_the_tightest_stretch_is_that_of_every_pair_of_a_first_start_and_a_last_finish(
    rows: list[tuple[int, int, int]], hands: int
) -> None:
    work = [(first, first + length, minutes, at) for at, (first, length, minutes) in enumerate(rows)]
    short = []
    for begin in {row[0] for row in work}:
        for end in {row[1] for row in work}:
            inside = [row for row in work if begin <= row[0] and row[1] <= end]
            total, there = sum(row[2] for row in inside), hands * max(0, end - begin)
            if total > there:
                short.append((begin, end, sorted(row[3] for row in inside), total, there))
    found = tightest(work, Crowd(hands))
    assert (found is None) is (not short)
    if found is not None:
        assert found[1] - found[0] == min(end - begin for begin, end, *_ in short)
        assert (*found[:2], sorted(found[2]), *found[3:]) in short
