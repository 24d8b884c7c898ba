"""A label that was told stays on its container when the plan is composed again, whatever was lost since."""

from __future__ import annotations

import pytest

from moveplan.journal.file.agreed import labels_told
from moveplan.journal.file.kept import snapshot_data, snapshot_of
from moveplan.journal.records import Counted, Record
from moveplan.journal.state import state_of
from moveplan.outputs.accepted import snapshot_of_outlook
from moveplan.planfile.reader import read_plan
from moveplan.practice.compose import project_of
from moveplan.practice.ledger.entries import InUse
from moveplan.practice.under_way.story import Story, told
from tests.journal.builders import entries
from tests.journal.replay import EXAMPLES, outlook_of

What = tuple[str, ...]


def _again(example: str, *records: Record) -> tuple[dict[str, list[What]], tuple[InUse, ...]]:
    """Accept an example, let something happen, and compose it again: what was told, and what is used now."""
    accepted = snapshot_of_outlook(outlook_of(example))
    kept = [snapshot_of(snapshot_data(accepted), "")]
    story = Story(state_of(entries(*records)), accepted, accepted, accepted.now, labels=labels_told(kept))
    labels: dict[str, list[What]] = {}
    for number, what in story.labels:
        labels.setdefault(number, []).append(what)
    project = project_of(told(read_plan(EXAMPLES / f"{example}.yaml"), story))
    return labels, project.ledger.containers


@pytest.mark.parametrize("example", ["house_move", "house_move_with_gap", "several_systems"])
def test_a_plan_in_which_nothing_changed_keeps_every_label(example: str) -> None:
    _, now = _again(example)
    assert set(now) == set(outlook_of(example).project.ledger.containers)


@pytest.mark.parametrize("lost", ["goby", "cardinals", "sticks"])
def test_no_label_says_something_else_once_a_group_is_lost(lost: str) -> None:
    start = outlook_of("house_move").now
    labels, now = _again("house_move", Counted(at=start, group=lost, change=-20, reason="old"))
    used = {use.vessel.number: use.vessel.what for use in now}
    assert all(lost not in what for what in used.values())
    for number, what in used.items():
        for meant in labels.get(number, ()):
            shared = meant[:3] == what[:3] and set(meant[3:]) & set(what[3:])
            assert what == meant or shared, (number, what, meant)
    assert len(set(used) & set(labels)) > len(used) / 2
