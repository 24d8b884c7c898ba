"""People in two firms: told by name, with the days on which both have them or may send them; ways out end it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

from moveplan.firm.changes.accept import accepted
from moveplan.firm.changes.record import record
from moveplan.firm.checks.shared import Beside, double_booked, merely_named, shared_people
from moveplan.firm.dispatch import outlook_of
from moveplan.firm.file.reader import read_firm
from moveplan.firm.jobs import read_jobs
from tests.firm.firms import EXAMPLES, SETTINGS, copied

ONE_JOB = ("  - {plan: jobs/late_call.yaml, day: 2027-05-08}\n", "")
OTHER_FIRM = ("b202", "b203")
DAY = date(2027, 5, 8)


def beside(path: Path) -> Beside:
    firm = read_firm(path)
    return Beside(firm, read_jobs(firm))


def two(folder: Path, *changes: tuple[str, str]) -> tuple[Path, Path]:
    """Write the example twice, as two firms, the second one changed."""
    for name in ("one", "two"):
        (folder / name).mkdir()
    return copied(folder / "one", ONE_JOB), copied(folder / "two", OTHER_FIRM, ONE_JOB, *changes)


def test_people_are_told_by_name_and_the_same_id_alone_is_no_sign(tmp_path: Path) -> None:
    one, other = map(beside, two(tmp_path, ("name: Ruth Ansty", "name: Ruth Other")))
    assert [row.one.name for row in shared_people(one, other)] == [
        worker.name for worker in one.firm.people if worker.id != "ruth"
    ]


def test_files_of_one_firm_share_its_people_without_a_word() -> None:
    one = beside(EXAMPLES / "one_too_many.yaml")
    assert shared_people(one, one) == ()
    assert [*double_booked(one, one), *merely_named(one, one)] == []


def test_a_day_on_which_both_may_move_is_told_once_for_each_person_with_both_lines(tmp_path: Path) -> None:
    paths = two(tmp_path)
    one, other = map(beside, paths)
    problems = list(double_booked(one, other))
    assert len(problems) == len(one.firm.people)
    first = problems[0]
    assert f"({paths[1]}:" in first.message
    assert f"{paths[0]}:" in first.where
    assert "people.ruth" in first.where
    assert f"both may send them on {DAY}, and neither knows of the other" in first.message
    assert list(merely_named(one, other)) == []


def test_whoever_is_away_for_the_one_is_merely_named(tmp_path: Path) -> None:
    one, other = map(beside, two(tmp_path))
    record(other.firm, "out", "ruth", DAY, DAY)
    told = [problem.message.partition(" is in")[0] for problem in double_booked(one, other)]
    assert "Ruth Ansty" not in told
    assert len(told) == len(one.firm.people) - 1
    (named,) = merely_named(one, other)
    assert named.message.startswith("Ruth Ansty is in")
    assert "no moving day of the two meets" in named.message


def test_jobs_on_other_days_meet_nowhere(tmp_path: Path) -> None:
    later = "{plan: jobs/garden_flat.yaml, window: 2027-05-10 to 2027-05-12}"
    promised = "{plan: jobs/garden_flat.yaml, day: 2027-05-08, promised: yes, promise-price: 150}"
    one, other = map(beside, two(tmp_path, (promised, later)))
    assert list(double_booked(one, other)) == []
    assert len(list(merely_named(one, other))) == len(one.firm.people)


def test_accepted_jobs_that_have_somebody_on_one_day_are_both_named(tmp_path: Path) -> None:
    path, second = two(tmp_path)
    outlook = outlook_of(path, SETTINGS)
    accepted(outlook, ())
    one = beside(path)
    other = Beside(replace(read_firm(second), title="Another"), one.read)
    (placed,) = outlook.placed
    rows = {row.one.id: row for row in shared_people(one, other)}
    for worker in placed.sent.crew:
        assert (DAY, "garden_flat", "garden_flat") in rows[worker].agreed
        assert set(rows[worker].possible) == {day for day, _, _ in rows[worker].agreed}
    told = [problem.message for problem in double_booked(one, other)]
    name = one.firm.worker(placed.sent.crew[0]).name
    title = one.firm.title
    assert any(
        text.startswith(
            f"{name} has work on {DAY} for garden_flat of {title}, and for garden_flat of Another ("
        )
        for text in told
    )
    assert not any("both may send" in text for text in told)
