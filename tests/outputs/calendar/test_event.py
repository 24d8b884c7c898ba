from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from moveplan.network.link import Relation
from moveplan.network.task import State
from moveplan.outputs.calendar.event import Alarm, Days, Event, Successor, Timed, ToDo, Words
from tests.outputs.calendar.scene import DUBLIN

DAY = date(2027, 3, 1)
DAYS = Days(DAY, date(2027, 3, 2))

REFUSED: list[tuple[Callable[[], object], str]] = [
    (lambda: Timed(5, 5, DUBLIN), "an event must end after its start, not run from 5 to 5"),
    (lambda: Days(DAY, DAY), "a span of days must end after its first day, not run from 2027-03-01 to 2027-03-01"),
    (lambda: Words(""), "an event needs a title"),
    (lambda: Alarm("x@y", 5), "'x@y' is no UID: letters, digits and hyphens, fewer than 255"),
    (lambda: Alarm("x", -5), "an alarm must not come after the start (-5 min)"),
    (lambda: Successor("", Relation.FINISHTOSTART, 0), "'' is no UID: letters, digits and hyphens, fewer than 255"),
    (lambda: Event(key="k", uid="u" * 255, when=DAYS, words=Words("a")),
     f"'{'u' * 255}' is no UID: letters, digits and hyphens, fewer than 255"),
    (lambda: Event(key="k", uid="u", when=DAYS, words=Words("a"), busy=True),
     "k: whole days neither block time nor ring"),
    (lambda: Event(key="k", uid="u", when=DAYS, words=Words("a"), alarm=Alarm("a", 0)),
     "k: whole days neither block time nor ring"),
    (lambda: ToDo(key="k", uid="u", due=DAY, words=Words("a"), state=State.COMPLETED),
     "k: a time of completion goes with COMPLETED and with nothing else"),
    (lambda: ToDo(key="k", uid="u", due=DAY, words=Words("a"), completed=5),
     "k: a time of completion goes with COMPLETED and with nothing else"),
]  # fmt: skip


@pytest.mark.parametrize(("make", "message"), REFUSED)
def test_what_readers_would_choke_on_is_refused(make: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError) as caught:
        make()

    assert str(caught.value) == message
