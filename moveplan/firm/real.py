"""What a job really took against what was quoted when it was accepted, position by position."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from moveplan.cost.bill import cents
from moveplan.firm.carried import States, open_tasks, states_of
from moveplan.firm.outlook import FirmOutlook
from moveplan.firm.price import Quoted, QuoteLine
from moveplan.firm.quote import CENT
from moveplan.firm.values import Firm, Worker
from moveplan.journal.file.snapshot import PlannedTask
from moveplan.journal.state import TaskState
from moveplan.network.task import State
from moveplan.practice.under_way.story import Story


@dataclass(frozen=True, slots=True)
class Position:
    """One position, quoted and real.

    Parameters
    ----------
    item : str
        ``person``, ``drives``, ``travel``, ``wear``, ``materials`` or ``risk``.
    name : str
        Of a person; empty for anything else.
    quoted_quantity, real_quantity : Decimal or None
        Hours, kilometres or days of gear; None: only money. [h], [km], [day]
    quoted, real : Decimal
        Money, at the rates of the quote. [currency]
    recorded : bool
        Whether something was recorded of it; otherwise it is taken as quoted.
    """

    item: str
    name: str
    quoted_quantity: Decimal | None
    real_quantity: Decimal | None
    quoted: Decimal
    real: Decimal
    recorded: bool = True

    @property
    def more(self) -> Decimal:
        """Real less quoted. [currency]."""
        return self.real - self.quoted

    @property
    def share(self) -> float | None:
        """The same as a share of what was quoted; None: nothing was."""
        return float(self.more / self.quoted) if self.quoted else None


@dataclass(frozen=True, slots=True)
class Real:
    """A job that was accepted with a quote.

    Parameters
    ----------
    job : str
        Its id.
    positions : tuple of Position
        None while the firm still has work to do.
    asked : Decimal
        What the client pays without tax: the quoted sum and the margin. [currency]
    open : int
        Tasks of the firm that are neither done nor dropped.
    tasks, measured : int
        Tasks of the firm that are done, and those of them of which is known how long they took.
    """

    job: str
    positions: tuple[Position, ...]
    asked: Decimal
    open: int
    tasks: int
    measured: int

    @property
    def quoted(self) -> Decimal:
        """Sum of all positions as quoted. [currency]."""
        return sum((one.quoted for one in self.positions), CENT * 0)

    @property
    def real(self) -> Decimal:
        """Sum of all positions as they came. [currency]."""
        return sum((one.real for one in self.positions), CENT * 0)


def reals_of(outlook: FirmOutlook) -> tuple[Real, ...]:
    """Compare every job that was accepted with a quote.

    Parameters
    ----------
    outlook : FirmOutlook
        With the quotes that were kept, and the journals of all jobs.
    """
    rows = ((job.id, outlook.quoted.get(job.id), outlook.stories.get(job.id)) for job in outlook.firm.jobs)
    return tuple(
        _real(outlook, job, quoted, story)
        for job, quoted, story in rows
        if quoted is not None and story is not None and story.agreed is not None
    )


def _real(outlook: FirmOutlook, job: str, quoted: Quoted, story: Story) -> Real:
    states = states_of(outlook.firm, story)
    ended = [one for task, one in states.values() if one.state is State.COMPLETED]
    still = open_tasks(states)
    asked = quoted.price.net + quoted.price.margin
    positions = () if still else tuple(_positions(outlook, job, quoted, story, states))
    measured = sum(one.took_min is not None for one in ended)
    return Real(job, positions, asked, still, len(ended), measured)


def _positions(
    outlook: FirmOutlook, job: str, quoted: Quoted, story: Story, states: States
) -> Iterator[Position]:
    lines = {line.item: line for line in quoted.price.lines}
    people = list(_people(outlook.firm, quoted, states, lines))
    yield from people
    yield _drives(lines, people)
    driven = outlook.driven.get(job)
    yield _by_km(lines["travel"], driven)
    if "wear" in lines:
        of_km = lines["wear"].quantity == lines["travel"].quantity
        yield _by_km(lines["wear"], driven if of_km else None)
    spent = sum((Decimal(one.amount) for one in story.state.spent), Decimal(0))
    logged, materials = bool(story.state.spent), lines["materials"].amount
    yield Position("materials", "", None, None, materials, cents(spent) if logged else materials, logged)
    if "risk" in lines:
        yield Position("risk", "", None, None, lines["risk"].amount, CENT * 0)


def _people(firm: Firm, quoted: Quoted, states: States, lines: Mapping[str, QuoteLine]) -> Iterator[Position]:
    for worker in firm.people:
        planned = sum(people.get(worker.id, 0.0) for people in quoted.work.values())
        real = sum(_real_min(worker, quoted, task, state) for task, state in states.values())
        if planned or real:
            rate = lines["lead" if worker.helper.lead else "hand"].unit_price
            before, after = (cents(Decimal(round(one)) / 60) for one in (planned, real))
            yield Position("person", worker.name, before, after, cents(before * rate), cents(after * rate))


def _real_min(worker: Worker, quoted: Quoted, task: PlannedTask, state: TaskState) -> float:
    """Tell how long somebody was at a task; where nobody said how long it took, as long as planned. [min]."""
    if worker.id not in task.people or state.state is not State.COMPLETED:
        return 0.0
    if task.times > 1:
        return quoted.work.get(task.id, {}).get(worker.id, 0.0)
    return task.minutes if state.took_min is None else state.took_min


def _drives(lines: Mapping[str, QuoteLine], people: list[Position]) -> Position:
    """Give what of the quoted hours is no work: drives, of which nobody records how long they took."""
    hours = lines["lead"].quantity + lines["hand"].quantity
    hours -= sum((one.quoted_quantity or Decimal(0) for one in people), Decimal(0))
    amount = lines["lead"].amount + lines["hand"].amount - sum((one.quoted for one in people), Decimal(0))
    return Position("drives", "", hours, hours, amount, amount, recorded=False)


def _by_km(line: QuoteLine, driven: Decimal | None) -> Position:
    real = line.quantity if driven is None else driven
    amount = line.amount if driven is None else cents(driven * line.unit_price)
    return Position(line.item, "", line.quantity, real, line.amount, amount, driven is not None)
