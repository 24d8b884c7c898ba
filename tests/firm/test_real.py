"""Real against quoted: a job of the example is accepted, carried out by its journal, and counted again."""

from __future__ import annotations

import json
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

from moveplan.firm.changes.accept import accepted
from moveplan.firm.changes.kept import keep_km, quotes_kept
from moveplan.firm.dispatch import outlook_of
from moveplan.firm.outlook import FirmOutlook
from moveplan.firm.papers.real import real_md
from moveplan.firm.quote import quotes_of
from moveplan.firm.real import Real, reals_of
from moveplan.firm.written import write
from moveplan.journal.file.store import append
from moveplan.journal.records import Done, Dropped, Record, Spent
from moveplan.network.task import Kind
from moveplan.stages.reading import Settings
from moveplan.times import to_local
from tests.firm.firms import SETTINGS, copied

JOB = "garden_flat"
ONE_JOB = ("  - {plan: jobs/late_call.yaml, day: 2027-05-08}\n", "")
SLOWER = 1.5


@dataclass(frozen=True)
class Case:
    """The firm when the job was accepted, half-way, and when all of it was done."""

    before: FirmOutlook
    half: FirmOutlook
    after: FirmOutlook
    dropped: str


@cache
def case() -> Case:
    path = copied(Path(mkdtemp(prefix="moveplan-real-")), ONE_JOB)
    before = outlook_of(path, SETTINGS)
    accepted(before, ())
    (placed,) = before.placed
    tasks = {task.id: task for task in placed.outlook.project.network.tasks}
    rows = sorted(placed.outlook.schedule.placements, key=lambda row: (row.finish, row.start, row.task))
    dropped = next(row.task for row in rows if row.task.startswith("rehearse"))
    records: list[Record] = []
    for row in rows:
        if row.task == dropped:
            records.append(Dropped(at=row.finish, task=row.task, reason="not needed"))
        elif tasks[row.task].kind is Kind.WORK and row.people and tasks[row.task].repeats is None:
            took = round(SLOWER * sum(piece.minutes for piece in row.segments))
            records.append(Done(at=row.finish, task=row.task, took_min=took))
        else:
            records.append(Done(at=row.finish, task=row.task))
    plan, own = before.firm.job(JOB).plan, before.plans[JOB]
    middle = len(records) // 2
    append(plan, own.id, lambda _: [(one, "") for one in records[:middle]])
    half = outlook_of(path, at(before, max(one.at for one in records[:middle])))
    append(plan, own.id, lambda _: [(one, "") for one in records[middle:]])
    bought = [Spent(at=rows[-1].finish, amount=one, item="salt") for one in ("31.20", "4.15")]
    append(plan, own.id, lambda _: [(one, "") for one in bought])
    keep_km(before.firm, JOB, "200 km")
    return Case(before, half, outlook_of(path, at(before, rows[-1].finish)), dropped)


def at(outlook: FirmOutlook, moment: int) -> Settings:
    return Settings(to_local(moment + 60, outlook.firm.zone), SETTINGS.effort, SETTINGS.runs)


def real() -> Real:
    (found,) = reals_of(case().after)
    return found


def test_before_anything_was_accepted_there_is_nothing_to_compare() -> None:
    assert reals_of(case().before) == ()
    assert "No job was accepted yet" in real_md(case().before)


def test_what_was_quoted_is_kept_at_accept_to_the_cent() -> None:
    price = quotes_of(case().before)[JOB].promised
    assert case().after.quoted[JOB].price == price
    assert real().quoted == price.net
    assert real().asked == price.net + price.margin


def test_a_job_under_way_says_how_much_is_open() -> None:
    (found,) = reals_of(case().half)
    assert found.open > 0
    assert found.positions == ()
    assert f"Under way: {found.open} task" in real_md(case().half)


def test_hours_of_each_person_are_those_of_the_records() -> None:
    """Every piece of work took half as long again; care that comes again, and decisions, are taken as planned."""
    before = case().before
    (placed,) = before.placed
    tasks = {task.id: task for task in placed.outlook.project.network.tasks}
    hours = {one.name: one for one in real().positions if one.item == "person"}
    for worker in before.firm.people:
        planned = took = 0.0
        for row in placed.outlook.schedule.placements:
            task = tasks[row.task]
            if task.kind in (Kind.REST, Kind.WAIT):
                continue
            crews = row.segment_people or (row.people,) * len(row.segments)
            own = sum(
                piece.minutes for piece, crew in zip(row.segments, crews, strict=True) if worker.id in crew
            )
            planned += own
            if row.task == case().dropped:
                continue
            slower = SLOWER if task.kind is Kind.WORK and task.repeats is None else 1.0
            took += round(slower * own)
        if planned:
            position = hours[worker.name]
            assert position.quoted_quantity is not None
            assert position.real_quantity is not None
            assert abs(float(position.quoted_quantity) - planned / 60) <= 0.01
            assert abs(float(position.real_quantity) - took / 60) <= 0.01
            rate = 45 if worker.helper.lead else 28
            assert abs(position.real - rate * Decimal(took) / 60) <= Decimal("0.5")
        else:
            assert worker.name not in hours


def test_kilometres_materials_and_reserve_are_set_against_the_quote() -> None:
    found = {one.item: one for one in real().positions if one.item != "person"}
    assert (found["travel"].real_quantity, found["travel"].real) == (Decimal("200.0"), Decimal("120.00"))
    assert (found["materials"].real, found["materials"].recorded) == (Decimal("35.35"), True)
    assert found["drives"].more == 0
    assert not found["drives"].recorded
    assert found["risk"].real == 0
    assert found["risk"].share == -1.0


def test_all_positions_add_up_to_the_cent_and_the_page_says_so() -> None:
    found, text = real(), real_md(case().after).replace("\\", "")
    assert sum((one.quoted for one in found.positions), Decimal(0)) == found.quoted
    assert sum((one.real for one in found.positions), Decimal(0)) == found.real
    assert f"| Sum | €{found.quoted:,.2f} | €{found.real:,.2f} |" in text
    assert f"The client pays €{found.asked:,.2f} without tax" in text
    assert found.measured < found.tasks
    assert "Drives, hours (not recorded)" in text


def test_a_firm_whose_jobs_are_all_done_is_still_built_with_the_same_in_its_data(tmp_path: Path) -> None:
    write(case().after, tmp_path, SETTINGS)
    (row,) = json.loads((tmp_path / "result.json").read_text("utf-8"))["real"]
    assert (row["job"], row["open_tasks"]) == (JOB, 0)
    assert row["real"] == float(real().real)
    assert [one["item"] for one in row["positions"]] == [one.item for one in real().positions]
    assert (tmp_path / "real.md").read_text("utf-8") == real_md(case().after)


def test_a_quote_is_not_changed_any_more_once_work_has_begun() -> None:
    kept = case().half.quoted[JOB]
    accepted(case().half, (), "as it is")
    assert quotes_kept(case().half.firm)[JOB] == kept
