"""The crew's page as a web application: every path begins with a token, and without one there is nothing."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.routing import Route
from starlette.types import ASGIApp, Receive, Scope, Send

from moveplan.crew.room import Room, record, renewed, shared
from moveplan.crew.told import forecast, ways
from moveplan.errors import MoveplanError
from moveplan.journal.state import dates_moved
from moveplan.journal.taking.slip import summed

MOST_BYTES = 65_536
"""Longest body that is read; 8,000 records. [-]"""
MOST_A_SECOND, MOST_AT_ONCE = 20.0, 60.0
"""Requests of one address that are answered; assumed. [1/s, -]"""
HEADERS = {
    "Cache-Control": "no-store",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
}


@dataclass
class Rates:
    """Counts the requests of each address."""

    left: dict[str, tuple[float, float]] = field(default_factory=dict)

    def allows(self, address: str, now: float) -> bool:
        """Whether one more request of an address is answered now."""
        if len(self.left) > 10_000:
            self.left.clear()
        before, at = self.left.get(address, (MOST_AT_ONCE, now))
        tokens = min(MOST_AT_ONCE, before + (now - at) * MOST_A_SECOND)
        self.left[address] = (max(tokens - 1.0, 0.0), now)
        return tokens >= 1.0


class Bounded:
    """Answers no address that asks too often, and lets no header out that tells or allows more than needed.

    Parameters
    ----------
    app : ASGI application
        What answers.
    """

    def __init__(self, app: ASGIApp) -> None:
        self.app = app
        self.rates = Rates()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        client = scope.get("client")
        if scope["type"] == "http" and not self.rates.allows(client[0] if client else "", time.monotonic()):
            await PlainTextResponse("too many requests", 429, HEADERS)(scope, receive, send)
            return
        await self.app(scope, receive, send)


@dataclass
class Desk:
    """Answers what comes with a token.

    Parameters
    ----------
    room : Room
        What the crew shares; another one as soon as another schedule is in force.
    page : callable
        The page of a person, by id.
    calendar_of : callable
        The calendar of a person, by id; None: they have nothing to do.
    clock : callable
        UTC. [min]
    offer : callable
        What of a new plan is offered, by all that the journal says and the line of what is in force.
    forecasts : dict of (object, int) to str
        How the rest goes, by the journal and the minute; the last one only.
    served : callable
        Names the plan that the page shows as it is given out now, by what is in force; empty: not known yet.
    """

    room: Room
    page: Callable[[str], str]
    calendar_of: Callable[[str], bytes | None]
    clock: Callable[[], int]
    offer: Callable[[str, int], str] = lambda *_: ""
    served: Callable[[Room], str] = lambda room: room.index.key
    forecasts: dict[tuple[object, int], str] = field(default_factory=dict)

    async def show(self, request: Request) -> Response:
        """Give the page."""
        text = await run_in_threadpool(self.page, await self._person(request))
        return Response(text, media_type="text/html", headers=HEADERS)

    async def slashed(self, request: Request) -> Response:
        """Send whoever left the last slash out to the page."""
        await self._person(request)
        return RedirectResponse(f"{request.url.path}/", headers=HEADERS)

    async def calendar(self, request: Request) -> Response:
        """Give the calendar of a person, for subscription."""
        data = await run_in_threadpool(self.calendar_of, await self._person(request))
        if data is None:
            raise HTTPException(404, headers=HEADERS)
        return Response(data, media_type="text/calendar", headers=HEADERS)

    async def records(self, request: Request) -> Response:
        """Take what a phone sends, and give all that is known."""
        person = await self._person(request)
        left: tuple[str, ...] = ()
        if request.method == "POST":
            text = await _body(request)
            try:
                left = await run_in_threadpool(record, self.room, person, text, self.clock())
                self.room = await run_in_threadpool(renewed, self.room)
            except MoveplanError as error:
                raise HTTPException(400, str(error), HEADERS) from None
        key = request.url.query
        index = next((one for one in self.room.indices if one.key == key), self.room.index)
        text = await run_in_threadpool(shared, self.room, index)
        said = "; ".join(left).encode("ascii", "replace").decode("ascii")[:900]
        offered = await self._offer()
        told = {
            "X-Plan": self.served(self.room),
            "X-Left-Out": said,
            "X-Offer": summed(offered) if offered else "",
            "X-Now": str(self.clock()),
            "X-Moved": "1" if dates_moved(self.room.journal.entries) else "",
        }
        return PlainTextResponse(text, headers=HEADERS | {name: one for name, one in told.items() if one})

    async def offered(self, request: Request) -> Response:
        """Say what a new plan would change."""
        await self._person(request)
        return PlainTextResponse(await self._offer(), headers=HEADERS)

    async def ways(self, request: Request) -> Response:
        """Say what there is to do about what has failed."""
        await self._person(request)
        text = await run_in_threadpool(ways, self.room, self.clock())
        return PlainTextResponse(text, headers=HEADERS)

    async def forecast(self, request: Request) -> Response:
        """Say how the rest of the day goes."""
        await self._person(request)
        key = self.room.signs, self.clock()
        if key not in self.forecasts:
            self.forecasts = {key: await run_in_threadpool(forecast, self.room, key[1])}
        return PlainTextResponse(self.forecasts[key], headers=HEADERS)

    async def _offer(self) -> str:
        return self.offer(await run_in_threadpool(shared, self.room), self.room.line)

    async def _person(self, request: Request) -> str:
        self.room = await run_in_threadpool(renewed, self.room)
        person = self.room.tokens.get(request.path_params["token"])
        if person is None:
            raise HTTPException(404, headers=HEADERS)
        return person


async def _body(request: Request) -> str:
    """Read a body, where this page sends it and it is not too long."""
    origin = request.headers.get("origin")
    if origin is not None and origin != f"{request.url.scheme}://{request.headers.get('host', '')}":
        raise HTTPException(403, "only this page may send records", HEADERS)
    body = b""
    async for chunk in request.stream():
        body += chunk
        if len(body) > MOST_BYTES:
            raise HTTPException(413, "that is too long", HEADERS)
    try:
        return body.decode("ascii")
    except UnicodeDecodeError:
        raise HTTPException(400, "that is no progress text", HEADERS) from None


def application(desk: Desk) -> ASGIApp:
    """Make the application: nothing but the paths of a token.

    Parameters
    ----------
    desk : Desk
        Who answers.
    """
    found = Starlette(
        routes=[
            Route("/{token}", desk.slashed, methods=["GET"]),
            Route("/{token}/", desk.show, methods=["GET"]),
            Route("/{token}/records", desk.records, methods=["GET", "POST"]),
            Route("/{token}/ways", desk.ways, methods=["GET"]),
            Route("/{token}/forecast", desk.forecast, methods=["GET"]),
            Route("/{token}/offer", desk.offered, methods=["GET"]),
            Route("/{token}/calendar.ics", desk.calendar, methods=["GET"]),
        ]
    )
    found.router.redirect_slashes = False  # it would answer to any path before a token is asked for
    return Bounded(found)
