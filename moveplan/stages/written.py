"""The last stage: what was found out becomes files, all of them or none.

What makes the documents is imported where it is used, so that it is loaded while the solver works (``ahead``).
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from moveplan.errors import OutputError
from moveplan.files import check_folder, read_file, write_files
from moveplan.outputs.calendar.options import CalendarOptions, check_options
from moveplan.outputs.outlook import Outlook
from moveplan.stages.reading import Settings
from moveplan.tokens import secret_of, token_of

if TYPE_CHECKING:
    from moveplan.outputs.calendar.export import CalendarExport
    from moveplan.plan.people import Helper
    from moveplan.practice.project import Project

REPORT, CHECKLIST, SUMMARY, DATA = "index.html", "checklist.md", "summary.md", "result.json"
"""Names of the files that ``build`` writes beside the calendars."""
INVITATIONS = "invitations"
"""Folder of the invitations, with a folder a guest."""
SHOPPING, TASKS = "shopping.md", "tasks.csv"
"""Names of those that it writes where the plan can be followed."""

# Events have UIDs of version 5; another file in the folder is not ours to speak of.
_OWN_EVENT = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-5[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}\.ics")


@dataclass(frozen=True, slots=True)
class Built:
    """What was written.

    Parameters
    ----------
    outlook : Outlook
        What it was made from.
    files : tuple of Path
        In the order of reading.
    calendars : tuple of (str, CalendarExport)
        Each by the name of its file: of each person, or the whole one and a selection; none where the plan cannot be
        carried out as it is.
    stale : tuple of Path
        Calendars, their files of one event, and PDFs of an earlier build that are out of date now.
    browser_missing : bool
        Whether PDFs were asked for and nothing is installed that prints them.
    published : tuple of (str, Path)
        Calendars to subscribe to, each with the name of whose it is.
    to_send : tuple of (Helper, Path)
        Invitations that are new or changed, each with whom it goes to.
    uninvited : tuple of Helper
        Whose address the plan does not have, where invitations were asked for.
    """

    outlook: Outlook
    files: tuple[Path, ...]
    calendars: tuple[tuple[str, CalendarExport], ...] = ()
    stale: tuple[Path, ...] = ()
    browser_missing: bool = False
    published: tuple[tuple[str, Path], ...] = ()
    to_send: tuple[tuple[Helper, Path], ...] = ()
    uninvited: tuple[Helper, ...] = ()


@dataclass(frozen=True, slots=True)
class Target:
    """Where files go, found to be there before anything is looked for.

    Parameters
    ----------
    folder : Path
        Of the documents.
    secret : bytes
        What the names of published calendars are made of; empty: none are published.
    """

    folder: Path
    secret: bytes = b""


def target_of(path: Path, folder: Path, project: Project, settings: Settings) -> Target:
    """Look before a long search whether what it finds can be written.

    Raises
    ------
    OutputError
        Where a folder cannot be written to, or the calendar asked for is of nobody.
    """
    check_folder(folder)
    secret = b""
    if settings.publish is not None:
        check_folder(settings.publish)
        secret = secret_of(path)
    if not project.impossible:
        check_options(settings.calendar, project)
    return Target(folder, secret)


def write(outlook: Outlook, target: Target, settings: Settings) -> Built:
    """Outlook to files: all of them or none.

    Parameters
    ----------
    target : Target
        Where they go; the folder is made where it is missing.
    settings : Settings
        Calendar options.

    Raises
    ------
    OutputError
        Where one of them cannot be written, or a foreign calendar stands in the folder.
    """
    from moveplan.outputs.documents.printing import find_browser, printed

    folder = target.folder
    contents, exports = contents_of(outlook, folder, settings)
    browser = find_browser() if settings.pdf else None
    if browser is not None:
        contents |= {folder / name: data for name, data in printed(outlook, browser).items()}
    stale = tuple(_stale(folder, contents))
    links = (
        tuple(_published(outlook, settings, exports, target.secret)) if settings.publish is not None else ()
    )
    mails = list(_invitations(outlook, folder, settings, exports))
    to_send = tuple((guest, path) for guest, path, data in mails if read_file(path) != data)
    write_files(contents | {path: data for _, path, data in (*links, *mails)})
    missing = settings.pdf and browser is None
    told = tuple((name, path) for name, path, _ in links)
    uninvited = tuple(one for one in _guests(outlook, settings) if not one.email)
    return Built(outlook, tuple(contents), tuple(exports), stale, missing, told, to_send, uninvited)


def _guests(outlook: Outlook, settings: Settings) -> list[Helper]:
    """Name those with something to do beside whoever leads, where invitations are asked for."""
    if not (settings.calendar.invite and outlook.follow):
        return []
    asked = {one.person for one in _calendars(outlook, settings.calendar) if one.person != one.keeper}
    return [one for one in outlook.project.plan.people if one.id in asked]


def _invitations(
    outlook: Outlook, folder: Path, settings: Settings, exports: Sequence[tuple[str, CalendarExport]]
) -> Iterator[tuple[Helper, Path, bytes]]:
    """Give each invitation its place: a folder a guest."""
    calendars = dict(exports)
    for guest in _guests(outlook, settings):
        made = calendars[f"calendar{settings.calendar.for_person(guest.id, '').suffix}.ics"].invitations
        for name, data in made.items():
            yield guest, folder / INVITATIONS / guest.id / name, data


def _published(
    outlook: Outlook, settings: Settings, exports: Sequence[tuple[str, CalendarExport]], secret: bytes
) -> Iterator[tuple[str, Path, bytes]]:
    """Give the calendars of people, or the one of everybody, the names under which they are subscribed to."""
    from moveplan.outputs.calendar.write import published

    plan = outlook.project.plan
    people = {"": "everybody"} | {one.id: one.name or one.id for one in plan.people}
    folder = settings.publish or Path()
    for options, (_, export) in zip(_calendars(outlook, settings.calendar), exports, strict=False):
        if not (options.phase or options.moving_day):
            token = token_of(secret, plan.id, options.person, "calendar")
            yield people[options.person], folder / f"{token}.ics", published(export.data)


def contents_of(
    outlook: Outlook, folder: Path, settings: Settings
) -> tuple[dict[Path, bytes], list[tuple[str, CalendarExport]]]:
    """Make all files but PDFs, and write none.

    Returns
    -------
    tuple
        Content by place, and the calendars by the names of their files.
    """
    contents = _documents(outlook, folder)
    exports = []
    if outlook.follow:
        for options in _calendars(outlook, settings.calendar):
            export = _export(outlook, folder, options, settings)
            exports.append((f"calendar{options.suffix}.ics", export))
            contents |= _calendar_files(folder, options.suffix, export)
    return contents, exports


def _calendars(outlook: Outlook, options: CalendarOptions) -> tuple[CalendarOptions, ...]:
    """Ask for one calendar a person; or for the whole one, and the selection where there is one."""
    if options.every_task:
        return (options.whole, options) if options.selection else (options,)
    from moveplan.outputs.calendar.by_person import people_of

    people = people_of(outlook)
    if not people:
        return (replace(options, every_task=True),)
    return tuple(options.for_person(person, people[0]) for person in people)


def _export(outlook: Outlook, folder: Path, options: CalendarOptions, settings: Settings) -> CalendarExport:
    from moveplan.outputs.calendar.export import calendar_bytes

    chosen = options == settings.calendar or (bool(options.keeper) and options.person == options.keeper)
    before = settings.previous if chosen else None
    todos = read_file(folder / f"todos{options.suffix}.ics") if options.todos else None
    return calendar_bytes(outlook, _calendar_before(folder, options, before), options, todos)


def _calendar_files(folder: Path, suffix: str, export: CalendarExport) -> dict[Path, bytes]:
    files = {folder / f"calendar{suffix}.ics": export.data}
    if export.todos is not None:
        files[folder / f"todos{suffix}.ics"] = export.todos
    return files | {folder / f"events{suffix}" / name: data for name, data in export.split.items()}


def _earlier(folder: Path) -> list[Path]:
    """Find what an earlier build has left that not every build writes."""
    from moveplan.outputs.documents.printing import SHEETS

    sheets = (folder / name for name in SHEETS.values())
    return sorted(
        [
            *folder.glob("calendar*.ics"),
            *folder.glob("todos*.ics"),
            *(path for path in (*sheets, folder / SHOPPING, folder / TASKS) if path.exists()),
        ]
    )


def _stale(folder: Path, contents: Mapping[Path, bytes]) -> Iterator[Path]:
    """Name what is out of date now; of files of one event their folder, where none of them was made again."""
    yield from (path for path in _earlier(folder) if path not in contents)
    for events in sorted(folder.glob("events*/")):
        files = [path for path in sorted(events.glob("*.ics")) if _OWN_EVENT.fullmatch(path.name)]
        left = [path for path in files if path not in contents]
        yield from left if len(left) < len(files) else [events][: len(left)]


def _documents(outlook: Outlook, folder: Path) -> dict[Path, bytes]:
    from moveplan.outputs.data.result import result_json
    from moveplan.outputs.data.table import tasks_csv
    from moveplan.outputs.documents.checklist import checklist_md
    from moveplan.outputs.documents.page import page_html
    from moveplan.outputs.documents.shopping import shopping_md
    from moveplan.outputs.documents.summary import summary_md
    from moveplan.outputs.documents.tight import tight

    documents = {
        folder / REPORT: tight(page_html(outlook)).encode("utf-8"),
        folder / CHECKLIST: checklist_md(outlook).encode("utf-8"),
        folder / SUMMARY: summary_md(outlook).encode("utf-8"),
        folder / DATA: result_json(outlook),
    }
    if outlook.follow:
        if outlook.cost and outlook.cost.lines:
            documents[folder / SHOPPING] = shopping_md(outlook).encode("utf-8")
        documents[folder / TASKS] = tasks_csv(outlook)
    return documents


def _calendar_before(folder: Path, options: CalendarOptions, previous: Path | None) -> bytes | None:
    path = previous or folder / f"calendar{options.suffix}.ics"
    before = read_file(path)
    if before is None and previous is not None:
        msg = f"{path}: there is no such calendar; leave --previous out for a first export"
        raise OutputError(msg)
    return before
