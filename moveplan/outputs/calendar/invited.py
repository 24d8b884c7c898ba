"""Invitations: one person's events as messages that their calendar can answer, one an event.

RFC 5546 wants a single UID in each. Nothing is sent from here: the files go as attachments of a mail.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import icalendar
from icalendar import vCalAddress

from moveplan.outputs.calendar.spelled import Spelled
from moveplan.outputs.calendar.spelling import KEY
from moveplan.outputs.calendar.write import single
from moveplan.outputs.wording.escape import one_line
from moveplan.plan.people import Helper

_BEGIN, _END = b"BEGIN:VEVENT\r\n", b"END:VEVENT\r\n"
_ASKED = {"CUTYPE": "INDIVIDUAL", "ROLE": "REQ-PARTICIPANT", "PARTSTAT": "NEEDS-ACTION", "RSVP": "TRUE"}


def invitations(items: Iterable[Spelled], organizer: Helper, guest: Helper) -> Mapping[str, bytes]:
    """Make one message an event: an invitation, or that it is called off.

    Parameters
    ----------
    items : iterable of Spelled
        Events of the guest with their stamps, cancelled ones included.
    organizer, guest : Helper
        Who invites, and who is invited; both have an address.

    Returns
    -------
    Mapping of str to bytes
        By file names that stay when an event moves.

    References
    ----------
    RFC 5546, sections 3.2.2 (REQUEST) and 3.2.5 (CANCEL).
    """
    parties = _parties(organizer, guest)
    made = {}
    for item in items:
        off = item.component.get("STATUS") == "CANCELLED"
        octets = item.octets.replace(_BEGIN, _BEGIN + parties, 1)
        name = str(item.component.get(KEY)).partition(":")[2].replace(":", "-").replace("/", "-")
        made[f"{name}.ics"] = single(item._replace(octets=octets), "CANCEL" if off else "REQUEST")
    return made


def _parties(organizer: Helper, guest: Helper) -> bytes:
    """Spell who invites whom."""
    lines = icalendar.Event()
    for name, one, asked in (("ORGANIZER", organizer, {}), ("ATTENDEE", guest, _ASKED)):
        called = {"CN": one_line(one.name or one.id)}
        lines.add(name, vCalAddress(f"mailto:{one.email}"), parameters=called | asked)
    return bytes(lines.to_ical()).removeprefix(_BEGIN).removesuffix(_END)
