"""What a journal says, in the words of its templates: for a terminal, and for the phones of the crew."""

from __future__ import annotations

from collections.abc import Mapping
from zoneinfo import ZoneInfo

from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.now.next_up import NextUp
from moveplan.outputs.wording.templates import environment
from moveplan.times import iso, to_local, told
from moveplan.units import show_duration, show_kept, show_odds, show_share


def fill(template: str, zone: ZoneInfo, now: int, values: Mapping[str, object]) -> str:
    """Fill a template of the journal.

    Parameters
    ----------
    template : str
        Its name.
    now : int
        UTC; times of the same day are printed without their date. [min]
    values : Mapping of str to object
        What it may name.
    """
    env = environment("text")
    today = to_local(now, zone).date()

    def when(minutes: int) -> str:
        local = to_local(minutes, zone)
        if local.date() == today:
            return f"{local:%H:%M}"
        year = f" {local.year}" if local.year != today.year else ""
        return f"{local:%a} {local.day} {local:%b}{year} {local:%H:%M}"

    env.filters.update(
        when=when,
        stamp=lambda minutes: iso(minutes, zone),
        told=lambda minutes: told(minutes, zone),
        span=lambda minutes: show_duration(round(minutes)),
        odds=show_odds,
        kept=show_kept,
        share=show_share,
    )
    return env.get_template(f"terminal/{template}.txt.j2").render(now=now, **values)


def at_hand(found: NextUp, snapshot: Snapshot) -> dict[str, object]:
    """Gather what the ways on from a failure name: how long batteries last, who takes animals in, whom to ring."""
    stands = snapshot.premises
    return {
        "ways": found.ways_on,
        "air_min": stands.air_min if stands else None,
        "havens": stands.havens if stands else (),
        "ring": stands.ring if stands else (),
    }
