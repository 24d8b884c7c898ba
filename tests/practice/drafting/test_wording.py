"""What every plan says to the people who carry it out: steps, reasons, no open ends."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache
from itertools import pairwise

import pytest

from moveplan.compiled import template_folder
from moveplan.estimate import Estimate, exactly
from moveplan.network.task import Kind
from moveplan.practice.compose import project_of
from moveplan.practice.drafting.wording import Wording, _filters, _template
from moveplan.practice.own_tasks import PHASE
from moveplan.practice.project import Project
from tests import examples
from tests.quantities.plans import TEXT, plan_of

TWO_TRIPS = TEXT.replace("payload: 1100 kg", "payload: 260 kg").replace(
    "count: 1, size: 8 cm, temper", "count: 3, size: 8 cm, temper"
)
DONE = re.compile(r"^Done when ")


@cache
def project(name: str) -> Project:
    """The project of an example, or of the plan of the tests."""
    if name == "tests":
        return project_of(plan_of())
    if name == "two trips":
        return project_of(plan_of(TWO_TRIPS))
    return examples.project(name)


IN_ONE_DAY = ("tests", "two trips", "house_move", "short_plan", "impossible_dates")
in_one_day = pytest.mark.parametrize("name", IN_ONE_DAY)
every_plan = pytest.mark.parametrize("name", ["tests", "two trips", *examples.NAMES])


@every_plan
def test_every_task_has_steps_and_ends_in_a_sign_of_being_done(name: str) -> None:
    for task in project(name).network.tasks:
        if task.phase == PHASE:
            continue
        assert task.steps, task.id
        assert DONE.match(task.steps[-1]), f"{task.id}: {task.steps[-1]}"
        assert not any(DONE.match(step) for step in task.steps[:-1]), task.id


def key(task_id: str, systems: tuple[str, ...]) -> str:
    """Verb and thing of a task's id; the same work of another day, wave or system has the same one."""
    for system in systems:
        task_id = task_id.replace(f"-{system}", "")
    return "-".join(re.sub(r"\.\d+|-in$", "", task_id).split("-")[:2])


@every_plan
def test_no_two_tasks_share_a_step_or_a_title(name: str) -> None:
    found = project(name)
    systems = tuple(one.id for one in found.plan.systems)
    alone = found.way == "same-day" and sum(one.role != "holding" for one in found.plan.systems) == 1
    users: dict[str, list[str]] = {}
    for task in found.network.tasks:
        for step in task.steps:
            users.setdefault(step, []).append(key(task.id, systems))
    shared = {step: names for step, names in users.items() if len(set(names)) > 1}
    assert shared == {}
    titles = Counter(task.title for task in found.network.tasks)
    assert not alone or [title for title, count in titles.items() if count > 1] == []


@every_plan
def test_every_text_is_filled_in_and_ends_as_a_sentence(name: str) -> None:
    for task in project(name).network.tasks:
        for text in (task.title, *task.steps):
            assert text == text.strip()
            assert not re.search(r"[{}]|\bNone\b|\bnan\b|<moveplan|  |\.\.$| ,| \.|^,", text), (
                f"{task.id}: {text}"
            )
        for step in task.steps:
            assert step.endswith((".", "!", "?")), f"{task.id}: {step}"
            assert step[0].isupper() or step[0].isdigit(), f"{task.id}: {step}"


@every_plan
def test_every_link_has_a_reason(name: str) -> None:
    links = project(name).network.links
    assert links
    for link in links:
        assert len(link.why) > 8, f"{link.before} > {link.after}"
        assert not re.search(r"[{}]|\bNone\b", link.why), link.why


@in_one_day
def test_no_task_is_left_hanging(name: str) -> None:
    network = project(name).network
    waits, waited = {link.after for link in network.links}, {link.before for link in network.links}
    own = {task.id for task in network.tasks if task.phase == PHASE}
    assert [task.id for task in network.tasks if task.id not in waits | own] == ["agree-plan"]
    assert [task.id for task in network.tasks if task.id not in waited | own] == ["look-back"]


@in_one_day
def test_nothing_is_tied_to_the_last_task_only_to_close_it(name: str) -> None:
    before_last = [link for link in project(name).network.links if link.after == "look-back"]
    assert 1 <= len(before_last) <= 4


@every_plan
def test_waits_need_nobody_and_work_needs_somebody(name: str) -> None:
    for task in project(name).network.tasks:
        if task.kind is Kind.WAIT:
            assert task.crew is None, task.id
        elif task.kind in (Kind.WORK, Kind.TRAVEL) and task.phase != PHASE:
            assert task.crew is not None, task.id


def test_a_house_move_has_some_60_to_130_tasks_and_breaks_besides() -> None:
    for name in ("tests", "house_move", "short_plan"):
        tasks = [one for one in project(name).network.tasks if one.kind is not Kind.REST]
        assert 60 <= len(tasks) <= 130


ORDERS = (
    ("agree-plan", "check-new-floor", "order-missing", "wait-gear", "mix-water", "go-or-no-go"),
    ("agree-plan", "list-livestock", "health-check", "final-health-check", "go-or-no-go"),
    ("wash-containers", "start-water", "make-water", "mix-water", "stand-water", "trim-water", "go-or-no-go"),
    ("go-or-no-go", "record-morning", "no-way-back", "corals-out"),
    ("record-morning", "heaters-off", "draw-keep-water", "rock-out", "lower-water", "catch-fish"),
    ("no-way-back", "corals-out", "rock-out", "invertebrates-out", "catch-fish", "drain-tank"),
    ("catch-fish", "drain-tank", "sand-out", "tank-off", "load-tank", "load-animals"),
    ("heaters-cool", "strip-equipment", "tank-off"),
    ("go-or-no-go", "lay-hoses", "draw-keep-water", "strip-equipment"),
    ("catch-fish", "seal-fish", "load-animals", "drive", "unload-animals"),
    ("drive", "unload-tank", "place-tank", "sand-in", "rock-in", "fill-tank", "warm-water", "water-matched"),
    ("connect-equipment", "start-equipment", "leak-check", "release-fish"),
    ("start-equipment", "warm-water", "water-matched", "place-corals", "release-fish"),
    ("water-matched", "fish-warm", "release-fish"),
    ("start-equipment", "float-fish", "fish-warm", "release-fish", "watch-evening", "look-back"),
)


@pytest.mark.parametrize("order", ORDERS, ids=lambda order: f"{order[0]} to {order[-1]}")
@pytest.mark.parametrize("name", ["tests", "house_move", "short_plan"])
def test_the_order_of_the_trade_is_kept(name: str, order: tuple[str, ...]) -> None:
    """Common practice, no source: each of these waits for the one before, over however many links."""
    network = project(name).network
    following: dict[str, set[str]] = {}
    for link in network.links:
        if link.min_gap_min is not None:
            following.setdefault(link.before, set()).add(link.after)
    ids = [next(task.id for task in network.tasks if f"{task.id}-".startswith(f"{key}-")) for key in order]
    for before, after in pairwise(ids):
        assert after in reached(following, before), f"{after} does not wait for {before}"


def reached(following: dict[str, set[str]], start: str) -> set[str]:
    """All tasks that wait for one, over however many links."""
    found, ahead = set[str](), [start]
    while ahead:
        for after in following.get(ahead.pop(), set()) - found:
            found.add(after)
            ahead.append(after)
    return found


def test_timid_fish_go_in_before_territorial_ones() -> None:
    network = project("tests").network
    pairs = {(link.before, link.after) for link in network.links}
    assert ("release-fish-reef-timid", "release-fish-reef-territorial") in pairs


def test_a_name_that_does_not_exist_is_an_error_and_not_a_hole() -> None:
    words = Wording("metric")
    with pytest.raises(KeyError):
        words.task("juggle", dict)
    with pytest.raises(KeyError):
        words.why("a > b", dict)
    with pytest.raises(Exception, match="is undefined"):
        words.task("go-or-no-go", dict)


def test_quantities_are_printed_in_the_units_of_the_plan() -> None:
    engine, other = _filters("metric"), _filters("us")
    litres: Estimate = exactly(60.0, "l", "test")
    assert (engine["volume"](litres), other["volume"](litres)) == ("60 l", "15.9 US gal")
    assert engine["duration"](90.0) == "1 h 30 min"
    assert engine["share"](0.25) == "25 %"
    assert engine["listing"](["a", "b", "c"]) == "a, b and c"
    assert engine["listing"](["a"]) == "a"
    assert engine["listing"]([]) == ""


def test_a_number_that_stands_in_a_text_is_printed_in_the_units_of_the_plan_too() -> None:
    text = "Level within {{ 2 | millimetres }}."
    keepers = [("metric", "."), ("us", "."), ("us", ",")]
    printed = [_template(keeper, text).render() for keeper in keepers]

    assert printed == ["Level within 2 mm.", "Level within 0.08 in.", "Level within 0,08 in."]
    said = [Wording("metric", locale=one).phrase("gear-can", {"can": 58.7}) for one in ("de_DE", "en_IE")]
    assert said == ["lidded can for 58,7 l", "lidded can for 58.7 l"]


def test_each_table_of_words_names_its_phase() -> None:
    phases = [
        Wording("metric").phase(file.stem) for file in sorted((template_folder() / "tasks").glob("*.toml"))
    ]
    assert len(phases) >= 10
    assert all(isinstance(phase, str) for phase in phases)
