from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.errors import PlanFileError
from moveplan.journal.file.snapshot import Tie
from moveplan.journal.now.failure import Failed, Works
from moveplan.journal.records import (
    Begun,
    Counted,
    Done,
    Dropped,
    Met,
    Note,
    Out,
    Reading,
    Record,
    Shut,
    Vehicle,
)
from moveplan.journal.state import state_of
from moveplan.journal.taking.known import day_in, days_in, known_of, minutes_in, moment_in
from moveplan.journal.taking.vetting import NotSignedError, undo_of, vetted
from moveplan.network.task import Kind
from tests.journal.builders import DAY, T0, ZONE, entries, known, planned, snapshot

HOLD = "water-matched-reef"
BEGUN = Begun(at=T0, task="draw-water")
DONE = Done(at=T0 + 20, task="draw-water")
DRIVEN = Done(at=T0 - 10, task="drive-van")


def _warm(value: float, at: int = T0) -> Reading:
    return Reading(at=at, what="temperature", value=value, unit="°C", said=f"{value:g} C")


@pytest.mark.parametrize(
    ("before", "record", "message"),
    [
        (
            (),
            Begun(at=T0 + 101, task="draw-water"),
            "Sat 13 Mar 2027 09:41 is in the future, it is Sat 13 Mar 2027 09:40; record it when it has "
            "happened, or give the moment that counts as now with --now",
        ),
        ((), Begun(at=T0, task="draw-watter"), 'there is no task "draw-watter"; did you mean draw-water?'),
        (
            (BEGUN, DONE),
            DONE,
            "“1. Draw water” is done since Sat 13 Mar 2027 08:20; undo that record first if it is wrong: "
            "moveplan record PLAN undo",
        ),
        (
            (BEGUN,),
            BEGUN,
            "“1. Draw water” was begun at Sat 13 Mar 2027 08:00; undo that record first if it is wrong: "
            "moveplan record PLAN undo",
        ),
        (
            (BEGUN,),
            Done(at=T0 - 5, task="draw-water"),
            "“1. Draw water” cannot be done at Sat 13 Mar 2027 07:55, it was begun at "
            "Sat 13 Mar 2027 08:00; give the real end with --at",
        ),
        (
            (DONE,),
            Dropped(at=T0 + 30, task="draw-water", reason="why not"),
            "“1. Draw water” is done since Sat 13 Mar 2027 08:20; undo that record first if it is wrong: "
            "moveplan record PLAN undo",
        ),
        (
            (),
            Done(at=T0, task=HOLD),
            "“4. Water matched reef” is a hold point; somebody has to sign it; moveplan record PLAN met 4 --by NAME",
        ),
        (
            (),
            Met(at=T0, task="draw-water", by="Ines"),
            "“1. Draw water” is no hold point, nobody has to sign it; moveplan record PLAN done 1",
        ),
        (
            (),
            Met(at=T0, task=HOLD, by=" "),
            "“4. Water matched reef” needs a name; say who signs with --by NAME",
        ),
        (
            (),
            Done(at=T0, task="daily-look", time=4),
            "“6. Daily look” happens 3 times, there is no time 4; write a number from 1 to 3",
        ),
        (
            (Done(at=T0, task="daily-look", time=2),),
            Done(at=T0, task="daily-look", time=2),
            "time 2 of “6. Daily look” is done; nothing has to be logged",
        ),
        (
            (),
            Out(at=T0, person="tim", first=day_in("2027-03-13"), last=day_in("2027-03-13")),
            'there is no person "tim"; did you mean tom?',
        ),
        ((), Vehicle(at=T0, vehicle="lorry", payload_kg=1.0), 'there is no vehicle "lorry"; there are van'),
        (
            (),
            Counted(at=T0, group="clown", change=-1),
            'there is no group of animals "clown"; did you mean clowns?',
        ),
    ],
)
def test_what_cannot_be_true_is_refused(before: tuple[Record, ...], record: Record, message: str) -> None:
    with pytest.raises(PlanFileError) as error:
        vetted(record, state_of(entries(*before)), known(), T0 + 100)
    assert str(error.value) == message


@pytest.mark.parametrize(
    ("readings", "lack"),
    [
        ((), "temperature must be 24 to 27 °C; it was not read yet"),
        ((_warm(23.0),), "temperature must be 24 to 27 °C; the last reading is 23 C"),
        (
            (_warm(25.0, T0 - 800),),
            "temperature must be 24 to 27 °C; the last reading (25 C) is older than 12 h",
        ),
        ((_warm(25.0), _warm(28.0, T0 + 1)), "temperature must be 24 to 27 °C; the last reading is 28 C"),
    ],
)
def test_a_hold_point_with_limits_stays_shut(readings: tuple[Reading, ...], lack: str) -> None:
    state = state_of(entries(DRIVEN, *readings))
    with pytest.raises(NotSignedError) as error:
        vetted(Met(at=T0 + 10, task=HOLD, by="Ines"), state, known(), T0 + 100)
    assert error.value.exit_status == 1
    assert str(error.value) == (
        f"“4. Water matched reef” stays shut: {lack}. Log what shows that the limit is kept, such as “moveplan "
        "record PLAN read temperature VALUE”, or say with --reason why it is opened all the same; the reason is "
        "printed from then on."
    )
    reasoned = Met(at=T0 + 10, task=HOLD, by="Ines", reason="second meter agrees")
    assert vetted(reasoned, state, known(), T0 + 100) == Met(
        at=T0 + 10, task=HOLD, by="Ines", reason="second meter agrees", lacking=(lack,)
    )


def test_a_hold_point_whose_readings_keep_the_limits_is_signed() -> None:
    met = Met(at=T0 + 10, task=HOLD, by="Ines")
    assert vetted(met, state_of(entries(DRIVEN, _warm(25.0))), known(), T0 + 100) == met


def test_a_hold_point_is_not_met_before_what_it_waits_for_save_for_a_reason() -> None:
    met = Met(at=T0 + 10, task=HOLD, by="Ines")
    with pytest.raises(
        NotSignedError, match=r"“4. Water matched reef” cannot be met yet: “3. Drive van” must come before it"
    ):
        vetted(met, state_of(entries(_warm(25.0))), known(), T0 + 100)
    reasoned = replace(met, reason="the van came by itself")
    assert vetted(reasoned, state_of(entries(_warm(25.0))), known(), T0 + 100) == replace(
        reasoned, but=("drive-van",)
    )


def test_nothing_passes_a_hold_point_that_was_not_met_save_for_a_reason() -> None:
    release = Begun(at=T0 + 10, task="release-fish")
    with pytest.raises(
        NotSignedError,
        match=r"“5. Release fish” cannot be begun yet: “4. Water matched reef” must come before it",
    ):
        vetted(release, state_of(entries(DRIVEN)), known(), T0 + 100)
    reasoned = replace(release, reason="they gasp")
    assert vetted(reasoned, state_of(entries(DRIVEN)), known(), T0 + 100) == replace(reasoned, but=(HOLD,))


def test_a_press_against_a_wait_leaves_what_it_cut_short_and_its_reason() -> None:
    gap = Tie("draw-water", "catch-fish", gap_min=60)
    waits = known_of(replace(snapshot(), waits={"catch-fish": ("draw-water",)}, gaps=(gap,)))
    begun = Begun(at=T0 + 40, task="catch-fish", reason="recorded on the page")
    state = state_of(entries(DONE))
    assert vetted(begun, state, waits, T0 + 100) == replace(begun, but=("wait:draw-water:40",))
    assert vetted(replace(begun, at=T0 + 80), state, waits, T0 + 100) == Begun(at=T0 + 80, task="catch-fish")
    asked = "” cannot be begun yet: a wait before it runs until Sat 13 Mar 2027 09:20. Begin it then"
    with pytest.raises(NotSignedError, match=asked):
        vetted(replace(begun, reason=""), state, waits, T0 + 100)


def test_a_lid_is_closed_once_what_fills_its_container_has_begun_save_for_a_but_or_a_reason() -> None:
    """Before that the container is empty; where a hold point stands before it, nothing may be put in yet."""
    shut = Shut(at=T0 + 40, container="B1", reason="recorded on the page")
    begun = Begun(at=T0 + 30, task="catch-fish")
    assert vetted(shut, state_of(()), known(), T0 + 100) == replace(shut, but=("catch-fish",))
    for before in ((begun,), (replace(begun, at=T0 + 40),), (Done(at=T0 + 50, task="catch-fish"),)):
        for record in (shut, replace(shut, container="", group="clowns")):
            assert vetted(record, state_of(entries(*before)), known(), T0 + 100) == replace(record, reason="")
    late = state_of(entries(replace(begun, at=T0 + 60)))
    assert vetted(shut, late, known(), T0 + 100) == replace(shut, but=("catch-fish",))
    gated = known_of(replace(snapshot(), waits={"catch-fish": (HOLD,)}))
    with pytest.raises(
        NotSignedError,
        match=r"B1 cannot be closed yet: “2. Catch fish” fills it, and “4. Water matched reef” must come",
    ):
        vetted(replace(shut, reason=" "), state_of(()), gated, T0 + 100)
    assert vetted(shut, state_of(()), gated, T0 + 100) == replace(shut, but=("catch-fish", HOLD))


def test_an_ordinary_end_carries_no_reason() -> None:
    pressed = replace(DONE, reason="recorded on the page")
    assert vetted(pressed, state_of(entries(BEGUN)), known(), T0 + 100) == DONE


def test_what_is_done_before_work_that_should_come_first_is_recorded_with_a_but() -> None:
    order = replace(snapshot(), waits={"catch-fish": ("draw-water",)})
    done = Done(at=T0 + 10, task="catch-fish")
    assert vetted(done, state_of(()), known_of(order), T0 + 100) == replace(done, but=("draw-water",))
    assert vetted(done, state_of(entries(DONE)), known_of(order), T0 + 100).at == done.at


LAID = replace(
    snapshot(),
    waits={"catch-fish": ("draw-water",), "drive-van": ("catch-fish",)},
    tasks=tuple(replace(task, day="move") for task in snapshot().tasks),
)


@pytest.mark.parametrize(
    ("record", "before", "doubt"),
    [
        (
            Done(at=T0 - 2 * DAY, task="daily-look", time=1),
            (),
            "more than a day before now, Sat 13 Mar 2027 09:40",
        ),
        (
            Begun(at=T0 - DAY - 5, task="draw-water"),
            (),
            "now, Sat 13 Mar 2027 09:40, and 1 day before it",
        ),
        (
            Begun(at=T0 + 10, task="catch-fish"),
            (DONE,),
            "It is before “1. Draw water”, which it waits for and which was",
        ),
        (Done(at=T0 + 10, task="drive-van"), (DONE,), "was recorded at Sat 13 Mar 2027 08:20"),
    ],
)
def test_a_typed_moment_that_may_be_a_slip_wants_a_reason(
    record: Begun | Done, before: tuple[Record, ...], doubt: str
) -> None:
    state, all_known = state_of(entries(*before)), known_of(LAID)
    with pytest.raises(NotSignedError) as error:
        vetted(record, state, all_known, T0 + 100, typed=True)
    assert doubt in str(error.value)
    assert "with --reason why it is so" in str(error.value)
    sure = vetted(replace(record, reason="so it was"), state, all_known, T0 + 100, typed=True)
    assert isinstance(sure, (Begun, Done))
    assert (sure.at, sure.reason) == (record.at, "so it was")
    assert vetted(record, state, all_known, T0 + 100).at == record.at  # a clock said it


def test_a_typed_moment_of_today_is_taken_and_days_before_where_they_are_meant() -> None:
    state = state_of(entries(DONE))
    for record in (Begun(at=T0 + 20, task="catch-fish"), Done(at=T0 + 60, task="drive-van")):
        assert vetted(record, state, known_of(LAID), T0 + 100, typed=True).at == record.at
    old = Done(at=T0 - DAY, task="draw-water")
    assert vetted(old, state_of(()), known_of(LAID), T0 + 5 * DAY, typed=True, past=True) == old


def test_undo_takes_the_last_record_that_counts() -> None:
    rows = entries(Note(at=T0, text="a"), Note(at=T0, text="b"))
    assert undo_of(None, rows, T0).line == 2
    assert undo_of(1, rows, T0).line == 1
    with pytest.raises(PlanFileError, match="line 9 of the journal is no record"):
        undo_of(9, rows, T0)
    with pytest.raises(PlanFileError, match="there is nothing to undo"):
        undo_of(None, (), T0)


@pytest.mark.parametrize("text", ["", "2027-03-13", "tomorrow", "13.3.2027 08:00", "0001-01-01T00:00"])
def test_moments_that_are_none(text: str) -> None:
    with pytest.raises(PlanFileError):
        moment_in(text, ZONE)


def test_days_and_durations() -> None:
    assert days_in("2027-02-13")[0] == days_in("2027-02-13")[1]
    assert minutes_in("50 min") == 50
    for bad in ("2027-2-13", "2027-02-14 to 2027-02-13", "13.02.2027"):
        with pytest.raises(PlanFileError):
            days_in(bad)
    with pytest.raises(PlanFileError, match=r'"50" has no unit; write "50 min" or "50 h"'):
        minutes_in("50")


VAN_FAILED = Failed(at=T0 + 5, what="vehicle", name="van")


def test_a_drive_with_a_van_that_failed_wants_it_to_work_again_or_a_reason() -> None:
    broken = state_of(entries(VAN_FAILED))
    begun = Begun(at=T0 + 10, task="drive-van")
    with pytest.raises(
        NotSignedError, match=r"“3. Drive van” waits: Hired van failed at .*“moveplan record PLAN works van”"
    ):
        vetted(begun, broken, known(), T0 + 20)
    kept = vetted(replace(begun, reason="another one came"), broken, known(), T0 + 20)
    assert kept == replace(begun, reason="another one came", but=("vehicle:van",))
    again = state_of(entries(VAN_FAILED, Works(at=T0 + 8, what="vehicle", name="van")))
    assert vetted(begun, again, known(), T0 + 20) == begun
    early = replace(begun, at=T0)
    assert vetted(early, broken, known(), T0 + 20) == early
    other = Begun(at=T0 + 10, task="draw-water")
    assert vetted(other, broken, known(), T0 + 20) == other


def test_nothing_waits_for_a_break_of_somebody_who_is_not_there() -> None:
    """A hold point after everybody's breaks is signed without that of who is out, and what follows leaves no doubt."""
    plan = snapshot()
    rest = planned("pause-tom", 200, 20, kind=Kind.REST, people=("tom",), number=7)
    waits = {**plan.waits, HOLD: (*plan.waits[HOLD], rest.id)}
    of = known_of(replace(plan, tasks=(*plan.tasks, rest), waits=waits))
    met, day = Met(at=T0 + 10, task=HOLD, by="Ines"), day_in("2027-03-13")
    with pytest.raises(NotSignedError, match="must come before it"):
        vetted(met, state_of(entries(DRIVEN, _warm(25.0))), of, T0 + 100)
    out = Out(at=T0 + 5, person="tom", first=day, last=day)
    assert vetted(met, state_of(entries(DRIVEN, out, _warm(25.0))), of, T0 + 100) == met
