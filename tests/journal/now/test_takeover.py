"""Who takes over where somebody is not there."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from moveplan.journal.file.kept import snapshot_data, snapshot_of
from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.now.next_up import next_up
from moveplan.journal.now.takeover import TakenOver, taken_over
from moveplan.journal.records import Back, Begun, Done, Out, Record
from moveplan.journal.state import state_of
from moveplan.network.task import Kind
from tests.journal.builders import T0, entries, planned, snapshot

DAY = date(2027, 3, 13)
TOM = Out(at=T0, person="tom", first=DAY, last=DAY)


def _crew() -> Snapshot:
    """Three people on one day: Ines cares and drives, Tom lifts and drives, Ada lifts."""
    return replace(
        snapshot(),
        people={"ines": "Ines Farrow", "tom": "Tomas Reddy", "ada": "Ada Hill"},
        skills={"ines": ("cares", "drives"), "tom": ("lifts", "drives"), "ada": ("lifts",)},
        tasks=(
            planned("draw-water", 0, 30, people=("ines",), hands=1, number=1),
            planned("carry-tank", 30, 60, people=("tom", "ada"), hands=2, needs=(("lifts", 2),), number=2),
            planned("rest-tom", 90, 20, kind=Kind.REST, people=("tom",), hands=1, number=3),
            planned(
                "drive-van",
                110,
                45,
                kind=Kind.TRAVEL,
                people=("tom",),
                hands=1,
                needs=(("drives", 1),),
                number=4,
            ),
            planned("fill-tank", 110, 40, people=("tom", "ines"), hands=2, needs=(("cares", 1),), number=5),
            planned("wash-gear", 200, 30, people=("tom",), hands=1, number=6),
            planned("return-van", 1600, 30, people=("tom",), hands=1, number=7),
        ),
        stays=(),
        waits={"drive-van": ("rest-tom",)},
    )


def _rows(*records: Record, now: int = T0) -> tuple[Snapshot, dict[str, TakenOver]]:
    there, rows = taken_over(_crew(), state_of(entries(*records)), now)
    return there, {row.task.id: row for row in rows}


def test_where_everybody_is_there_nothing_changes() -> None:
    assert taken_over(_crew(), state_of(()), T0) == (_crew(), ())


def test_who_has_the_skill_takes_over_and_who_is_missing_is_said() -> None:
    there, rows = _rows(TOM)
    assert rows["drive-van"].joins == ("ines",)
    assert not rows["drive-van"].cannot
    carry = rows["carry-tank"]
    assert (carry.task.people, carry.lacks, carry.cannot) == (("ada", "ines"), (("lifts", 1),), True)
    assert rows["wash-gear"].task.people == ("ada",)
    assert "rest-tom" not in {task.id for task in there.tasks}
    assert "return-van" not in rows  # the day after he is there again


def test_fewer_hands_take_longer() -> None:
    only_two = replace(_crew(), people={"ines": "Ines Farrow", "tom": "Tomas Reddy"})
    _, rows = taken_over(only_two, state_of(entries(TOM)), T0)
    fill = next(row for row in rows if row.task.id == "fill-tank")
    assert (fill.task.people, fill.planned, fill.task.minutes) == (("ines",), 2, 80)
    assert fill.task.finish - fill.task.start == 80


def test_nobody_is_left_for_what_only_one_can_do() -> None:
    ines = Out(at=T0, person="ines", first=DAY, last=DAY)
    ada = Out(at=T0, person="ada", first=DAY, last=DAY)
    _, rows = _rows(TOM, ines, ada)
    assert rows["drive-van"].task.people == ()
    assert rows["drive-van"].cannot


def test_what_is_done_stays_with_who_did_it_and_what_runs_goes_on_without() -> None:
    there, rows = _rows(
        Begun(at=T0, task="carry-tank"), Done(at=T0 + 30, task="draw-water"), TOM, now=T0 + 40
    )
    assert "draw-water" not in rows
    assert "tom" not in rows["carry-tank"].task.people
    found = next_up(_crew(), state_of(entries(Begun(at=T0, task="carry-tank"), TOM)), T0 + 40)
    assert found.turns
    today = [turn for turn in found.turns if turn.person == "tom"]
    assert [turn.item.task.id for turn in today] == ["return-van"]
    assert there.task("return-van") == _crew().task("return-van")


def test_skills_come_back_from_the_journal() -> None:
    again = snapshot_of(snapshot_data(_crew()), "journal")
    rows = [taken_over(one, state_of(entries(TOM)), T0)[1] for one in (again, _crew())]
    assert rows[0] == rows[1]


def test_what_somebody_began_in_place_of_another_stays_theirs_when_that_one_is_back() -> None:
    begun = Begun(at=T0 + 20, task="wash-gear")
    back = Back(at=T0 + 40, person="tom", first=DAY, last=DAY)
    for records in ((TOM, begun), (TOM, begun, back)):
        there, rows = _rows(*records, now=T0 + 50)
        task = there.task("wash-gear")
        assert task is not None
        assert task.people == ("ada",)
        assert ("wash-gear" in rows) == (back not in records)  # nothing is said of who is there
    assert rows == {}  # what has not begun is Tom's again
    drive = there.task("drive-van")
    assert drive is not None
    assert drive.people == ("tom",)
    late = Begun(at=T0 + 45, task="wash-gear")
    assert _rows(TOM, back, late, now=T0 + 50)[1] == {}  # begun when he was back
    found = next_up(_crew(), state_of(entries(TOM, begun, back)), T0 + 50)
    first = {turn.person: turn.item.task.id for turn in found.first}
    assert first["ada"] == "wash-gear"
    assert first["tom"] != "wash-gear"


def test_who_took_something_over_and_falls_out_too_leaves_it_to_the_others() -> None:
    begun, ada = Begun(at=T0 + 20, task="wash-gear"), Out(at=T0 + 30, person="ada", first=DAY, last=DAY)
    _, rows = _rows(TOM, begun, ada, now=T0 + 50)
    assert rows["wash-gear"].task.people == ("ines",)


def test_who_is_back_joins_what_was_begun_without_a_skill_that_it_needs() -> None:
    """Ada and Ines carry the tank, of whom only Ada lifts: Tom, who is back, lifts with them."""
    begun = Begun(at=T0 + 30, task="carry-tank")
    back = Back(at=T0 + 40, person="tom", first=DAY, last=DAY)
    there, rows = _rows(TOM, begun, back, now=T0 + 50)
    carry = there.task("carry-tank")
    assert carry is not None
    assert carry.people == ("ada", "ines", "tom")
    assert rows == {}
