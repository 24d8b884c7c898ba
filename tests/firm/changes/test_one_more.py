"""A job without a day: all of its own days are tried before it is said, and no plan's window is left by an offer."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta
from pathlib import Path
from unittest.mock import patch

import yaml

from moveplan.firm import dispatch
from moveplan.firm.dispatch import outlook_of
from moveplan.firm.placing.one_job import Unplaced
from moveplan.firm.words import reasons_of
from tests.firm.firms import EXAMPLES, SETTINGS, copied, too_many

ONE_JOB = ("  - {plan: jobs/late_call.yaml, day: 2027-05-08}\n", "")
A_WINDOW = (
    "day: 2027-05-08, promised: yes, promise-price: 150",
    "window: 2027-05-08 to 2027-05-19",
)


def window(job: str) -> tuple[date, date]:
    text = yaml.safe_load((EXAMPLES / "jobs" / f"{job}.yaml").read_text("utf-8"))["dates"]["move-window"]
    first, last = (date.fromisoformat(one) for one in text.split(" to "))
    return first, last


def test_a_promised_job_is_asked_for_another_day_of_its_own_plan() -> None:
    (left,) = too_many().left
    (asked,) = left.asks
    first, last = window(asked.job)
    assert first == asked.promised == date(2027, 5, 8)
    assert first < asked.instead <= last


def test_days_that_its_plan_does_not_allow_are_offered_with_the_line_to_change() -> None:
    """The plan of the late call allows one day alone, which is taken."""
    (left,) = too_many().left
    assert window("late_call") == (date(2027, 5, 8), date(2027, 5, 8))
    assert left.days
    assert left.beyond.endswith("late_call.yaml:14 dates.move-window")
    (said,) = (one.remedy for one in reasons_of(too_many()) if "late_call has no day" in one.message)
    assert f"which its plan does not allow yet (change {left.beyond})" in said


def test_every_day_of_a_window_is_tried_before_a_job_has_no_day_and_none_of_them_would_do(
    tmp_path: Path,
) -> None:
    path = copied(tmp_path, ONE_JOB, A_WINDOW)
    tried: list[date] = []

    def fails(*given: object) -> Unplaced:
        sent = given[5]
        tried.append(sent.day)  # type: ignore[attr-defined]
        return Unplaced("garden_flat", sent.day, "schedule")  # type: ignore[attr-defined]

    with patch.object(dispatch, "laid", fails):
        outlook = outlook_of(path, SETTINGS)
    days = {date(2027, 5, 8) + timedelta(days=n) for n in range(12)}
    assert Counter(tried) == Counter(days)
    (left,) = outlook.left
    assert not left.untried
    assert not days & set(left.days)
    (said,) = (one.message for one in reasons_of(outlook))
    assert said.count("it was scheduled in full") == 1
    assert all(str(day) in said for day in days)
