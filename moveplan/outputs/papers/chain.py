"""What waits for what: the chain that decides a milestone, told from its first task to its last, and every link."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby

from moveplan.network.link import Link
from moveplan.outputs.agenda import Agenda, Line
from moveplan.outputs.outlook import Outlook
from moveplan.scheduling.dates.critical import Driver

Links = Mapping[str, list[tuple[int, Link]]]


@dataclass(frozen=True, slots=True)
class Row:
    """One task with all that it waits for.

    Parameters
    ----------
    waits_for : tuple of (int, Link)
        Numbers of the tasks it waits for, with the links.
    """

    line: Line
    waits_for: tuple[tuple[int, Link], ...]


@dataclass(frozen=True, slots=True)
class Step:
    """One task of a chain.

    Parameters
    ----------
    before : Line or None
        The task of the chain that it waited for; None: it begins the chain.
    driver : Driver or None
        Why it is not earlier; None where that is not known.
    """

    line: Line
    before: Line | None
    driver: Driver | None

    @property
    def idle_min(self) -> int:
        """From the end of the one before to its own start. [min]."""
        return 0 if self.before is None else max(0, self.line.placement.start - self.before.placement.finish)


@dataclass(frozen=True, slots=True)
class Chain:
    """What decides one milestone.

    Parameters
    ----------
    milestone : str
        Its name.
    stretches : tuple of (str, tuple of Step)
        Id of a place, and what is done there before the chain moves on; in order of time.
    """

    milestone: str
    stretches: tuple[tuple[str, tuple[Step, ...]], ...]


@dataclass(frozen=True, slots=True)
class Waiting:
    """All that waits.

    Parameters
    ----------
    chains : tuple of Chain
        One a milestone.
    rows : tuple of Row
        Tasks in order of start.
    """

    chains: tuple[Chain, ...]
    rows: tuple[Row, ...]

    @property
    def reasons(self) -> tuple[tuple[str, tuple[tuple[int, int, Link], ...]], ...]:
        """Each reason once, with the numbers of the tasks that wait for it and of those that they wait for."""
        found: dict[str, list[tuple[int, int, Link]]] = {}
        for row in self.rows:
            for number, link in row.waits_for:
                found.setdefault(link.why, []).append((row.line.number, number, link))
        return tuple((why, tuple(links)) for why, links in found.items())


def waiting(outlook: Outlook, agenda: Agenda) -> Waiting | None:
    """Tell what waits for what; None where there is nothing to tell."""
    if not agenda.lines:
        return None
    before: dict[str, list[tuple[int, Link]]] = {line.task.id: [] for line in agenda.lines}
    for link in outlook.project.network.links:
        line = agenda.line(link.before)
        if line is not None and link.after in before:
            before[link.after].append((line.number, link))
    rows = tuple(Row(line, tuple(before[line.task.id])) for line in agenda.lines)
    last = {name: agenda.line(task) for name, task in outlook.project.network.milestones}
    chains = (Chain(name, _stretches(agenda, before, line)) for name, line in last.items() if line)
    return Waiting(tuple(chains), rows)


def _stretches(agenda: Agenda, links: Links, last: Line) -> tuple[tuple[str, tuple[Step, ...]], ...]:
    steps = reversed(list(_backwards(agenda, links, last)))
    return tuple((place, tuple(own)) for place, own in groupby(steps, key=lambda step: step.line.task.place))


def _backwards(agenda: Agenda, links: Links, last: Line) -> Iterator[Step]:
    """Go back from the last task to what each waited for, as far as the day of the last reaches."""
    line: Line | None = last
    while line is not None:
        driver = line.times.driver if line.times else None
        before = _waited_for(agenda, links, line)
        if before is not None and before.day != last.day:
            before = None
        yield Step(line, before, driver)
        line = before


def _waited_for(agenda: Agenda, links: Links, line: Line) -> Line | None:
    """Find what held a task back: what its driver names, else the link before it that ends last; up the list."""
    driver = line.times.driver if line.times else None
    named = agenda.line(driver.task) if driver and driver.task else None
    above = agenda.lines[: agenda.lines.index(line)]
    if named in above:
        return named
    numbers = {number for number, link in links[line.task.id] if link.min_gap_min is not None}
    earlier = (one for one in reversed(above) if one.number in numbers)
    return max(earlier, key=lambda one: one.placement.finish, default=None)
