"""``moveplan crew``: the crew's page on the home network."""

from __future__ import annotations

import time
from dataclasses import replace
from importlib.util import find_spec
from io import BytesIO
from ipaddress import ip_address
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from moveplan.cli.options import PlanPath, clear_progress
from moveplan.errors import MoveplanError, OutputError, PlanFileError, Problem

if TYPE_CHECKING:
    import socket
    from datetime import datetime

    from moveplan.crew.room import Room
    from moveplan.outputs.outlook import Outlook

Host = Annotated[
    str, typer.Option(help="Address to be reached at; default: this machine alone.", metavar="ADDRESS")
]
Port = Annotated[int, typer.Option(help="Port; 0: any that is free.", min=0, max=65535, metavar="N")]
Out = Annotated[
    Path | None,
    typer.Option(
        "--out", "-o", help="Folder for the codes, a picture a person, to print or send.", metavar="DIR"
    ),
]


class NotInstalledError(MoveplanError):
    """The extra that serves the page is not installed."""


def crew(plan: PlanPath, host: Host = "127.0.0.1", port: Port = 8420, out: Out = None) -> None:
    """Serve the crew's page: one address a person, records go into the journal.

    It is meant for the home network, never for the open one. Ends with an interrupt.

    Example: moveplan crew my_move.yaml --host 192.168.1.20
    """
    if not all(map(find_spec, ("segno", "starlette", "uvicorn"))):
        raise NotInstalledError("what serves the page is not installed: pip install 'moveplan[crew]'")
    from moveplan.cli.recording.diary import plan_id_of
    from moveplan.crew.room import room_of
    from moveplan.tokens import secret_of

    room = room_of(plan, plan_id_of(plan), b"")  # says first where nothing was accepted
    if out:
        from moveplan.files import check_folder

        check_folder(out)
    listening = _listen(host, port)
    room = room_of(plan, room.plan_id, secret_of(plan))
    address, bound = listening.getsockname()[:2]
    typer.echo(f"{room.snapshot.title}: the crew's page, for the home network only; end it with Ctrl-C")
    address = _reached_at(address)
    told: set[str] = set()

    def tell(room: Room) -> None:
        for token, person in room.tokens.items():
            if token not in told:
                told.add(token)
                url = f"http://{f'[{address}]' if ':' in address else address}:{bound}/{token}/"
                _give(room.snapshot.people[person], url, out and out / f"crew-{person}.svg")

    tell(room)  # addresses are there at once: what serves them is loaded after that, while the port listens
    import uvicorn

    from moveplan.crew.offers import Offers, replanned
    from moveplan.crew.pages import Pages
    from moveplan.crew.server import Desk, application

    def clock() -> int:
        return int(time.time() // 60)

    def served(room: Room) -> str:
        tell(room)
        return pages.key(room)

    pages = Pages(room, lambda room: _outlook(plan, room))  # made beside
    offers = Offers(lambda: replanned(desk.room, clock()))
    desk = Desk(room, pages.page, pages.calendar, clock, offers.look, served)
    app = application(desk)
    config = uvicorn.Config(app, log_level="warning", access_log=False, server_header=False, lifespan="off")
    uvicorn.Server(config).run(sockets=[listening])


def _give(name: str, url: str, picture: Path | None) -> None:
    """Print the address of a person with its code, and write the code where a picture of it is asked for."""
    import segno

    code = segno.make(url, error="m")
    typer.echo(f"\n{name}: {url}")
    for row in _drawn(code.matrix):
        typer.echo(row)
    if picture:
        from moveplan.files import write_files

        drawn = BytesIO()
        code.save(drawn, kind="svg", scale=8, title=name, desc=url)
        try:
            write_files({picture: drawn.getvalue()})
            typer.echo(f"the code is in {picture}; whoever has it can record as {name}")
        except OutputError as error:  # of somebody who joins later: all others are served
            typer.echo(str(error), err=True)


def _outlook(plan: Path, room: Room, now: datetime | None = None) -> Outlook:
    """Build what the page shows: the schedule in force, with all that has happened where nothing of it has to move."""
    from moveplan import pipeline

    try:
        anew = pipeline.outlook_of(plan, pipeline.Settings(now=now))
        outlook = anew if _is_as_accepted(anew, room) else _in_force(plan, room, anew)
    except MoveplanError as error:
        typer.echo(f"there is no page: {error}", err=True)
        raise
    finally:
        clear_progress()
    if not _is_understood(outlook, room):
        typer.echo(
            "the plan has changed since its schedule was accepted, so records of the page would not be understood: "
            f"run moveplan record {plan} accept",
            err=True,
        )
    return outlook


def _in_force(plan: Path, room: Room, anew: Outlook) -> Outlook:
    """Go on by what was accepted, what is broken on top; by the new schedule where the plan is another one."""
    from moveplan import pipeline
    from moveplan.outputs.outlook import Verdict
    from moveplan.times import to_local

    moment = to_local(room.snapshot.now, room.known.zone)
    then = pipeline.outlook_then(plan, pipeline.Settings(now=moment), room.line)
    if not _is_understood(then, room):
        return anew
    if anew.schedule.placements:
        return then
    typer.echo(
        "what is left has no schedule as things stand, so the page goes on by the one that was accepted, with what is "
        f"broken on top; moveplan build {plan} says more",
        err=True,
    )
    return replace(then, problems=(*anew.problems, *then.problems), verdict=Verdict.UNSAFE, goes_on=True)


def _is_as_accepted(outlook: Outlook, room: Room) -> bool:
    """Whether all that has not begun stands where it was accepted."""
    from moveplan.network.task import State

    starts = {task.id: task.start for task in room.snapshot.tasks}
    return _is_understood(outlook, room) and all(
        one.start == starts.get(one.task)
        for one in outlook.schedule.placements
        if outlook.states.get(one.task, State.NEEDS_ACTION) is State.NEEDS_ACTION
    )


def _is_understood(outlook: Outlook, room: Room) -> bool:
    """Whether records of a page of it name what the schedule in force has."""
    from moveplan.journal.taking.slip import index_of
    from moveplan.outputs.accepted import snapshot_of_outlook

    if not outlook.schedule.placements:
        return False
    return index_of(snapshot_of_outlook(outlook), room.plan_id).key == room.index.key


def _drawn(matrix: tuple[bytearray, ...]) -> list[str]:
    """Draw a code with half blocks, light on dark, with the margin of four that ISO/IEC 18004 asks for."""
    edge = [bytes(len(matrix) + 8)] * 4
    rows = [*edge, *(bytes(4) + row + bytes(4) for row in matrix), *edge, edge[0]]
    blocks = {(0, 0): "█", (0, 1): "▀", (1, 0): "▄", (1, 1): " "}
    return [
        "".join(blocks[one, other] for one, other in zip(rows[at], rows[at + 1], strict=True))
        for at in range(0, len(rows) - 1, 2)
    ]


def _reached_at(address: str) -> str:
    """Give the address that phones open, and say where they can open none."""
    served_at = ip_address(address.partition("%")[0])
    if not (served_at.is_loopback or served_at.is_unspecified):
        return address
    at_home = _at_home()
    if served_at.is_unspecified and at_home:
        return at_home
    option = f"--host {at_home or 'ADDRESS'}"
    typer.echo(
        f"no phone can open {address}: for phones give this computer's address on the home network, {option}"
    )
    return address


def _at_home() -> str:
    """Find the address of this computer that others on its network see; empty: it is on none.

    Nothing is sent: a datagram socket only looks up from where it would, to an address kept for examples (RFC 5737).
    """
    import socket

    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        try:
            asking.connect(("192.0.2.1", 9))
            found: str = asking.getsockname()[0]
        except OSError:
            return ""
    return "" if ip_address(found).is_loopback or ip_address(found).is_unspecified else found


def _listen(host: str, port: int) -> socket.socket:
    import socket

    try:
        family, kind, _, _, address = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0]
        listening = socket.socket(family, kind)
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listening.bind(address)
        except OSError:
            listening.close()
            raise
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        problem = Problem(f"{host} port {port} cannot be used: {reason}", "", "give another --host or --port")
        raise PlanFileError((problem,)) from None
    listening.listen(64)
    return listening
