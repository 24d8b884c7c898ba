"""The last stage: a firm's outlook becomes files, all of them or none."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from moveplan.files import check_folder, read_file, write_files
from moveplan.firm.dispatch import outlook_of
from moveplan.firm.outlook import FirmOutlook
from moveplan.firm.papers.client import client_html
from moveplan.firm.papers.data import firm_json
from moveplan.firm.papers.diary import Owner, diary_ics
from moveplan.firm.papers.gear import gear_md
from moveplan.firm.papers.month import month_html
from moveplan.firm.papers.people import person_days, person_md, vehicle_days, vehicle_md
from moveplan.firm.papers.quotes import quotes_md
from moveplan.firm.papers.real import real_md
from moveplan.firm.papers.stock import stock_md
from moveplan.firm.placing.one_job import Placed
from moveplan.firm.quote import Quote, quotes_of
from moveplan.firm.side_by_side import side_by_side
from moveplan.firm.values import Firm
from moveplan.outputs.calendar.options import CalendarOptions
from moveplan.stages import written
from moveplan.stages.reading import Settings

MONTH, DATA, GEAR, STOCK, QUOTES, REAL, CLIENT = (
    "index.html",
    "result.json",
    "gear.md",
    "stock.md",
    "quotes.md",
    "real.md",
    "client.html",
)
"""Names of the firm's own files, and of what a client gets. [-]"""


@dataclass(frozen=True, slots=True)
class FirmBuilt:
    """What was written.

    Parameters
    ----------
    outlook : FirmOutlook
        What it was made from.
    files : tuple of Path
        The firm's own, in the order of reading; then those of each job.
    quotes : Mapping of str to Quote
        By job.
    stale : tuple of Path
        Folders of jobs of an earlier build that are out of date now.
    """

    outlook: FirmOutlook
    files: tuple[Path, ...]
    quotes: Mapping[str, Quote]
    stale: tuple[Path, ...] = ()


def build(path: Path, folder: Path, settings: Settings, *, jobs: int = 1, engine: str = "auto") -> FirmBuilt:
    """Firm file to files, the whole way.

    Parameters
    ----------
    path : Path
        The firm file.
    folder : Path
        Where files go; made where it is missing.
    settings : Settings
        Moment, effort, runs and seed.
    jobs : int
        Processes side by side.
    engine : str
        That chooses days: ``auto``, ``serial`` or ``exact``.

    Raises
    ------
    OutputError
        Where one of them cannot be written.
    """
    check_folder(folder)
    outlook = outlook_of(path, settings, jobs=jobs, engine=engine, built=folder / DATA)
    return write(outlook, folder, settings, jobs=jobs)


def write(outlook: FirmOutlook, folder: Path, settings: Settings, *, jobs: int = 1) -> FirmBuilt:
    """Outlook to files: all of them or none.

    Parameters
    ----------
    folder, settings, jobs : Path, Settings, int
        As for :func:`build`.
    """
    firm = outlook.firm
    quotes = quotes_of(outlook)
    contents = {
        folder / MONTH: month_html(outlook, quotes).encode(),
        folder / DATA: firm_json(outlook, quotes),
        folder / GEAR: gear_md(outlook).encode(),
        folder / STOCK: stock_md(outlook).encode(),
        folder / QUOTES: quotes_md(outlook, quotes).encode(),
        folder / REAL: real_md(outlook).encode(),
    }
    for one in firm.people:
        contents[folder / "people" / f"{one.id}.md"] = person_md(outlook, one.id).encode()
    for vehicle in firm.vehicles:
        contents[folder / "vehicles" / f"{vehicle.id}.md"] = vehicle_md(outlook, vehicle.id).encode()
    contents |= _diaries(outlook, folder)
    own = replace(firm, jobs=())
    work = [
        (own, one, quotes[one.job], _arrives(outlook, one), folder / "jobs" / one.job, settings)
        for one in outlook.placed
    ]
    for files in side_by_side(_of_job, work, jobs):
        contents |= files
    stale = tuple(
        one
        for one in sorted((folder / "jobs").glob("*/"))
        if not any(one in path.parents for path in contents)
    )
    write_files(contents)
    return FirmBuilt(outlook, tuple(contents), quotes, stale)


def _diaries(outlook: FirmOutlook, folder: Path) -> dict[Path, bytes]:
    """Write a calendar for each person and each vehicle, built upon the one that stands in the folder."""
    firm = outlook.firm
    owners = [(Owner("people", one.id, one.name), person_days(outlook, one.id)) for one in firm.people]
    owners += [(Owner("vehicles", one.id, one.name), vehicle_days(outlook, one.id)) for one in firm.vehicles]
    places = [folder / owner.kind / f"{owner.id}.ics" for owner, _ in owners]
    return {
        path: diary_ics(firm, owner, days, read_file(path))
        for path, (owner, days) in zip(places, owners, strict=True)
    }


def _arrives(outlook: FirmOutlook, one: Placed) -> tuple[int, int] | None:
    spread = outlook.spreads.get(one.job)
    return None if spread is None else spread.arrives


def _of_job(
    firm: Firm,
    one: Placed,
    quote: Quote,
    arrives: tuple[int, int] | None,
    folder: Path,
    settings: Settings,
) -> dict[Path, bytes]:
    """Make the files of one job from that job alone."""
    people = replace(settings, calendar=CalendarOptions(every_task=False))
    contents, _ = written.contents_of(one.outlook, folder, people)
    return {**contents, folder / CLIENT: client_html(firm, one, quote, arrives).encode()}
