"""Which ways of moving the facts of a plan allow, and what a plan that fits none is told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from moveplan.errors import CannotBeDoneError
from moveplan.network.graph import Network
from moveplan.plan.move import Plan
from moveplan.planfile.schema.words import WAYS
from moveplan.practice.compose import project_of
from moveplan.practice.project import Project
from moveplan.practice.ways.fitting import HOLD_OVER, NEW_TANK_AHEAD, SAME_DAY, SAME_SPOT, SHUT_DOWN, ways_of
from tests.examples import plan, project

CHOSEN = {
    "house_move": SAME_DAY,
    "small_tank_move": SAME_DAY,
    "service_firm_office_tank": SAME_DAY,
    "house_move_with_gap": HOLD_OVER,
    "house_move_into_larger_tank": NEW_TANK_AHEAD,
    "larger_tank_other_spot": NEW_TANK_AHEAD,
    "larger_tank_same_spot": SAME_SPOT,
    "shut_down_and_restart": SHUT_DOWN,
}


def waits_for(network: Network, after: str) -> set[str]:
    """All that a task waits for, over any number of links."""
    seen: set[str] = set()
    ahead = [after]
    while ahead:
        now = ahead.pop()
        found = {link.before for link in network.links if link.after == now} - seen
        seen |= found
        ahead += sorted(found)
    return seen


def out(found: Plan) -> dict[str, str]:
    return {fit.way: fit.why for fit in ways_of(found) if not fit.fits}


def ids(found: Project) -> set[str]:
    return {task.id for task in found.network.tasks}


def test_a_plan_file_may_name_every_way() -> None:
    assert set(WAYS) == {SAME_DAY, HOLD_OVER, NEW_TANK_AHEAD, SAME_SPOT, SHUT_DOWN}


@pytest.mark.parametrize(("name", "way"), CHOSEN.items())
def test_the_facts_of_each_example_choose_its_way(name: str, way: str) -> None:
    found = project(name)
    assert found.way == way
    assert not found.impossible
    assert not found.unsafe
    assumed = [one for one in found.assumptions if one.key == "way"]
    assert [one.value for one in assumed] == [way]


def test_the_other_ways_are_named_in_the_assumption() -> None:
    assumed = next(one for one in project("house_move").assumptions if one.key == "way")
    assert assumed.why == (
        "both homes can be entered on the day, and rock and media carry the filter along; hold-over, shut-down "
        "would also fit"
    )


@pytest.mark.parametrize(
    ("name", "reasons"),
    [
        (
            "house_move",
            {
                NEW_TANK_AHEAD: "no system of the plan gets a new tank",
                SAME_SPOT: "the tank goes to another home",
            },
        ),
        (
            "larger_tank_same_spot",
            {
                NEW_TANK_AHEAD: "the new tank of Bay window reef takes the spot of the old one, so both cannot run "
                "side by side",
                SAME_DAY: "the tank stays in its home, so there is nothing to drive",
            },
        ),
        (
            "house_move_with_gap",
            {
                NEW_TANK_AHEAD: "no system of the plan gets a new tank",
                SAME_DAY: "the new home opens on 2027-06-14, after the move day 2027-05-08",
                SAME_SPOT: "the tank goes to another home",
            },
        ),
    ],
)
def test_ways_that_do_not_fit_say_why(name: str, reasons: dict[str, str]) -> None:
    assert out(plan(name)) == reasons


def test_a_tank_that_cannot_be_ripe_in_time_is_not_made_ready_ahead() -> None:
    found = plan("house_move_into_larger_tank", "dates.access-from=2027-06-10 12:00")
    assert out(found)[NEW_TANK_AHEAD] == (
        "the new tank of Display reef could be ripe on 2027-06-22 at the earliest (12 days of setting up and cycle "
        "after access), after the move day 2027-06-12"
    )
    assert ways_of(found)[0].way == SAME_DAY


def refusal(found: Plan) -> Sequence[str]:
    with pytest.raises(CannotBeDoneError) as caught:
        project_of(found)
    return [str(problem) for problem in caught.value.problems]


def test_a_way_that_does_not_fit_is_refused_with_line_and_ways_out() -> None:
    assert refusal(replace(plan("house_move_with_gap"), way=SAME_DAY)) == [
        'house_move_with_gap.yaml:16 dates.access-from: the way "same-day" does not fit: the new home opens on '
        "2027-06-14, after the move day 2027-05-08; get the keys earlier, move later, or take hold-over with a third "
        "place or a holding system; the facts of the plan allow hold-over, shut-down"
    ]


def test_a_new_tank_that_does_not_pass_the_door_is_impossible() -> None:
    found = project("larger_tank_other_spot", "places.home.door-width=55 cm")
    assert [str(one) for one in found.impossible] == [
        "larger_tank_other_spot.yaml:44 systems.display.new-tank: the tank of Hall reef (120 cm × 60 cm × 55 cm) "
        "needs 60 cm of clear width with room for hands; the way into Orchard Row has 55 cm; choose a tank that is "
        "narrower or lower than 50 cm, or measure a wider way (a window, a door off its hinges) and write it under "
        "places.home.door-width"
    ]


def test_a_holding_system_too_small_says_who_would_have_to_go() -> None:
    found = project(
        "house_move_with_gap", "systems.waiting.tank.length=30 cm", "systems.waiting.tank.width=30 cm"
    )
    text = "\n".join(str(one) for one in found.unsafe)
    assert text.startswith("house_move_with_gap.yaml:65 systems.waiting: Holding tank would be overcrowded: ")
    assert "would have to go; board them, find new keepers, or write a larger holding system" in text


def test_a_predator_that_cannot_be_placed_is_refused_in_a_sentence() -> None:
    lion = "{name: Lionfish, kind: lionfish, count: 1, size: 20 cm, wished: yes}"
    found = project("house_move", f"livestock.lion={lion}")
    assert str(found.unsafe[0]) == (
        "house_move.yaml:68 livestock.lion: Lionfish cannot be placed: it would eat Clownfish, and there is no "
        "other system for it; give it a system of its own (system: …), find it a new keeper (leaves: …), or leave the "
        "wish out"
    )


def test_animals_that_are_boarded_leave_before_the_move_and_come_back_after_it() -> None:
    found = project("service_firm_office_tank")
    assert {"board-out-tidewell", "ready-for-boarders-tidewell", "board-back-tidewell"} <= ids(found)
    route = next(one for one in found.routes if one.livestock == "tangs")
    assert [stop.container for stop in route.stops if stop.safe is None] == [
        "Office reef",
        "Tidewell holding tanks",
        "Office reef",
    ]


def test_a_border_asks_for_papers_months_ahead() -> None:
    found = project("house_move", "places.harbour.country=GB")
    assert {"ask-permits", "wait-permits", "permits-in-hand", "health-papers"} <= ids(found)
    wait = found.network.task("wait-permits")
    assert wait.estimate.likely >= 8 * 7 * 1440
    assert "ask-permits" not in ids(project("house_move"))


def test_who_waits_in_a_holding_system_is_looked_after_every_day_and_every_week() -> None:
    """8 May to 19 June are 42 days: 41 days between them, and (42 - 2) // 7 = 5 weeks."""
    found = project("house_move_with_gap")
    daily = found.network.task("look-holding-display").repeats
    assert daily is not None
    assert (daily.every_min, daily.times) == (1440, 41)
    for care in ("change-holding-display", "mix-change-water-display"):
        weekly = found.network.task(care).repeats
        assert weekly is not None
        assert (weekly.every_min, weekly.times) == (7 * 1440, 5)
        assert "go-or-no-go-in" in {link.after for link in found.network.links if link.before == care}


def test_care_covers_a_gap_of_any_length() -> None:
    """8 May to 31 July are 84 days: 83 days between them, and (84 - 2) // 7 = 11 weeks."""
    later = ("dates.access-from=2027-07-26 12:00", "dates.move-in-day=2027-07-31")
    found = project("house_move_with_gap", *later).network
    daily, weekly = (found.task(f"{care}-display").repeats for care in ("look-holding", "change-holding"))
    assert (daily and daily.times, weekly and weekly.times) == (83, 11)


def test_a_weekday_on_which_nobody_can_look_after_them_is_named() -> None:
    """The six Fridays between 8 May and 19 June: 14, 21, 28 May, 4, 11, 18 June."""
    hours = "{mon-thu: 18:00-21:30, sat-sun: 09:00-18:00}"
    found = project("house_move_with_gap", f"people.lorcan.hours={hours}", f"people.nell.hours={hours}")
    assert found.hints[-1] == (
        "give somebody who cares for animals an hour on Friday: those who wait in Holding tank are looked after "
        "every day, and on 6 days nobody has time"
    )
    assert not any("nobody has time" in hint for hint in project("house_move_with_gap").hints)


def test_the_cycle_is_a_hold_point_that_waits_for_the_day_the_model_expects() -> None:
    found = project("house_move_into_larger_tank")
    links = {(link.before, link.after) for link in found.network.links}
    assert ("ripen-display", "cycle-done-display") in links
    assert found.network.task("cycle-done-display").kind.value == "hold-point"


def test_waves_end_with_the_old_tank_kept_to_fall_back_on() -> None:
    found = project("larger_tank_other_spot")
    following = {link.after for link in found.network.links if link.before.startswith("watch-wave-")}
    assert "keep-fallback-display" in following
    assert {"sell-old-display", "clean-old-display"} <= ids(found)


def test_the_same_phases_serve_two_legs_without_two_tasks_of_one_name() -> None:
    tasks = [task.id for task in project("house_move_with_gap").network.tasks]
    assert len(tasks) == len(set(tasks))
    assert {"corals-out-display", "corals-out-display-in"} <= set(tasks)


def test_deep_old_sand_that_is_to_be_kept_is_a_danger_in_plain_words() -> None:
    deep = ("systems.display.old-sand=keep", "systems.display.sand-depth=9 cm")
    found = project("house_move", *deep)
    (danger,) = (one for one in found.findings if "sand" in one.message)
    assert danger.message == (
        "the sand of Display reef is 9 cm deep and is to be kept: stirred up, the layers below the top give off "
        "hydrogen sulfide and ammonia that can kill all that shares the water"
    )
    assert danger.remedy == 'write "old-sand: replace", or "old-sand: rinse"; keep the top layer only'
    assert "It is 9 cm deep" in found.network.task("sand-out-display").steps[0]
    assert "sulfide" in found.network.task("sand-out-display").cautions


@pytest.mark.parametrize(
    ("kept", "said"),
    [
        ("keep", "the water in it is not: throw that away, or it feeds an ammonia peak"),
        ("rinse", "rinsing costs the sand most of its bacteria"),
        ("replace", "its bacteria are lost too"),
    ],
)
def test_each_thing_to_do_with_old_sand_states_its_danger(kept: str, said: str) -> None:
    found = project("house_move", f"systems.display.old-sand={kept}", "systems.display.sand-depth=2 cm")
    assert said in found.network.task("sand-out-display").steps[0]
    assert not [one for one in found.findings if "sulfide" in one.message]


def test_a_heavy_tank_on_joists_asks_for_an_engineer_before_the_tank_is_ordered() -> None:
    joists = project("house_move_into_larger_tank", "places.cottage.floor-kind=suspended")
    assert {"ask-engineer", "wait-engineer", "floor-approved"} <= ids(joists)
    (finding,) = (one for one in joists.findings if "structural engineer" in one.remedy)
    assert finding.where.startswith("house_move_into_larger_tank.yaml:")
    assert finding.message.startswith("running, Display reef weighs ")
    assert ("floor-approved", "order-tank-display") in {
        (link.before, link.after) for link in joists.network.links
    }


def test_what_does_not_do_for_the_new_tank_is_found_and_ordered_with_its_lead_time() -> None:
    weak = "systems.display.new-tank.equipment={heater: {kind: heater, power: 50 W}}"
    found = project("larger_tank_other_spot", weak)
    said = " ".join(one.message for one in found.findings)
    for what in ("Heating", "Flow", "Light", "Skimming", "Top-up", "Spares"):
        assert what in said
    assert {"check-equipment-display", "order-equipment-display", "wait-equipment-display"} <= ids(found)


def test_those_that_are_hard_to_catch_are_trapped_in_advance() -> None:
    network = project("house_move").network
    trap = network.task("set-trap-display")
    assert "trap" in trap.title
    assert "set-trap-display" in waits_for(network, "go-or-no-go")


def test_a_resident_fighter_is_parted_off_before_newcomers_come() -> None:
    wish = "livestock.blue={name: Blue chromis, kind: chromis, count: 3, size: 4 cm, wished: yes}"
    found = ids(project("house_move", wish))
    assert "part-residents-display.1" in found


def test_an_animal_beyond_help_has_somebody_to_ring() -> None:
    found = project("house_move")
    vet = next(one.name for one in found.plan.contacts if one.role == "vet")
    said = [step for step in found.network.task("pack-kit").steps if "beyond help" in step]
    assert said == [
        f"Ask {vet} beforehand who comes for an animal that is beyond help: only somebody competent ends it, humanely."
    ]


def test_animals_are_not_given_away_unless_somebody_asks_for_it() -> None:
    """A gap between the homes and nowhere to wait: what is in the way is told, and how to shut down on purpose."""
    gap = ("dates.access-from=2027-04-10 10:00", "boarding.shop={place: shop, volume: 300 l}")
    places = "places.shop={name: Reef shop, distance: 5 km}"
    with pytest.raises(CannotBeDoneError) as caught:
        project_of(plan("house_move", places, *gap))
    told = [(problem.message, problem.remedy) for problem in caught.value.problems]
    assert [message.split(":")[0] for message, _ in told[:-1]] == [
        'the way "same-day" does not fit',
        'the way "hold-over" does not fit',
    ]
    assert "boarding takes only the groups that name it" in told[1][0]
    assert told[-1][1] == 'write "way: shut-down" if you want it'
    assert project_of(plan("house_move", places, *gap, "way=shut-down")).way == SHUT_DOWN
