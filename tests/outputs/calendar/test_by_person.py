"""Calendars for people: the evenings, moving days, decisions, waits and the daily care of an invented move."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any

import icalendar
import pytest
import recurring_ical_events

from moveplan.crew.pages import calendars_of
from moveplan.network.task import Kind, Repeat, State
from moveplan.outputs.calendar.by_person import people_of
from moveplan.outputs.calendar.event import Daily, Days, Event, Status, Timed, Words
from moveplan.outputs.calendar.export import CalendarExport, calendar_bytes
from moveplan.outputs.calendar.options import CalendarOptions
from moveplan.outputs.outlook import Outlook
from moveplan.scheduling.problem import Person
from tests.outputs.calendar.rules import faults, faults_between, parsed
from tests.outputs.calendar.scene import DAY, DUBLIN, Item, at, item, moving, outlook

INES = CalendarOptions().for_person("ines", "ines")
TOM = CalendarOptions().for_person("tom", "ines")


def export(seen: Outlook, options: CalendarOptions, before: CalendarExport | None = None) -> CalendarExport:
    made = calendar_bytes(seen, before.data if before else None, options)
    assert faults(made.data) == []
    if before:
        assert faults_between(before.data, made.data, datetime.fromtimestamp(seen.now * 60, UTC)) == []
    return made


def events(made: CalendarExport) -> dict[str, Any]:
    return {str(one["X-MOVEPLAN-KEY"]): one for one in icalendar.Calendar.from_ical(made.data).walk("VEVENT")}


def test_each_sees_their_own_and_the_one_who_leads_the_waits() -> None:
    assert set(events(export(outlook(), INES))) == {
        "ines:session:mix-water/1",
        "ines:decision:go-or-no-go/1",
        "ines:wait:let-stand/1",
        "ines:care:1",
    }
    assert set(events(export(outlook(), TOM))) == {
        "tom:day:drive/1",
        "tom:session:mix-water/1",
        "tom:session:pack-trays/1",
        "tom:session:pack-trays/2",
    }


def test_each_time_of_what_changes_hands_is_with_whoever_does_it() -> None:
    test = item("test", "2027-03-01 18:00", 20, people=("ines", "tom"), repeats=Repeat(7 * DAY, 2, 720))
    seen = outlook([replace(test, stretches=tuple(test.moved(n * 7 * DAY).stretches[0] for n in range(2)))])
    placed = replace(seen.schedule.placements[0], segment_people=(("ines",), ("tom",)))
    seen = replace(seen, schedule=replace(seen.schedule, placements=(placed,)))
    assert set(events(export(seen, INES))) == {"ines:session:test/1"}
    assert set(events(export(seen, TOM))) == {"tom:session:test/2"}
    assert events(export(seen, TOM))["tom:session:test/2"]["DTSTART"].dt.day == 8


def test_who_leads_comes_first_and_who_does_nothing_gets_none() -> None:
    assert people_of(outlook()) == ("ines", "tom")
    assert people_of(outlook([item("wash", "2027-03-01 18:00", 40, people=("ines",))])) == ("ines",)
    assert people_of(outlook([item("wash", "2027-03-01 18:00", 40, people=("tom",))])) == ()
    people = tuple(replace(one, lead=one.id == "tom") for one in outlook().project.plan.people)
    assert people_of(outlook(people=people)) == ("tom", "ines")


def test_the_crew_subscribes_to_the_calendars_for_people() -> None:
    made = calendars_of(outlook())
    assert list(made) == ["ines", "tom"]
    assert made["tom"] == calendar_bytes(outlook(), None, TOM).data


def test_an_evening_is_one_event_with_its_list() -> None:
    rows = [
        item("wash", "2027-03-01 18:00", 40, people=("ines",), steps=("Rinse it",)),
        item("count", "2027-03-01 18:40", 20, people=("ines", "tom")),
        item("label", "2027-03-01 20:30", 20, people=("ines",)),
        item("morning", "2027-03-01 09:00", 20, people=("ines",)),
    ]
    found = events(export(outlook(rows), INES))
    assert set(found) == {"ines:session:wash/1", "ines:session:morning/1"}
    evening = found["ines:session:wash/1"]
    assert (evening["DTSTART"].dt.hour, evening["DTEND"].dt.strftime("%H:%M")) == (18, "20:50")
    assert evening["SUMMARY"] == "Wash, and 2 more tasks"
    assert "18:40 Count (with Tom Reilly)" in evening["DESCRIPTION"]
    assert "- Rinse it" in evening["DESCRIPTION"]
    assert len(evening.walk("VALARM")) == 1


def test_work_that_goes_on_at_once_is_one_event_across_noon() -> None:
    rows = [
        item("wash", "2027-03-01 10:00", 110, people=("ines",)),
        item("count", "2027-03-01 12:10", 20, people=("ines",)),
        item("label", "2027-03-01 13:30", 20, people=("ines",)),
    ]
    found = events(export(outlook(rows), INES))
    assert set(found) == {"ines:session:wash/1", "ines:session:label/1"}


def test_a_moving_day_is_one_event_with_the_run_sheet() -> None:
    found = events(export(outlook(), TOM))["tom:day:drive/1"]
    assert found["SUMMARY"] == "Moving day: Reef to Harbour Lane"
    notes = str(found["DESCRIPTION"])
    assert notes.startswith("Meet at 11:00, Mill Terrace, 3 Mill Terrace, Ballycove.\n")
    assert "11:00 Drive, to Harbour Lane" in notes
    assert found["LOCATION"] == "Mill Terrace, 3 Mill Terrace, Ballycove"
    quiet = calendar_bytes(outlook(), None, replace(TOM, addresses=False)).data
    assert b"Ballycove" not in quiet


def test_what_is_done_in_the_midst_of_a_moving_day_belongs_to_it() -> None:
    rows = [
        item("load", "2027-03-13 08:00", 60, people=("ines",), day="move"),
        item("drain", "2027-03-13 10:00", 30, people=("ines",)),
        item("unload", "2027-03-13 12:00", 60, people=("ines",), day="move"),
        item("wash", "2027-03-13 18:00", 60, people=("ines",)),
    ]
    found = events(export(outlook(rows), INES))
    assert set(found) == {"ines:day:load/1", "ines:session:wash/1"}
    assert "10:00 Drain\n" in found["ines:day:load/1"]["DESCRIPTION"]


def test_short_jobs_done_alone_in_the_evening_share_an_event_and_so_do_those_by_day() -> None:
    rows = [
        item("measure", "2027-03-01 18:00", 20, people=("ines",), steps=("Read pH",)),
        item("order", "2027-03-03 19:40", 40, people=("ines",)),
        item("count", "2027-03-06 09:00", 30, people=("ines",)),
        item("carry", "2027-03-05 18:00", 20, people=("ines", "tom")),
        item("sign", "2027-03-08 18:00", 10, people=("ines",), kind=Kind.HOLD_POINT),
        item("long", "2027-03-09 18:00", 50, people=("ines",)),
        item("drive", "2027-03-13 11:00", 50, people=("ines",), day="move"),
        item("wash", "2027-03-14 18:00", 20, people=("ines",)),
    ]
    made = export(outlook(rows), INES)
    found = events(made)
    assert set(found) == {
        "ines:small:0:evening",
        *(f"ines:session:{name}/1" for name in ("count", "carry", "sign", "long", "wash")),
        "ines:day:drive/1",
    }
    small = found["ines:small:0:evening"]
    assert (small["DTSTART"].dt.hour, small["RRULE"]["COUNT"]) == (18, [3])
    assert [one.dt.day for one in small["EXDATE"].dts] == [2]
    assert small["TRANSP"] == "TRANSPARENT"
    assert len(small.walk("VALARM")) == 1
    notes = str(small["DESCRIPTION"])
    assert "Mon 1 Mar, 18:00 Measure\n- Read pH\n" in notes
    assert "Wed 3 Mar, 19:40 Order\n" in notes
    more = events(export(outlook([*rows, item("try", "2027-03-07 15:30", 30, people=("ines",))]), INES))
    assert "ines:session:count/1" not in more
    by_day = more["ines:small:0:day"]
    assert (by_day["DTSTART"].dt.hour, by_day["RRULE"]["COUNT"]) == (9, [2])
    assert "Sun 7 Mar, 15:30 Try\n" in str(by_day["DESCRIPTION"])
    later = [one.moved(DAY) if one.task.id == "order" else one for one in rows]
    after = export(outlook(later), INES, made)
    assert (after.counts.moved, after.counts.new, after.counts.cancelled) == (1, 0, 0)
    assert int(events(after)["ines:small:0:evening"]["SEQUENCE"]) == 1


def test_waits_that_share_a_day_are_one_band() -> None:
    rows = [
        item("tank", "2027-02-06 12:00", 5 * DAY, kind=Kind.WAIT),
        item("rock", "2027-02-08 12:00", 4 * DAY, kind=Kind.WAIT),
        item("gear", "2027-02-16 12:00", 2 * DAY, kind=Kind.WAIT),
        item("wash", "2027-03-01 18:00", 60, people=("ines",)),
    ]
    found = events(export(outlook(rows), INES))
    assert set(found) == {"ines:wait:tank/1", "ines:wait:gear/1", "ines:session:wash/1"}
    band = found["ines:wait:tank/1"]
    assert (band["DTSTART"].dt, band["DTEND"].dt) == (date(2027, 2, 6), date(2027, 2, 13))
    assert band["SUMMARY"] == "Waiting: Tank and 1 more"
    assert "Mon 8 Feb to Fri 12 Feb: Rock" in band["DESCRIPTION"]


def test_waits_with_at_most_two_days_between_are_one_band_and_those_with_three_are_two() -> None:
    rows = [
        item("glue", "2027-02-06 12:00", 2 * DAY, kind=Kind.WAIT),
        item("stand", "2027-02-11 09:00", 3 * DAY, kind=Kind.WAIT),
        item("gear", "2027-02-18 09:00", 2 * DAY, kind=Kind.WAIT),
        item("wash", "2027-03-01 18:00", 60, people=("ines",)),
    ]
    found = events(export(outlook(rows), INES))
    assert set(found) == {"ines:wait:glue/1", "ines:wait:gear/1", "ines:session:wash/1"}
    band = found["ines:wait:glue/1"]
    assert (band["DTSTART"].dt, band["DTEND"].dt) == (date(2027, 2, 6), date(2027, 2, 15))
    assert "Sat 6 Feb to Mon 8 Feb: Glue" in band["DESCRIPTION"]
    assert "Thu 11 Feb to Sun 14 Feb: Stand" in band["DESCRIPTION"]
    apart = events(export(outlook([rows[0], rows[1].moved(DAY), rows[3]]), INES))
    assert set(apart) == {"ines:wait:glue/1", "ines:wait:stand/1", "ines:session:wash/1"}


def test_the_daily_care_comes_back_on_its_days_and_on_no_other() -> None:
    rows = [
        item("drive", "2027-03-13 11:00", 50, people=("ines",), day="move"),
        *(item(f"look-{n}", f"2027-03-{n} 18:30", 15, people=("ines",)) for n in (14, 15, 17, 23, 29)),
        item("long", "2027-03-16 18:30", 90, people=("ines",)),
    ]
    made = export(outlook(rows), INES)
    assert set(events(made)) == {"ines:day:drive/1", "ines:session:long/1", "ines:care:1"}
    found: Any = recurring_ical_events.of(icalendar.Calendar.from_ical(made.data)).between(
        datetime(2027, 3, 14, tzinfo=UTC), datetime(2027, 6, 1, tzinfo=UTC)
    )
    care = sorted(one["DTSTART"].dt for one in found if one["X-MOVEPLAN-KEY"] == "ines:care:1")
    assert [one.date() for one in care] == [date(2027, 3, n) for n in (14, 15, 17, 23, 29)]
    assert {one.astimezone(DUBLIN).strftime("%H:%M") for one in care} == {
        "18:30"
    }  # clocks change on 28 March
    notes = str(events(made)["ines:care:1"]["DESCRIPTION"])
    assert "Wed 17 Mar: Look 17\n" in notes


def test_care_between_two_moving_days_is_an_event_of_its_own() -> None:
    look = item(
        "look",
        "2027-03-14 18:00",
        15,
        people=("ines",),
        repeats=Repeat(every_min=DAY, times=4, slack_min=720),
    )
    rows = [
        item("out", "2027-03-13 11:00", 50, people=("ines",), day="out"),
        replace(look, stretches=tuple(look.moved(n * DAY).stretches[0] for n in range(4))),
        item("other", "2027-03-15 10:00", 15, people=("ines",)),
        item("in", "2027-03-20 11:00", 50, people=("ines",), day="in"),
        *(item(f"after-{n}", f"2027-03-{n} 18:30", 15, people=("ines",)) for n in (21, 22, 23)),
        *(item(f"late-{n}", f"2027-04-{n} 18:30", 60, people=("ines",)) for n in (10, 12)),
        item("long", "2027-04-13 18:30", 61, people=("ines",)),
    ]
    found = events(export(outlook(rows), INES))
    assert set(found) == {
        "ines:day:out/1",
        "ines:care:1",
        "ines:session:other/1",
        "ines:day:in/1",
        "ines:care:2",
        "ines:session:long/1",
    }
    assert "Mon 12 Apr: Late 12\n" in found["ines:care:2"]["DESCRIPTION"]


def asked(rows: list[Item], lives: str = "") -> set[str]:
    """Keys of Tom's events, whom somebody else asks to come, from where he lives."""
    seen = outlook(rows)
    tom = Person("tom", "Tom Reilly", (), helps=True, lives=lives)
    scheduling = replace(seen.project.scheduling, people=(tom,))
    seen = replace(seen, project=replace(seen.project, scheduling=scheduling))
    return set(events(export(seen, TOM)))


def test_who_is_asked_to_come_has_one_event_for_each_time_they_come() -> None:
    """A pause of up to three hours is no reason to go home; who lives there has evenings and half days as others."""
    rows = [
        item("wash", "2027-03-06 10:00", 60, people=("tom",)),
        item("dry", "2027-03-06 14:00", 60, people=("tom",)),
        item("load", "2027-03-13 08:00", 120, people=("tom",), day="move"),
        item("clean", "2027-03-13 13:00", 61, people=("tom",)),
        item("store", "2027-03-13 17:01", 90, people=("tom",)),
        item("look", "2027-03-14 10:00", 20, people=("tom",)),
        item("sell", "2027-03-14 12:00", 90, people=("tom",)),
        item("count", "2027-03-20 10:00", 20, people=("tom",)),
        item("fix", "2027-03-27 10:00", 20, people=("tom",)),
    ]
    visits = {
        "tom:session:wash/1",
        "tom:day:load/1",
        "tom:session:store/1",
        "tom:session:look/1",
        "tom:care:1",
    }
    assert asked(rows) == visits
    assert asked(rows, "mill") == visits - {"tom:session:look/1"} | {
        f"tom:session:{name}/1" for name in ("dry", "clean", "sell")
    }


def test_an_evening_that_moves_keeps_its_identity() -> None:
    before = export(outlook(), TOM)
    later = [one.moved(DAY) if one.task.id == "mix-water" else one for one in moving()]
    after = export(outlook(later), TOM, before)
    assert (after.counts.moved, after.counts.new, after.counts.cancelled) == (1, 0, 0)
    key = "tom:session:mix-water/1"
    assert events(after)[key]["UID"] == events(before)[key]["UID"]
    assert int(events(after)[key]["SEQUENCE"]) == int(events(before)[key]["SEQUENCE"]) + 1
    assert export(outlook(later), TOM, after).data == after.data


def test_care_on_other_days_is_another_date_of_the_same_event() -> None:
    def seen(*days: int) -> Outlook:
        rows: list[Item] = [item("drive", "2027-03-13 11:00", 50, people=("ines",), day="move")]
        rows += [item(f"look-{n}", f"2027-03-{n} 18:30", 15, people=("ines",)) for n in days]
        return outlook(rows)

    first = export(seen(14, 15, 16), INES)
    second = export(seen(14, 15, 17), INES, first)
    assert (second.counts.moved, second.counts.unchanged) == (1, 1)
    assert int(events(second)["ines:care:1"]["SEQUENCE"]) == 1
    assert export(seen(14, 15, 17), INES, second).data == second.data


def test_what_is_done_is_ticked_and_silent() -> None:
    found = events(export(outlook(states={"mix-water": State.COMPLETED}), TOM))["tom:session:mix-water/1"]
    assert found["SUMMARY"] == "✓ Mix water"
    assert found.walk("VALARM") == []


def test_a_decision_is_tentative_until_it_is_made() -> None:
    assert events(export(outlook(), INES))["ines:decision:go-or-no-go/1"]["STATUS"] == "TENTATIVE"
    made = export(outlook(states={"go-or-no-go": State.COMPLETED}), INES)
    assert events(made)["ines:decision:go-or-no-go/1"]["STATUS"] == "CONFIRMED"


def test_without_alarms_nothing_rings() -> None:
    assert b"VALARM" not in calendar_bytes(outlook(), None, replace(INES, alarms=False)).data


def test_private_events_are_marked() -> None:
    made = calendar_bytes(outlook(), None, replace(INES, private=True))
    assert all(one.value("CLASS") == "PRIVATE" for one in parsed(made.data).items)


def test_care_needs_a_day_and_whole_days_do_not_come_back() -> None:
    with pytest.raises(ValueError, match="needs a day"):
        Daily(1, (date(2027, 3, 14),))
    with pytest.raises(ValueError, match="whole days"):
        Event(
            key="x",
            uid="x",
            when=Days(date(2027, 3, 14), date(2027, 3, 15)),
            words=Words("X"),
            status=Status.CONFIRMED,
            daily=Daily(2),
        )
    start = at("2027-03-14 18:00")
    assert Event(
        key="x", uid="x", when=Timed(start, start + 1, DUBLIN), words=Words("X"), daily=Daily(2)
    ).daily
