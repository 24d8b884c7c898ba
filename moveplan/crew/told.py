"""What phones are told beside the records: ways on from what failed, and how the rest of the day goes."""

from __future__ import annotations

from moveplan.crew.room import Room, renewed
from moveplan.journal.now.next_up import next_up
from moveplan.journal.rest.promised import promise_ahead
from moveplan.journal.state import JournalState, state_of
from moveplan.outputs.wording.journal import at_hand, fill


def ways(room: Room, now: int) -> str:
    """Say what there is to do about what has failed, as the terminal does; nothing where nothing has.

    Parameters
    ----------
    now : int
        UTC. [min]
    """
    state = _now_so(room)
    if not state.failures:
        return ""
    found = next_up(room.snapshot, state, now)
    return fill("ways_on", room.known.zone, now, {"next": found, **at_hand(found, room.snapshot)})


def forecast(room: Room, now: int) -> str:
    """Say how late the day runs and what of the promise holds from here, as the terminal does; nothing in time.

    Once its dates have moved, that alone is said.

    Parameters
    ----------
    now : int
        UTC. [min]
    """
    state = _now_so(room)
    found = next_up(room.snapshot, state, now)
    promise = promise_ahead(room.snapshot, state, now) if found.behind_min > 0 else None
    values = {"next": found, "promise": promise, "plan": room.snapshot}
    if found.moved:
        return " ".join(fill("moved", room.known.zone, now, values).split())
    lines = fill("forecast", room.known.zone, now, values).split("\n")
    return " ".join(f"{line[0].upper()}{line[1:]}." for line in lines if line.strip())


def _now_so(room: Room) -> JournalState:
    """Add up all lines of the journal, those of other hands too."""
    return state_of(renewed(room).journal.entries)
