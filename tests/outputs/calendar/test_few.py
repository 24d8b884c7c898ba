"""Who has too many events is named, whoever they are."""

from __future__ import annotations

import pytest

from tests.outputs.calendar.few import A_DAY_MORE, HELPS, LEADS, household, too_many

HOME = household("ines", ["nell"])


@pytest.mark.parametrize("person", ["ines", "nell"])
def test_a_household_may_have_many_events_and_one_more_is_told(person: str) -> None:
    assert list(too_many({person: LEADS}, HOME, 1)) == []
    assert list(too_many({person: LEADS + 1}, HOME, 1)) == [f"{person}: {LEADS + 1} events, not 1 to {LEADS}"]
    assert list(too_many({person: LEADS + A_DAY_MORE}, HOME, 2)) == []
    assert len(list(too_many({person: LEADS + A_DAY_MORE + 1}, HOME, 2))) == 1


def test_a_helper_may_have_few_events_and_one_more_is_told() -> None:
    assert list(too_many({"tom": HELPS}, HOME, 2)) == []
    assert list(too_many({"tom": HELPS + 1}, HOME, 2)) == ["tom: 5 events, not 1 to 4"]
    assert list(too_many({"tom": HELPS + 1}, HOME, 1, {"tom": 5})) == []
    assert list(too_many({"tom": HELPS + 2}, HOME, 1, {"tom": 5})) == ["tom: 6 events, not 1 to 5"]


def test_a_calendar_without_any_event_is_told() -> None:
    assert list(too_many({"tom": 0}, HOME, 1)) == ["tom: 0 events, not 1 to 4"]
