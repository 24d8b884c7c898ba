"""What goes wrong, pressed on the card: what fails and who falls out, seen at once, as the program reckons it."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import Page, expect

from moveplan import pipeline
from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.now.failure import Failed
from moveplan.journal.now.next_up import next_up
from moveplan.journal.records import Done, Entry, Met, Out, Shut
from moveplan.journal.state import JournalState, state_of
from moveplan.journal.taking.known import known_of
from moveplan.journal.taking.marks import told_by_marks
from moveplan.journal.taking.slip import BACK, Mark, index_of, read_slip, slip_text
from moveplan.journal.taking.taken import taken
from moveplan.network.task import Kind
from moveplan.outputs.accepted import snapshot_of_outlook
from moveplan.outputs.documents.page import page_html
from moveplan.times import to_local
from tests.browser.card import paste, start, text_of, title, up_to
from tests.browser.conftest import EPOCH, Opened, Phone, Violations
from tests.journal.replay import SETTINGS, outlook_of
from tests.practice.late_days import stopped

pytestmark = pytest.mark.browser
OUTLOOK = "house_move"
SETTLES_MS = 900
"""A little longer than a button rests that was pressed. [ms]"""


def _wrong(page: Page, thing: str, button: str) -> None:
    page.get_by_text("Something is wrong").click()
    page.locator("#card-thing").select_option(label=thing)
    page.get_by_role("button", name=button).click()


def _journal(page: Page) -> JournalState:
    """Give what the program makes of the text of a page."""
    outlook = outlook_of(OUTLOOK)
    snapshot = snapshot_of_outlook(outlook)
    marks = read_slip(text_of(page), [index_of(snapshot, outlook.project.plan.id)])
    rows, left = taken(told_by_marks(marks, known_of(snapshot)), (), known_of(snapshot), marks[-1].at + 1)
    assert not left
    return state_of([Entry(number, record) for number, (record, _) in enumerate(rows, start=1)])


def test_a_vehicle_that_fails_is_on_top_and_what_hangs_on_it_waits(
    phone: Phone, violations: Violations
) -> None:
    snapshot = snapshot_of_outlook(outlook_of(OUTLOOK))
    planned = snapshot.task("drive-van")
    assert planned is not None
    page = phone(snapshot.people[planned.people[0]], start("drive-van"))
    up_to(page, "drive-van")
    drive = title(page)
    assert drive == planned.title
    _wrong(page, "Hired long van", "It has failed")
    shown = page.locator("#card-failed")
    expect(shown).to_contain_text("Hired long van has failed")
    expect(shown).to_contain_text("off the road and everybody safe")
    expect(shown).to_contain_text("Hold: lids on, air on; ")
    expect(shown).to_contain_text(f"It waits: {drive}")
    expect(shown).to_contain_text(
        "Call: Weir van hire (invented) (van hire) +353 1 000 0010; Quayside fish vet (invented)"
    )
    assert shown.locator("a").first.get_attribute("href") == "tel:+35310000010"
    rings = "Hired long van or another vehicle: Tomas Reddy rings"
    expect(page.locator("#card-waits")).to_have_text(f"It waits for {rings}, see above.")
    state = _journal(page)
    for turn in next_up(
        snapshot, state, start("drive-van")
    ).first:  # who has no part in the drive waits for it too
        assert turn.held
        assert not turn.ready
        page.get_by_label("I am").select_option(label=turn.name)
        assert title(page) == turn.item.task.title
        expect(page.locator("#card-waits")).to_contain_text(f"It waits for {rings}, see above.")
    page.get_by_label("I am").select_option(label=snapshot.people[planned.people[0]])
    assert state.failures == (Failed(at=start("drive-van"), what="vehicle", name="van"),)
    found = next_up(snapshot, state, start("drive-van"))
    assert page.locator("#card-behind").inner_text() == f"The day runs {_words(found.behind_min)} behind."
    (way,) = found.ways_on
    assert f"{len(way.held) - 3} more" in shown.inner_text() or len(way.held) <= 3
    assert violations(page, False, "screen") == []
    _wrong(page, "Hired long van", "It works again")
    expect(shown).to_be_hidden()
    assert title(page) == drive


def test_loading_that_has_begun_stops_on_the_card_when_the_van_fails(phone: Phone) -> None:
    snapshot, now = snapshot_of_outlook(outlook_of(OUTLOOK)), start("load-animals-van")
    page = phone("Ines Farrow", now)
    up_to(page, "load-animals-van")
    load = title(page)
    assert load == "Load the animals last"
    page.get_by_role("button", name="Begun").click()
    page.clock.fast_forward(5 * 60_000)
    _wrong(page, "Hired long van", "It has failed")
    expect(page.locator("#card-failed")).to_contain_text("First: load nothing, drain nothing")
    found = next_up(snapshot, _journal(page), now + 5)
    assert {turn.item.task.title: turn.held and turn.held.stops for turn in found.first} == {load: True}
    assert page.locator("#card-behind").inner_text() == f"The day runs {_words(found.behind_min)} behind."
    for turn in found.first:
        page.get_by_label("I am").select_option(label=turn.name)
        assert page.locator("#card-title").inner_text() == f"STOP: {turn.item.task.number}. {load}"
        assert page.locator("#card-steps li").all_inner_texts() == [
            "load nothing, drain nothing and strip nothing more; the animals stay indoors, or come back in",
            "then take back Begun",
        ]
        expect(page.locator("#card-waits")).to_contain_text("It waits for Hired long van or another vehicle")
    page.get_by_label("I am").select_option(label="Ines Farrow")
    _wrong(page, "Hired long van", "It works again")
    assert page.locator("#card-title").inner_text().endswith(f". {load}")
    assert "STOP" not in page.locator("#card-title").inner_text()


def test_what_cannot_be_undone_waits_for_another_van_and_the_hour_by_which_it_must_come_is_said(
    phone: Phone, violations: Violations
) -> None:
    snapshot = snapshot_of_outlook(outlook_of(OUTLOOK))
    page = phone("Tomas Reddy", start("drain-tank-display"))
    up_to(page, "drain-tank-display")
    drain = title(page)
    assert drain == "Drain the rest of Display reef"
    waits = page.locator("#card-waits")
    _wrong(page, "Hired long van", "It has failed")
    shown = page.locator("#card-failed")
    expect(shown).to_contain_text(
        "First: load nothing, drain nothing and strip nothing more; the animals stay"
    )
    rings = "It waits for Hired long van or another vehicle: Tomas Reddy rings, see above."
    for minutes, passed in ((0, 0), (60, 60), (240, 180)):
        page.clock.fast_forward(passed * 60_000)
        now = start("drain-tank-display") + minutes
        found = next_up(snapshot, _journal(page), now)
        (way,) = found.ways_on
        assert way.over_by is not None
        hour = _hour(way.over_by, snapshot)
        assert page.locator("#card-behind").inner_text() == f"The day runs {_words(found.behind_min)} behind."
        late = ": too late already for all to be home in time"
        said = f" by {hour} at the latest" if way.over_by > now else late
        expect(shown).to_contain_text(f"Another vehicle{said}; else into other water that runs: the old tank")
        for turn in found.first:
            page.get_by_label("I am").select_option(label=turn.name)
            assert title(page) == turn.item.task.title
            if turn.held:
                sure = " Not before that is sure: the animals may have to go back."
                expect(waits).to_have_text(rings + sure * turn.held.early)
        assert {turn.name: turn.item.task.title for turn in found.first if turn.held and turn.held.early} == {
            "Tomas Reddy": drain
        }
        page.get_by_label("I am").select_option(label="Tomas Reddy")
    assert late in shown.inner_text()
    assert violations(page, False, "screen") == []
    _wrong(page, "Hired long van", "It works again")
    expect(waits).to_have_text("")


def test_until_when_a_van_is_out_as_told_at_the_computer_counts_on_the_page(phone: Phone) -> None:
    outlook, now = outlook_of(OUTLOOK), start("drain-tank-display")
    snapshot = snapshot_of_outlook(outlook)
    page = phone("Tomas Reddy", now)
    up_to(page, "drain-tank-display")
    told = Mark(now, "failed", "vehicle:van", BACK + 45, "ines")
    assert "1 record is new" in paste(page, slip_text([told], index_of(snapshot, outlook.project.plan.id)))
    shown, waits = page.locator("#card-failed"), page.locator("#card-waits")
    for minutes in (0, 46):
        found = next_up(snapshot, _journal(page), now + minutes)
        assert [one.failure.until for one in found.ways_on] == [now + 45]
        expect(shown).to_contain_text(
            f"has failed, {_hour(now, snapshot)}, expected back {_hour(now + 45, snapshot)}"
        )
        assert page.locator("#card-behind").inner_text() == f"The day runs {_words(found.behind_min)} behind."
        (turn,) = [one for one in found.first if one.name == "Tomas Reddy"]
        assert title(page) == turn.item.task.title == "Drain the rest of Display reef"
        assert turn.ready is (minutes == 0)  # it is sure until it should have come
        assert ("Not before that is sure" in waits.inner_text()) is (minutes > 0)
        page.clock.fast_forward(46 * 60_000)


def test_a_page_that_is_built_after_a_failure_knows_of_it_and_asks_before_work_on_it(
    open_page: Callable[..., Opened], tmp_path: Path
) -> None:
    """The page of a build carries what the journal says, as the phones of the crew are told it."""
    outlook, now = outlook_of(OUTLOOK), start("drive-van")
    snapshot = snapshot_of_outlook(outlook)
    done = [
        Met(at=one.finish, task=one.id, by="Ines Farrow")
        if one.kind is Kind.HOLD_POINT
        else Done(at=one.finish, task=one.id)
        for one in snapshot.tasks
        if one.times == 1 and one.finish <= now
    ]
    lid = min(one.shut for one in snapshot.stays)
    records = (*done, Shut(at=lid - 7, container="T1"), Failed(at=now, what="vehicle", name="van"))
    entries = tuple(Entry(line, record) for line, record in enumerate(records, start=1))
    path = tmp_path / "index.html"
    path.write_text(page_html(replace(outlook, entries=entries)), encoding="utf-8", newline="\n")
    opened = open_page("planned")
    page = opened.page
    page.clock.install(time=EPOCH + timedelta(minutes=now + 1))
    page.goto(path.as_uri())
    page.get_by_label("I am").select_option(label="Tomas Reddy")
    found = next_up(snapshot, state_of(entries), now + 1)
    expect(page.locator("#card-failed")).to_contain_text(f"Hired long van has failed, {_hour(now, snapshot)}")
    (box,) = [one for one in found.travelling if one.number == "T1"]
    assert box.left_min is not None
    expect(page.locator("[data-container=T1] .left")).to_contain_text(f"closed {_hour(lid - 7, snapshot)}")
    expect(page.locator("[data-container=T1] .left b")).to_have_text(f"{_words(box.left_min)} left")
    (turn,) = [one for one in found.first if one.name == "Tomas Reddy"]
    assert title(page) == turn.item.task.title
    assert turn.held
    waits = "It waits for Hired long van or another vehicle: Tomas Reddy rings, see above."
    expect(page.locator("#card-waits")).to_have_text(waits)
    before = text_of(page)
    page.get_by_role("button", name="Begun").click()
    assert text_of(page) == before
    page.reload()
    expect(page.locator("#card-failed")).to_contain_text("Hired long van has failed")
    assert opened.complaints == []


@pytest.mark.parametrize(("example", "share"), [("small_tank_move", 0.4), ("house_move", 0.5)])
def test_a_plan_made_after_a_failure_is_not_too_late_where_the_day_before_it_was_not(
    open_page: Callable[..., Opened], tmp_path: Path, example: str, share: float
) -> None:
    """It is planned around an assumed end: over sooner, all that hangs on it is sooner, on the road too."""
    vehicle = outlook_of(example).project.plan.vehicles[0]
    project, story = stopped(example, share, 0, "", ("vehicle", vehicle.id))
    before = next_up(story.last, story.state, story.now).ways_on[0].over_by  # type: ignore[arg-type]
    hung, again = pipeline.renew(project, story, SETTINGS)
    outlook = pipeline.judge_again(hung, again, story, SETTINGS)
    snapshot = snapshot_of_outlook(outlook)
    (way,) = next_up(snapshot, story.state, story.now).ways_on
    assert before is not None
    assert way.over_by is not None
    assert story.now < way.over_by <= before
    path = tmp_path / "index.html"
    path.write_text(page_html(outlook), encoding="utf-8", newline="\n")
    opened = open_page("planned")
    opened.page.clock.install(time=EPOCH + timedelta(minutes=story.now))
    opened.page.goto(path.as_uri())
    said = f"Another vehicle by {_hour(way.over_by, snapshot)} at the latest"
    expect(opened.page.locator("#card-failed")).to_contain_text(said)


def test_steps_that_count_animals_say_how_many_were_lost(phone: Phone) -> None:
    page = phone("Ines Farrow", start("catch-fish-display"))
    up_to(page, "catch-fish-display")
    steps = page.locator("#card-steps")
    expect(steps).to_contain_text("2 × Clownfish (B1–B2)")
    page.get_by_text("Something is wrong").click()
    missing = page.locator("[data-trouble='animal-missing']")
    missing.locator("summary").click()
    page.locator("#card-of").select_option(value="@clowns")
    missing.get_by_role("button", name="Lost", exact=True).click()
    expect(steps).to_contain_text("2 × Clownfish (less 1 lost) (B1–B2)")
    assert "less" not in steps.inner_text().replace("(less 1 lost)", "")
    page.get_by_role("button", name="Take back").click()
    expect(steps).to_contain_text("2 × Clownfish (B1–B2)")


@pytest.mark.parametrize("out", ["Tomas Reddy", "Bea Lindqvist"])
def test_who_falls_out_is_out_of_every_crew_as_the_program_has_it(phone: Phone, out: str) -> None:
    snapshot = snapshot_of_outlook(outlook_of(OUTLOOK))
    for task in ("lower-water-display", "load-tank-van", "rebuild-rock-display"):
        if snapshot.task(task) is None:
            continue
        now = start(task)
        page = phone("Ines Farrow", now)
        up_to(page, task)
        _wrong(page, out, "is not there")
        expect(page.locator("#card-failed")).to_contain_text(f"{out} is not there.")
        state = _journal(page)
        assert [one.person for one in state.facts if isinstance(one, Out)]
        found = next_up(snapshot, state, now)
        for turn in found.first:
            page.get_by_label("I am").select_option(label=turn.name)
            assert title(page).partition(" (")[0] == turn.item.task.title
        lines = page.locator("#card-failed p").all_inner_texts()
        cannot = [row for row in found.taken_over if row.cannot]
        said = [line for line in lines if "MISSING" in line or "NOBODY" in line]
        assert said == lines[: min(len(cannot), 6)]
        for line, row in zip(lines, cannot, strict=False):
            assert line.startswith(f"{row.task.number}. {row.task.title}")
        page.get_by_label("I am").select_option(label="Ines Farrow")
        page.get_by_role("button", name="Take back").click()
        expect(page.locator("#card-failed")).to_be_hidden()


def test_who_is_out_reads_so_and_who_is_on_the_road_with_what_failed_leaves_it(phone: Phone) -> None:
    now = start("unload-animals-van")
    page = phone("Tomas Reddy", start("drive-van"))
    up_to(page, "drive-van")
    page.get_by_role("button", name="Begun").click()
    since = page.locator("#card-facts").inner_text()
    assert since.startswith("since ")
    assert ";" not in since  # nobody on the road has a place
    _wrong(page, "Hired long van", "It has failed")
    steps = page.locator("#card-steps li")
    expect(steps).to_have_count(1)
    expect(steps).to_contain_text("off the road and everybody safe; air on, lids on, doors shut")
    assert page.locator("#card-facts").inner_text() == since
    page = phone("Bea Lindqvist", now)
    up_to(page, "unload-animals-van")
    _wrong(page, "Bea Lindqvist", "is not there")
    expect(page.locator("#card-waits")).to_have_text("Recorded as not there today.")
    page.get_by_label("I am").select_option(label="Ines Farrow")
    expect(page.locator("#card-waits")).not_to_contain_text("not there today")


def test_who_comes_back_is_in_every_crew_again(phone: Phone) -> None:
    snapshot, now = snapshot_of_outlook(outlook_of(OUTLOOK)), start("load-tank-van")
    page = phone("Ines Farrow", now)
    up_to(page, "load-tank-van")
    before = {turn.name: turn.item.task.title for turn in next_up(snapshot, _journal(page), now).first}
    _wrong(page, "Tomas Reddy", "is not there")
    page.clock.fast_forward(2 * 60_000)
    _wrong(page, "Tomas Reddy", "is back")
    expect(page.locator("#card-failed")).to_be_hidden()
    state = _journal(page)
    assert not [one for one in state.facts if isinstance(one, Out)]
    assert {turn.name: turn.item.task.title for turn in next_up(snapshot, state, now).first} == before
    for name, words in before.items():
        page.get_by_label("I am").select_option(label=name)
        assert title(page).partition(" (")[0] == words


def test_what_a_stand_in_has_begun_stays_theirs_when_the_other_is_back(phone: Phone) -> None:
    snapshot = snapshot_of_outlook(outlook_of(OUTLOOK))
    now = start("strip-lamps-display")
    page = phone("Ines Farrow", now)
    up_to(page, "strip-lamps-display")
    out = next(person for person, name in snapshot.people.items() if name == "Tomas Reddy")
    _wrong(page, snapshot.people[out], "is not there")
    found = next_up(snapshot, _journal(page), now)
    over = {row.task.id: row for row in found.taken_over if row.joins}
    turn = next(
        turn
        for turn in found.first
        if turn.ready and turn.item.task.id in over and turn.person in over[turn.item.task.id].joins
    )
    page.get_by_label("I am").select_option(label=turn.name)
    for _ in range(2):
        if page.locator("#card-begun").is_enabled():
            page.locator("#card-begun").click()
            page.clock.run_for(SETTLES_MS)
    page.clock.fast_forward(2 * 60_000)
    _wrong(page, snapshot.people[out], "is back")
    found = next_up(snapshot, _journal(page), now + 2)
    assert found.taken_over == ()
    assert {one.person for one in found.first if one.item.task.id == turn.item.task.id and one.runs} == set(
        over[turn.item.task.id].task.people
    )
    for one in found.first:
        page.get_by_label("I am").select_option(label=one.name)
        assert title(page).partition(" (")[0] == one.item.task.title


def test_a_container_is_counted_where_it_is(phone: Phone) -> None:
    now = start("drive-van")
    page = phone("Ines Farrow", now)
    up_to(page, "drive-van")
    row = page.locator("[data-container='X3']")
    snapshot, planned = snapshot_of_outlook(outlook_of(OUTLOOK)), int(row.get_attribute("data-left") or 0)
    rides = next(
        one
        for one in next_up(snapshot, _journal(page), now).travelling
        if one.number == "X3" and one.left_min
    )
    loading = snapshot.task("load-animals-van")
    assert loading is not None
    assert planned == rides.left_min == loading.finish + (rides.stay.aboard_min or 0) - now
    assert row.inner_text().count(" min left") == 1
    assert " by " not in row.inner_text()  # one figure, the least
    _wrong(page, "Hired long van", "It has failed")
    state = _journal(page)
    box = next(one for one in next_up(snapshot, state, now).travelling if one.number == "X3")
    assert box.where in row.inner_text()
    assert int(row.get_attribute("data-left") or 0) == box.left_min
    assert box.left_min is not None
    assert box.left_min <= planned


def test_what_is_done_at_a_container_is_pressed_there_and_counts_where_it_was_moved(
    phone: Phone, violations: Violations
) -> None:
    now = start("load-animals-van")
    page = phone("Ines Farrow", now)
    up_to(page, "load-animals-van")
    row = page.locator("[data-container='X3']")
    other = page.locator("[data-container='X2']")
    row.get_by_role("button", name="Air, place, loss").click()
    page.get_by_role("button", name="Topped up").click()
    page.get_by_role("button", name="15 min earlier").click()
    page.get_by_role("button", name="Air on").click()
    page.get_by_label("Moved to").select_option(label="Hired long van")
    page.get_by_role("button", name="Moved", exact=True).click()
    assert "Last: moved, X3 to Hired long van" in page.locator("#card-last").inner_text()
    assert re.search(r"; topped up \d\d:\d\d; air on \d\d:\d\d", row.inner_text())
    assert "topped up" not in other.inner_text()
    snapshot = snapshot_of_outlook(outlook_of(OUTLOOK))
    state = _journal(page)
    assert state.carried == {"X3": ((now, "Hired long van"),)}
    box = next(one for one in next_up(snapshot, state, now).travelling if one.number == "X3")
    assert (box.where, box.left_min) == ("Hired long van", int(row.get_attribute("data-left") or 0))
    assert violations(page, False, "screen") == []
    in_van = box.left_min
    assert in_van is not None
    page.get_by_label("Moved to").select_option(label="Harbour Lane")
    page.get_by_role("button", name="Moved", exact=True).click()
    box = next(one for one in next_up(snapshot, _journal(page), now).travelling if one.number == "X3")
    assert box.where in row.inner_text()
    assert int(row.get_attribute("data-left") or 0) == box.left_min
    assert box.left_min is not None
    assert box.left_min > in_van
    row.get_by_role("button", name="Lid off").click()  # in the same minute: what was pressed last counts
    assert "not closed" in row.inner_text()
    row.get_by_role("button", name="Lid on").click()
    assert "not closed" not in row.inner_text()
    for _ in range(2):
        page.get_by_role("button", name="Take back").click()
    other.get_by_role("button", name="Air, place, loss").click()
    assert row.get_by_role("button", name="Air on").count() == 0
    page.get_by_role("button", name="Take back").click()
    assert "Hired long van" in row.inner_text()
    page.get_by_role("button", name="Take back").click()
    assert _journal(page).carried == {}


def test_animals_that_are_lost_are_recorded_at_their_box_and_leave_its_count_until_that_is_taken_back(
    phone: Phone, violations: Violations
) -> None:
    now = start("load-animals-van")
    snapshot = snapshot_of_outlook(outlook_of(OUTLOOK))
    stay = next(one for one in snapshot.stays if any(count > 1 for _, count in one.containers))
    number, count = next(one for one in stay.containers if one[1] > 1)
    page = phone("Ines Farrow", now)
    up_to(page, "load-animals-van")
    row = page.locator(f"[data-container='{number}']")

    def there() -> int:
        rows = next_up(snapshot, _journal(page), now).travelling
        found = sum(one.count for one in rows if (one.number, one.stay.group) == (number, stay.group))
        expect(row).to_contain_text(f"{found} × {stay.name}")
        return found

    assert there() == count
    row.get_by_role("button", name="Air, place, loss").click()
    page.get_by_label("Which").select_option(label=stay.name)
    for left in (1, 2):  # in the same minute: each press counts
        page.get_by_role("button", name="Lost", exact=True).click()
        assert there() == count - left
    assert page.locator("#card-last").inner_text().startswith(f"Last: lost, 1 × {stay.name}, {number}, ")
    page.get_by_role("button", name="Found again").click()
    assert there() == count - 1
    page.get_by_label("How many").fill(str(count))
    page.get_by_role("button", name="Lost", exact=True).click()
    assert "nothing was recorded" in page.locator("#card-told").inner_text()
    assert violations(page, False, "screen") == []
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    for left in (2, 1, 0):
        page.get_by_role("button", name="Take back").click()
        assert there() == count - left
    assert _journal(page).lost == {}


def test_what_was_lost_last_is_gone_and_no_more_is_found_than_was_lost(phone: Phone) -> None:
    now = start("load-animals-van")
    snapshot = snapshot_of_outlook(outlook_of(OUTLOOK))
    page = phone("Ines Farrow", now)
    up_to(page, "load-animals-van")
    stay = next(one for one in snapshot.stays if [count for _, count in one.containers] == [1])
    ((number, _),) = stay.containers
    two = next(one for one in snapshot.stays if sum(count for _, count in one.containers) > 1)
    told, missing = page.locator("#card-told"), page.locator("[data-trouble='animal-missing']")
    page.get_by_text("Something is wrong").click()
    missing.locator("summary").click()

    def press(name: str, group: str, button: str, *, counts: bool = True) -> None:
        before = _journal(page).lost if page.evaluate("localStorage.length") else {}
        page.locator("#card-of").select_option(value=name + "@" + group)
        missing.get_by_role("button", name=button, exact=True).click()
        none = f"None can be {button.lower()} here: nothing was recorded."
        assert told.inner_text() == ("" if counts else none)
        rows = next_up(snapshot, _journal(page), now).travelling
        for one in rows:
            expect(page.locator(f"[data-container='{one.number}']")).to_contain_text(f"{one.count} × ")
        assert (_journal(page).lost != before) is counts

    def there(group: str) -> int:
        rows = next_up(snapshot, _journal(page), now).travelling
        return sum(one.count for one in rows if one.stay.group == group)

    press(number, stay.group, "Lost")
    assert there(stay.group) == 0
    assert page.locator(f"[data-container='{number}']").is_hidden()
    assert re.fullmatch(
        rf"Lost today: 1 × {re.escape(stay.name)}, {number}, \d\d:\d\d\.",
        page.locator("#card-lost").inner_text(),
    )
    assert "not closed" not in " ".join(
        page.locator(f"tr.animal[data-key='{stay.group}/1'] .left").all_text_contents()
    )
    press("", stay.group, "Found again")
    assert there(stay.group) == 1
    press(number, stay.group, "Lost")  # all in one minute: the last word counts
    assert there(stay.group) == 0
    press(number, stay.group, "Lost", counts=False)
    press(number, stay.group, "Found again")
    press("", stay.group, "Found again", counts=False)
    assert there(stay.group) == 1
    press("", two.group, "Lost")
    press(two.containers[0][0], two.group, "Found again")
    press(two.containers[0][0], two.group, "Found again", counts=False)
    last = re.search(r"\d\d:\d\d", page.locator("#card-last").inner_text())
    assert last
    assert last[0] == page.locator("#card-when-note").inner_text()[12:17]


def test_until_when_each_box_is_needed_is_one_figure_on_the_page_and_at_the_terminal(phone: Phone) -> None:
    snapshot = snapshot_of_outlook(outlook_of(OUTLOOK))
    now = start("lower-water-display")
    page = phone("Ines Farrow", now)
    up_to(page, "lower-water-display")
    compared = 0
    for late in (7, 11, 25, 38, 16, 9, 31, 12):
        for turn in next_up(snapshot, _journal(page), now).first:
            page.get_by_label("I am").select_option(label=turn.name)
            button = page.locator("#card-done" if turn.runs else "#card-begun")
            if turn.ready and button.is_visible() and button.is_enabled():
                button.click()
                if "Press again" in page.locator("#card-told").inner_text():
                    button.click()
        now += late
        page.clock.fast_forward(late * 60_000)
        found = next_up(snapshot, _journal(page), now)
        least: dict[str, int] = {}
        for one in found.travelling:
            if one.spare_min is not None:
                least[one.number] = min(least.get(one.number, one.spare_min), one.spare_min)
        rows = page.locator("[data-container]:not([data-spare=''])").all()
        shown = {
            row.get_attribute("data-container"): int(row.get_attribute("data-spare") or 0) for row in rows
        }
        assert shown == least
        compared += len(least)
        behind = page.locator("#card-behind").inner_text()
        assert behind == (f"The day runs {_words(found.behind_min)} behind." if found.behind_min else "")
    assert compared > 20
    assert found.behind_min > 30


def _hour(moment: int, snapshot: Snapshot) -> str:
    return to_local(moment, ZoneInfo(snapshot.zone)).strftime("%H:%M")


def _words(minutes: int) -> str:
    return (f"{minutes // 60} h " if minutes >= 60 else "") + f"{minutes % 60} min"


def test_a_box_without_air_has_no_time_left_and_is_first_on_every_phone_until_the_air_is_on(
    phone: Phone, violations: Violations
) -> None:
    now = start("load-animals-van")
    snapshot = snapshot_of_outlook(outlook_of(OUTLOOK))
    page, other = phone("Ines Farrow", now), phone("Bea Lindqvist", now)
    up_to(page, "load-animals-van")
    row, least = page.locator("[data-container='X3']"), page.locator("#card-least")
    assert page.locator(".boxes > li").first.get_attribute("data-container") != "X3"
    left = int(row.get_attribute("data-left") or 0)

    def told(minutes: int) -> None:
        found = next_up(snapshot, _journal(page), now + minutes).travelling
        assert (found[0].number, found[0].airless, found[0].left_min) == ("X3", now, None)
        paste(other, text_of(page))
        for one in (page, other):
            assert one.locator(".boxes > li").first.get_attribute("data-container") == "X3"
            said = one.locator("[data-container='X3']").inner_text()
            assert re.search(rf"NO AIR since \d\d:\d\d, {minutes} min: how long it lasts is not known", said)
            assert " left" not in said
            assert one.locator("#card-least").inner_text().startswith("X3: NO AIR since ")
            assert "over" in (one.locator("[data-container='X3']").get_attribute("class") or "").split()
            assert one.locator("#card-alarm").inner_text().startswith("X3 has no air: give it air now.")

    row.get_by_role("button", name="Air, place, loss").click()
    page.get_by_role("button", name="Air off").click()
    told(0)
    for one in (page, other):
        one.clock.fast_forward(20 * 60_000)
    told(20)
    assert violations(page, False, "screen") == []
    page.get_by_role("button", name="Air on").click()
    assert int(row.get_attribute("data-left") or 0) == left - 20
    assert not least.inner_text().startswith("X3: NO AIR")
    found = next_up(snapshot, _journal(page), now + 20).travelling
    assert {one.left_min for one in found if one.number == "X3"} >= {left - 20}


def test_what_is_broken_stays_in_red_at_its_box_until_it_is_mended(
    phone: Phone, violations: Violations
) -> None:
    now = start("load-animals-van")
    snapshot = snapshot_of_outlook(outlook_of(OUTLOOK))
    page, other = phone("Ines Farrow", now), phone("Bea Lindqvist", now)
    up_to(page, "load-animals-van")
    shown = page.locator("#card-failed")
    for what, box in (("container-leaks", "X2"), ("device-dead", "X3")):
        page.get_by_text("Something is wrong").click()
        trouble = page.locator(f"[data-trouble='{what}']")
        trouble.locator("summary").click()
        trouble.get_by_label("Where").select_option(label=box)
        trouble.get_by_role("button", name="Tell everybody").click()
    expect(shown).to_contain_text("Stand it in a larger one, the hole up.")  # the first steps ride along
    page.clock.fast_forward(180 * 60_000)
    other.clock.fast_forward(180 * 60_000)
    state = _journal(page)
    assert state.airless == {"X3": now}
    found = next_up(snapshot, state, now + 180)
    broken = [(one.trouble, one.container) for one in found.troubles]
    assert broken == [("container-leaks", "X2"), ("device-dead", "X3")]
    paste(other, text_of(page))
    for one in (page, other):
        expect(one.locator("#card-failed")).to_contain_text("X2: container leaks (Ines Farrow, ")
        expect(one.locator("#card-failed")).to_contain_text("X3: device dead (Ines Farrow, ")
        assert re.search(r"container leaks \d\d:\d\d", one.locator("[data-container='X2']").inner_text())
        assert one.locator("#card-least").inner_text().startswith("X3: device dead ")
    assert violations(page, False, "screen") == []
    shown.locator("li", has_text="X2: ").get_by_role("button", name="Mended").click()
    expect(shown).not_to_contain_text("X2")
    assert "leaks" not in page.locator("[data-container='X2']").inner_text()
    assert page.locator("#card-last").inner_text().startswith("Last: mended, X2: container leaks, ")
    assert [one.container for one in next_up(snapshot, _journal(page), now + 180).troubles] == ["X3"]
    shown.get_by_role("button", name="Mended").click()
    expect(shown).to_be_hidden()
    assert (_journal(page).airless, _journal(page).troubles) == ({}, ())
    paste(other, text_of(page))
    expect(other.locator("#card-failed")).to_be_hidden()
    page.get_by_role("button", name="Take back").click()
    expect(shown).to_contain_text("X3: device dead")


def test_what_is_wrong_with_an_animal_says_what_to_do_first_and_is_told_to_everybody(
    phone: Phone, violations: Violations
) -> None:
    now = start("load-animals-van")
    page, other = phone("Ines Farrow", now), phone("Bea Lindqvist", now)
    up_to(page, "load-animals-van")
    page.get_by_text("Something is wrong").click()
    gasps = page.locator("[data-trouble='animal-gasps']")
    gasps.get_by_text("A fish gasps, or lies on its side").click()
    assert gasps.locator("ol > li").first.inner_text().startswith("Air into its water now")
    expect(gasps.locator("ol > li").last).to_contain_text(
        "ring a fish vet: Quayside fish vet (invented) +353 1"
    )
    assert gasps.locator("a").first.get_attribute("href") == "tel:+35310000000"
    assert violations(page, False, "screen") == []
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    gasps.get_by_label("Where").select_option(label="T1")
    gasps.get_by_role("button", name="Tell everybody").click()
    shown = page.locator("#card-failed")
    expect(shown).to_contain_text("T1: animal gasps (Ines Farrow, ")
    (note,) = _journal(page).notes
    assert note.text == "T1: animal gasps, says Ines Farrow"
    paste(other, text_of(page))
    expect(other.locator("#card-failed")).to_contain_text("T1: animal gasps (Ines Farrow, ")
    page.get_by_role("button", name="Take back").click()
    expect(shown).to_be_hidden()
    said = [one.text for one in _journal(page).notes]
    assert said == ["noted T1@animal-gasps was taken back before it came"]
    paste(other, text_of(page))
    expect(other.locator("#card-failed")).to_be_hidden()

    missing = page.locator("[data-trouble='animal-missing']")
    page.get_by_text("Something is wrong").click()
    missing.locator("summary").click()
    missing.get_by_label("Which").select_option(index=0)
    missing.get_by_role("button", name="Lost", exact=True).click()
    ((group, lost),) = _journal(page).lost.items()
    assert lost == (("", 1),)
    name = next(one.name for one in snapshot_of_outlook(outlook_of(OUTLOOK)).stays if one.group == group)
    assert page.locator("#card-last").inner_text().startswith(f"Last: lost, 1 × {name}, ")


def test_on_a_late_day_each_box_says_until_when_it_is_needed_and_what_to_do_once_it_is_too_late(
    phone: Phone, violations: Violations
) -> None:
    now = start("load-animals-van")
    snapshot = snapshot_of_outlook(outlook_of(OUTLOOK))
    page = phone("Ines Farrow", now)
    up_to(page, "load-animals-van")
    row, sure = page.locator("[data-container='T1']"), page.locator(".answers")
    ride, least, needed = page.locator("#card-ride"), page.locator("#card-least"), row.locator(".needed")
    assert title(page) == "Load the animals last"
    assert re.fullmatch(
        r"T1 must be out of the vehicle by \d\d:\d\d, expected out \d\d:\d\d\.", ride.inner_text()
    )
    assert "over" not in (ride.get_attribute("class") or "").split()
    assert needed.inner_text() == ""
    assert "ok" in (sure.get_attribute("class") or "").split()
    row.get_by_role("button", name="Air, place, loss").click()
    page.get_by_label("Moved to").select_option(label="Hired long van")
    page.get_by_role("button", name="Moved", exact=True).click()
    page.clock.fast_forward(100 * 60_000)  # it waits in the cold, and nothing goes on
    box = next(one for one in next_up(snapshot, _journal(page), now + 100).travelling if one.number == "T1")
    assert box.ride is not None
    assert box.spare_min is not None
    assert box.spare_min == box.ride_spare_min < 0
    assert box.left_min == int(row.get_attribute("data-left") or 0) > 0
    by, out = (_hour(moment, snapshot) for moment in box.ride)
    limit = f"must be out of the vehicle by {by}, expected out {out}"
    assert ride.inner_text() == f"T1 {limit}: that will NOT do."
    assert "over" in (ride.get_attribute("class") or "").split()
    assert needed.inner_text() == f"{_words(-box.spare_min)} too SHORT: {limit}"
    assert least.inner_text().startswith("T1: ")
    assert least.inner_text().endswith(needed.inner_text())
    assert page.locator("#card-late").inner_text().endswith(" Does NOT last as it goes: T1.")
    assert "ok" not in (sure.get_attribute("class") or "").split()
    other = page.locator("[data-container='X1'] .needed").inner_text()
    assert re.fullmatch(
        r"needed until \d\d:\d\d as it goes|must be out of the vehicle by \d\d:\d\d, expected out \d\d:\d\d",
        other,
    )
    assert violations(page, False, "screen") == []
    page.clock.fast_forward(40 * 60_000)
    assert "carry it, lid on, into a room or car at room temperature" in row.inner_text()
    assert "open" not in row.inner_text() + page.locator("#card-alarm").inner_text()
    _wrong(page, "Hired long van", "It has failed")
    shown = page.locator("#card-failed").inner_text()
    assert "T1 was to last until" in shown
    assert "now carry it, lid on, into a room or car at room temperature" in shown
    box = next(one for one in next_up(snapshot, _journal(page), now + 140).travelling if one.number == "T1")
    assert not box.tempered
    assert box.left_min is not None
    assert box.left_min < 0


def test_everybody_is_told_the_same_by_the_card_and_at_the_terminal_and_what_is_for_two_to_both(
    phone: Phone,
) -> None:
    """A late day on which each does what is told, some of it slowly: nobody is sent to what another is not told."""
    snapshot = snapshot_of_outlook(outlook_of(OUTLOOK))
    now = start("rock-out-display")
    page = phone("Ines Farrow", now)
    up_to(page, "rock-out-display")
    together = waited = 0
    for late in (7, 11, 25, 6, 16, 9, 31, 12, 8, 20):
        found = next_up(snapshot, _journal(page), now)
        told = {turn.person: turn.item for turn in found.first if turn.ready}
        for turn in found.first:
            page.get_by_label("I am").select_option(label=turn.name)
            assert page.locator("#card-title").inner_text().startswith(f"{turn.item.task.number}. ")
            waits = page.locator("#card-waits").inner_text()
            for name, task in turn.without:
                word = "still" if any(item.task == task for item in found.running) else "first"
                assert f"With {name}, {word} at “{task.title}”." in waits
                waited += 1
            assert waits.count("With ") == len(turn.without)
            assert bool(waits) != turn.ready
            if turn.ready and not turn.runs:
                assert {told.get(one) for one in turn.item.task.people} == {turn.item}
                together += len(turn.item.task.people) > 1
        for turn in found.first:
            page.get_by_label("I am").select_option(label=turn.name)
            button = page.locator("#card-done" if turn.runs else "#card-begun")
            if turn.ready and button.is_visible() and button.is_enabled():
                button.click()
                if "Press again" in page.locator("#card-told").inner_text():
                    button.click()
        now += late
        page.clock.fast_forward(late * 60_000)
    assert together > 2
    assert waited
