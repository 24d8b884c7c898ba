"""From a plan file to a plan, or to everything that is wrong with it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from moveplan.plan.move import Plan
from moveplan.planfile.beside.content import content_of, named_file
from moveplan.planfile.beside.kindsfile import own_kinds
from moveplan.planfile.beside.learnt import learnt
from moveplan.planfile.beside.pricefile import prices_in
from moveplan.planfile.beside.tables import add_tables
from moveplan.planfile.changed import apply_changes
from moveplan.planfile.crosschecks import crosschecked
from moveplan.planfile.draft import Draft, drafted
from moveplan.planfile.fill import filled
from moveplan.planfile.problems import ContradictionError, Fault, plan_file_error
from moveplan.planfile.sections import by_id
from moveplan.planfile.shifted import step_of
from moveplan.planfile.text import Node, UnreadableError, composed, decoded
from moveplan.planfile.walk import spot


def read_plan(
    path: Path,
    now: datetime | None = None,
    changes: Sequence[str] = (),
    usual: Mapping[str, str] | None = None,
) -> Plan:
    """Read a plan file.

    Parameters
    ----------
    now : datetime or None
        Time asked for on the command line; without an offset it is in the plan's zone. Otherwise the plan's
        ``as-of`` counts, else the clock.

    changes : sequence of str
        Values put in place of others, such as ``dates.access-from=2027-03-27``.
    usual : Mapping of str to str, optional
        What holds where the plan says nothing, beside its assumptions, by key path; for changes that count from what
        stands there.

    Returns
    -------
    Plan
        Complete, with the assumptions listed.

    Raises
    ------
    PlanFileError
        With every problem of the file.
    ContradictionError
        Where the changes can be read, and do not go with the rest of the plan.
    """
    try:
        content = content_of(path)
    except UnreadableError as error:
        raise plan_file_error(error.faults, str(path)) from None
    return plan_of(content, path, now, changes, usual)


def plan_of(
    content: bytes,
    path: Path,
    now: datetime | None = None,
    changes: Sequence[str] = (),
    usual: Mapping[str, str] | None = None,
) -> Plan:
    """Read the content of a plan file.

    Parameters
    ----------
    content : bytes
        What stands in it, or will.
    path : Path
        The file, for messages.
    now : datetime or None
        Time asked for on the command line, as in `read_plan`.
    changes : sequence of str
        Values put in place of others, as in `read_plan`.
    usual : Mapping of str to str, optional
        What holds where the plan says nothing, as in `read_plan`.

    Raises
    ------
    PlanFileError
        With every problem of the content.
    """
    try:
        root, faults = composed(decoded(content))
    except UnreadableError as error:
        raise plan_file_error(error.faults, str(path)) from None
    _no_firm(root, path)
    faults += by_id(root)
    wrong, guesses = add_tables(root, path.parent)
    own, more = own_kinds(root, path.parent)
    faults += wrong + more
    known = _assumed(content, path, now, changes) | dict(usual or {})
    faults += apply_changes(root, changes, known)
    draft, more = drafted(root, now, own)
    faults += more
    if changes and not faults:
        _without_contradiction(draft, path)
    faults += crosschecked(draft)
    prices = named_file(root, "prices-file", "price", path.parent, faults)
    before, told = learnt(root, path.parent, faults)
    if faults:
        raise plan_file_error((_in_its_file(root, fault) for fault in faults), str(path))
    plan = filled(draft, path.name)
    plan = replace(plan, assumptions=(*plan.assumptions, *guesses, *told), learnt=before)
    return plan if prices is None else _priced(plan, prices[1], Path(prices[0]))


def _no_firm(root: Node, path: Path) -> None:
    """Refuse a firm file where one plan is wanted, in one sentence rather than key by key."""
    purpose, _ = spot(root, ("purpose",))
    if purpose.value == "firm":
        message = "this is a firm file, with many moves"
        remedy = "name the plan of one of its jobs; a firm is for build, check, show and record out"
        raise plan_file_error([Fault(purpose.line, ("purpose",), message, remedy)], str(path))


def _in_its_file(root: Node, fault: Fault) -> Fault:
    """Say to which file beside the plan a fault belongs, where what it is about stands in one."""
    return fault if fault.file else replace(fault, file=spot(root, fault.path)[0].file)


def _priced(plan: Plan, content: bytes, path: Path) -> Plan:
    """Add the prices of a price file that the plan itself does not name."""
    own = {price.item for price in plan.prices}
    further = (price for price in prices_in(content, path, plan.currency) if price.item not in own)
    return replace(plan, prices=(*plan.prices, *further))


def _assumed(content: bytes, path: Path, now: datetime | None, changes: Sequence[str]) -> dict[str, str]:
    """Look up what is assumed in the plan without its changes, where one of them counts from what stands there."""
    if not any(step_of(change.partition("=")[2]) for change in changes):
        return {}
    return {one.key: one.value for one in plan_of(content, path, now).assumptions}


def _without_contradiction(draft: Draft, path: Path) -> None:
    """Tell changes that can be read and yet do not go with the rest of the plan from those that cannot be read."""
    faults = tuple(crosschecked(draft))
    if faults:
        error = plan_file_error(faults, str(path))
        raise ContradictionError(error.problems, error.file_name)
