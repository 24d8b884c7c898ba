from __future__ import annotations

import re
from dataclasses import replace

from moveplan.network.task import State
from moveplan.outputs.documents.checklist import checklist_md
from moveplan.outputs.outlook import Verdict
from tests.outputs.hostile import hostile
from tests.outputs.scene import REASONS, ROWS, bare, impossible, moving_day


def test_every_task_stands_there_once_with_a_box() -> None:
    text = checklist_md(moving_day())
    for row in ROWS:
        assert text.count(f". **{row.title}**: ") == 1
    boxes = [line for line in text.splitlines() if line.startswith("- [")]
    assert len(boxes) == len(ROWS)


def test_a_task_says_when_how_long_who_where_what_and_what_to_mind() -> None:
    text = checklist_md(moving_day())
    expected = (
        "**Carry the empty tank down**: 30 min, Cai Moss, Per Olin, Una Harte, Mill Terrace; room 50 min."
        " **Care, glass.** Carry glass upright, with gloves, and never by the rim. Care as above: lifting."
        " Suction cups and gloves; three people.\n"
    )
    assert "- [ ] **10:40 – 11:10** 16. " + expected in text


def test_a_hold_point_asks_for_a_name_and_a_time() -> None:
    text = checklist_md(moving_day())
    assert text.count("**HOLD POINT: nothing that waits for this goes on until it is met.** Met by: ___") == 3


def test_recurring_care_has_a_box_for_each_time() -> None:
    text = checklist_md(moving_day())
    assert " Each time: ☐ Sun, 23 May, 18:00; ☐ Mon, 24 May, 18:00; " in text
    assert text.count("☐ ") == 14


def test_what_is_done_is_ticked_and_what_is_dropped_says_so() -> None:
    outlook = replace(moving_day(), states={"check-floor": State.COMPLETED, "book-van": State.CANCELLED})
    text = checklist_md(outlook)
    assert "- [x] **Sat, 3 Apr, 10:00 – 11:00** 1. **Check the floor at Quarry Rise**" in text
    assert "- [-] **Mon, 5 Apr, 18:00 – 18:20** 2. **Book the van**" in text
    assert ". Dropped: not to be done." in text


def test_the_moving_day_gives_the_latest_moment_to_open_each_container() -> None:
    row = (
        "| Yellow-finned tang (1) | B3 (1 × 25 l bag) | 09:30 – 16:30 "
        "| **Sat, 22 May, 17:20**; in the vehicle Sat, 22 May, 15:40 | 7 h 50 min to 15 h | ammonia builds up |\n"
    )
    assert row in checklist_md(moving_day())


def test_cautions_defer_to_local_codes() -> None:
    text = checklist_md(moving_day())
    assert "Local codes, the vehicle's plate and licensed tradespeople have the last word." in text
    assert text.count(" **Care, lifting.** Nobody lifts more than 25 kg alone") == 1


def test_what_cannot_be_done_says_so_first_and_lists_no_task() -> None:
    text = checklist_md(impossible())
    assert text.splitlines()[4] == "## It cannot be done as written"
    assert f"1. {REASONS[0].message}\n" in text
    assert "   - Way out: hire the van until 18:00; tried, it works\n" in text
    assert "- [ ]" not in text


def test_an_unsafe_plan_is_not_written_out_as_something_to_follow() -> None:
    text = checklist_md(replace(moving_day(), verdict=Verdict.UNSAFE, problems=REASONS))
    assert text.splitlines()[4] == "## It is not safe as planned"
    assert "- [ ]" not in text


def test_undecided_does_not_claim_a_proof() -> None:
    text = checklist_md(replace(impossible(), verdict=Verdict.UNDECIDED))
    assert "there may be one" in text
    assert "proven" not in text


def test_hostile_names_stay_on_their_line_and_open_nothing() -> None:
    outlook = moving_day()
    title = "<script>x</script> | [a](b)\n# heading\n- [ ] fake"
    tasks = tuple(
        replace(task, title=title, steps=(title,)) if task.id == "book-van" else task
        for task in outlook.project.network.tasks
    )
    project = replace(outlook.project, network=replace(outlook.project.network, tasks=tasks))
    text = checklist_md(replace(outlook, project=project))
    assert r"2. **\<script\>x\</script\> \| \[a\](b) \# heading - \[ \] fake**: " in text
    assert len([line for line in text.splitlines() if line.startswith("- [")]) == len(ROWS)


def test_own_tasks_need_no_phase_and_no_animals() -> None:
    lines = checklist_md(bare()).splitlines()
    assert [line for line in lines if line.startswith("## ")] == ["## Tasks"]
    assert "Take care" not in "\n".join(lines)


def test_two_hundred_hostile_names_change_no_line_of_the_frame() -> None:
    def frame(text: str) -> list[str]:
        heads = ("#", "- [", "| ", "```", "<", "=", "+", "***")
        return [line.split(" ")[0] for line in text.splitlines() if line.startswith(heads)]

    assert frame(checklist_md(hostile(moving_day()))) == frame(checklist_md(moving_day()))


def test_who_is_kept_at_hand_stands_there_with_the_number() -> None:
    day = moving_day()
    plan = replace(day.project.plan, people=(replace(day.project.plan.people[0], phone="+353 1 000 0021"),))
    text = checklist_md(replace(day, project=replace(day.project, plan=plan)))
    assert "- Keep at hand: Quayside fish vet (invented) (vet): +353 1 000 0000\n" in text
    assert f"- Keep at hand: {plan.people[0].name}: +353 1 000 0021\n" in text


def test_every_step_stands_there_in_order() -> None:
    text = checklist_md(moving_day())
    for row in ROWS:
        at = text.index(f"**{row.title}**: ")
        for step in row.steps:
            at = text.index(step, at)


def test_the_list_goes_by_date_and_its_numbers_only_rise() -> None:
    text = checklist_md(moving_day())
    assert [line for line in text.splitlines() if line.startswith("## ")] == [
        "## Before the day",
        "## The day",
        "## After the day",
    ]
    numbers = [int(found) for found in re.findall(r"^- \[.\] \*\*.*?\*\* (\d+)\. ", text, re.MULTILINE)]
    assert numbers == list(range(1, len(ROWS) + 1))


def test_what_the_day_asks_of_people_beyond_what_it_should_stands_on_top() -> None:
    said = ("Ines *Farrow* is there for 13 h", "animals wait at Old and nobody is there")
    scene = moving_day()
    text = checklist_md(replace(scene, project=replace(scene.project, day_said=said)))
    first = text.index("## ")
    assert text.index("- **Know beforehand:** Ines \\*Farrow\\* is there for 13 h.\n") < first
    assert text.index("- **Know beforehand:** animals wait at Old and nobody is there.\n") < first
