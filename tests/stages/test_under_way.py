"""What a plan under way says of people: who was where is read off what was done, and off what is left."""

from __future__ import annotations

import pytest

from moveplan import pipeline
from tests.journal.replay import SETTINGS
from tests.practice.late_days import stopped


@pytest.mark.parametrize(("example", "share"), [("small_tank_move", 0.4), ("house_move", 0.3)])
def test_who_was_with_the_animals_while_it_was_done_is_not_said_to_be_missing(
    example: str, share: float
) -> None:
    project, story = stopped(example, share, 5)
    hung, again = pipeline.renew(project, story, SETTINGS)
    outlook = pipeline.judge_again(hung, again, story, SETTINGS)
    assert outlook.schedule.placements
    left = [note for note in outlook.project.day_notes if note[0] == "alone"]
    assert all(since >= story.now for _, _, since in left)
    begun = {one.task for one in outlook.schedule.placements if one.start < story.now}
    assert begun & {task.id for task in project.network.tasks if task.day}
    assert not any("nobody is there" in said for said in outlook.project.day_said)
