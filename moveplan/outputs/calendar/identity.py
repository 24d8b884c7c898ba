"""Names that last: the same task of the same plan has the same UID in every export.

UIDs come from the plan's id and the task's id, never from a date, a title or a place in a list. RFC 7986,
section 5.3, asks for opaque ones without host or user names, shorter than 255 octets.
"""

from __future__ import annotations

from uuid import UUID, uuid5

# Drawn at random once; a change would double every calendar that was ever exported.
_NAMESPACE = UUID("a77f368b-3e05-46bf-b9bb-16c83693ee0e")


def _uid(plan_id: str, name: str) -> str:
    return str(uuid5(uuid5(_NAMESPACE, plan_id), name))


def calendar_uid(plan_id: str, selection: str = "") -> str:
    """UID of the calendar as a whole, or of a selection from it.

    Parameters
    ----------
    selection : str
        What was selected; empty: everything.

    Returns
    -------
    str
        A UUID, version 5.

    Examples
    --------
    >>> calendar_uid("footbridge") == calendar_uid("footbridge", "person=ines")
    False
    """
    return _uid(plan_id, f"calendar:{selection}" if selection else "calendar")


def to_dos_uid(plan_id: str, selection: str = "") -> str:
    """UID of the second calendar, which holds the to-dos.

    Parameters
    ----------
    plan_id, selection : str
        As in :func:`calendar_uid`.

    Returns
    -------
    str
        A UUID, version 5.
    """
    return _uid(plan_id, f"to-dos:{selection}" if selection else "to-dos")


def event_uid(plan_id: str, key: str) -> str:
    """UID of one event.

    Parameters
    ----------
    key : str
        Id of the task and number of the segment, such as ``drain-display/1``.

    Returns
    -------
    str
        A UUID, version 5.

    Examples
    --------
    >>> event_uid("footbridge", "deck/1")
    'd086b498-67c5-5b1d-9d80-b982484e42a2'
    """
    return _uid(plan_id, f"event:{key}")


def to_do_uid(plan_id: str, key: str) -> str:
    """UID of one to-do; the event of the same task has another.

    Parameters
    ----------
    plan_id, key : str
        As in :func:`event_uid`.

    Returns
    -------
    str
        A UUID, version 5.
    """
    return _uid(plan_id, f"todo:{key}")


def alarm_uid(plan_id: str, key: str) -> str:
    """UID of the alarm of an event (RFC 9074, section 4).

    Parameters
    ----------
    plan_id, key : str
        As in :func:`event_uid`.

    Returns
    -------
    str
        A UUID, version 5.
    """
    return _uid(plan_id, f"alarm:{key}")
