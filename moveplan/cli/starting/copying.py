"""A plan of the keeper's own from an example or an old plan: dates moved along, and what to look at named.

The text is changed and not the values, so that comments and order stay as somebody wrote them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

_ID = re.compile(r"^id:.*\n", re.MULTILINE)
_AS_OF = re.compile(r"^as-of:\s*[\"']?(\d{4}-\d\d-\d\d).*\n", re.MULTILINE)
_TITLE = re.compile(r"^title:.*$", re.MULTILINE)
_MOVE = re.compile(r"^\s*(?:dates:\s*\{.*?)?move-(?:day|window):\s*[\"']?(\d{4}-\d\d-\d\d)", re.MULTILINE)
_DATE = re.compile(r"(?<![\w-])(\d{4})-(\d\d)-(\d\d)(?![\w-])")
_INVENTED = re.compile(r"^\s+.*\b(?:phone|email|address|cost|price|value|rate-per|fee|deposit):")
_PRICES = re.compile(r"^prices:.*\n(?:(?:[ \t]+\S.*|[ \t]*#.*|[ \t]*)\n)*", re.MULTILINE)
_BESIDE = re.compile(r"^(?:livestock|gear|kinds|prices)-file:[ \t]*[\"']?([^\"'#\n]*[^\"'#\s])", re.MULTILINE)
_HEAD = re.compile(r"\A(?:#.*\n)+")
_LEAD = timedelta(weeks=10)
"""From a plan that does not say when it was written to its move: what it takes to prepare one. [-]"""
_WEEK = 7
"""Days of a week: dates move by whole weeks, so that weekdays stay. [d]"""


@dataclass(frozen=True, slots=True)
class Copied:
    """A plan that was taken over.

    Parameters
    ----------
    text : str
        Content of the new plan file.
    invented : tuple of int
        Its lines with prices, telephone numbers and addresses that are somebody else's, counted from 1.
    weeks : int
        By how many weeks its dates were moved.
    beside : tuple of str
        Files beside it that it names, such as a table of gear; they belong beside the copy too.
    """

    text: str
    invented: tuple[int, ...]
    weeks: int
    beside: tuple[str, ...] = ()


def copied(text: str, today: date, *, plan_id: str, title: str, source: str) -> Copied:
    """Take a plan over.

    Parameters
    ----------
    text : str
        Content of an example or of an old plan.
    today : date
        Its dates lie as far after this day as they lay after the day it was written, in whole weeks.
    plan_id : str
        Id of the new plan.
    title : str
        Its title, as YAML.
    source : str
        Name of what is copied, for the first line.
    """
    weeks = _weeks_along(text, today)
    moved = _DATE.sub(lambda found: _later(found, weeks), _HEAD.sub("", _AS_OF.sub("", _ID.sub("", text))))
    named = _TITLE.sub(
        lambda _found: f"id: {plan_id}   # names this plan for ever\ntitle: {title}", moved, count=1
    )
    whole = f"# Copied from {source}; its dates were moved {_told(weeks)}.\n{named}"
    return Copied(whole, tuple(_invented(whole)), weeks, tuple(_BESIDE.findall(whole)))


def _told(weeks: int) -> str:
    return f"{abs(weeks)} week{'' if abs(weeks) == 1 else 's'} {'earlier' if weeks < 0 else 'later'}"


def _weeks_along(text: str, today: date) -> int:
    """Count the weeks by which dates move, so that weekdays stay and there is no less time than there was."""
    written, move = _AS_OF.search(text), _MOVE.search(text)
    if written is not None:
        before = date.fromisoformat(written[1])
    elif move is not None:
        before = date.fromisoformat(move[1]) - _LEAD
    else:
        return 0
    return -((before - today).days // _WEEK)


def _later(found: re.Match[str], weeks: int) -> str:
    try:
        return (date(int(found[1]), int(found[2]), int(found[3])) + timedelta(weeks=weeks)).isoformat()
    except (ValueError, OverflowError):
        return found[0]  # no date, whatever it is; the reader says so


def _invented(text: str) -> Iterator[int]:
    """Find the lines whose money and addresses are not the keeper's own."""
    prices = [(found.start(), found.end()) for found in _PRICES.finditer(text)]
    place = 0
    for number, line in enumerate(text.splitlines(keepends=True), 1):
        listed = any(begin <= place < end for begin, end in prices) and line.startswith((" ", "prices: {"))
        if (listed and line.strip()) or (_INVENTED.match(line) and not line.lstrip().startswith("#")):
            yield number
        place += len(line)


def with_paces(text: str, paces: dict[str, float]) -> str:
    """Add what was learnt from a journal: how long work really took, over how long it was planned.

    Parameters
    ----------
    text : str
        Content of a plan file.
    paces : dict of str to float
        Factors by their keys under ``policy``; those that the plan has are replaced.
    """
    lines = [f"  {name}: {factor}   # learnt from the move before" for name, factor in paces.items()]
    known = re.compile(rf"^  (?:{'|'.join(map(re.escape, paces))}):.*\n", re.MULTILINE)
    policy = re.search(r"^policy:[ \t]*(?:#.*)?\n", text, re.MULTILINE)
    if policy is None:
        return f"{text.rstrip()}\n\npolicy:\n" + "".join(f"{line}\n" for line in lines)
    head, rest = text[: policy.end()], text[policy.end() :]
    return head + "".join(f"{line}\n" for line in lines) + known.sub("", rest)


def in_runs(numbers: tuple[int, ...]) -> list[str]:
    """Write line numbers, those that follow each other as one.

    >>> in_runs((3, 4, 5, 9))
    ['3 to 5', '9']
    """
    runs: list[list[int]] = []
    for number in numbers:
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return [f"{run[0]} to {run[-1]}" if len(run) > 1 else str(run[0]) for run in runs]
