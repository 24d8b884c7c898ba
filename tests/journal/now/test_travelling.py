"""How many animals are left in each container, whatever was lost and found again in whatever order."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from moveplan.journal.now.travelling import left_in
from moveplan.journal.records import Accepted, Counted
from moveplan.journal.state import state_of
from tests.journal.builders import T0, entries, snapshot

STAY = replace(snapshot().stays[0], containers=(("B1", 1), ("B2", 2)))


@given(st.lists(st.tuples(st.sampled_from(("", "B1", "B2", "B9")), st.sampled_from((1, -1))), max_size=12))
def test_the_last_word_counts_and_none_is_found_that_was_not_lost(said: list[tuple[str, int]]) -> None:
    before = left_in(STAY, ())
    assert before == {"B1": 1, "B2": 2}
    for at, (number, net) in enumerate(said, start=1):
        after = left_in(STAY, said[:at])
        total = sum(before.values())
        assert sum(after.values()) == min(max(total - net, 0), 3)
        if before.get(number, 0) >= net and sum(after.values()) != total and number in before:
            assert after == before | {number: before[number] - net}
        before = after


def test_records_count_in_the_order_of_time_and_a_new_schedule_knows_of_those_before() -> None:
    def counted(at: int, change: int) -> Counted:
        return Counted(at=T0 + at, group="clowns", change=change, container="B1")

    rows = (counted(30, -1), counted(20, 1), counted(10, -1))
    assert state_of(entries(*rows)).lost == {"clowns": (("B1", 1), ("B1", -1), ("B1", 1))}
    accepted = Accepted(at=T0 + 40, schedule={})
    assert state_of(entries(*rows, accepted, rows[0])).lost == {"clowns": (("B1", 1),)}
