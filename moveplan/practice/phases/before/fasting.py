"""The last meals before a move: one for a tank, a later one for small fish, an earlier one for large hunters."""

from __future__ import annotations

from typing import Any

from moveplan.network.link import Relation
from moveplan.network.task import Timing
from moveplan.plan.people import Boarding
from moveplan.practice.comfort.mealtimes import Mealtime
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import DAY, HOUR, hands, usual
from moveplan.practice.drafting.touch import hard_to_catch
from moveplan.practice.phases.day.teardown import names
from moveplan.practice.project import Meals
from moveplan.quantities.facts import GroupFacts, SystemFacts
from moveplan.quantities.keeping.feeding import Fast, Feeder, fast_of, feeders
from moveplan.quantities.trade_groups import FISH

KEYS = {Feeder.LARGE: "last-feed-large", Feeder.ORDINARY: "last-feed", Feeder.SMALL: "last-feed-small"}
_MEAL = usual(5, 10, 10, "a small meal; what is left is taken out after ten minutes")


def last_feed_of(sort: Feeder, sorts: tuple[Feeder, ...]) -> str:
    """Key of the task that gives a sort of fish its last meal; the tank's own meal is that of its ordinary fish.

    >>> last_feed_of(Feeder.SMALL, (Feeder.SMALL,)), last_feed_of(Feeder.SMALL, (Feeder.ORDINARY, Feeder.SMALL))
    ('last-feed', 'last-feed-small')
    """
    main = next((one for one in (Feeder.ORDINARY, Feeder.SMALL) if one in sorts), Feeder.LARGE)
    return "last-feed" if sort is main else KEYS[sort]


def add_last_feeds(move: Draft, facts: SystemFacts) -> None:
    """Add the last meals of one system.

    Parameters
    ----------
    move : Draft
        Before its moving day is composed.
    facts : SystemFacts
        The system; its fish decide how many meals there are.
    """
    sorts = feeders(facts.of_group(*FISH), move.policy)
    if not sorts:
        _add_meal(move, facts, "last-feed", (), Fast(DAY, 2 * DAY, 0), Feeder.ORDINARY)
        return
    for sort, groups in sorts.items():
        key = last_feed_of(sort, tuple(sorts))
        later = () if sort is Feeder.SMALL else sorts.get(Feeder.SMALL, ())
        _add_meal(move, facts, key, groups, fast_of(sort, move.policy), sort, later)


def _add_meal(
    move: Draft,
    facts: SystemFacts,
    key: str,
    groups: tuple[GroupFacts, ...],
    fast: Fast,
    sort: Feeder,
    later: tuple[GroupFacts, ...] = (),
) -> None:
    words: dict[str, object] = {"boards": None, "later": names(later)}
    task = _meal(move, key, groups, fast, move.facts.old.id, words, system=facts)
    high = round(move.tasks[task].estimate.high)
    move.mealtimes.append(Mealtime(move.day, sort, move.facts.old.id, high))


def _meal(
    move: Draft,
    key: str,
    groups: tuple[GroupFacts, ...],
    fast: Fast,
    place: str,
    words: dict[str, object],
    **about: Any,
) -> str:
    late: dict[str, Any] = {"timing": Timing.LATE, "margin_min": fast.room_min}
    words |= {
        "eaters": names(groups),
        "count": sum(group.count for group in groups),
        "trapped": hard_to_catch(groups),
        "least": fast.least_min / HOUR,
        "greatest": fast.greatest_min / HOUR,
    }
    return move.add(key, _MEAL, place=place, crew=hands(1, "cares"), words=words, **about, **late)


def add_boarded_feeds(move: Draft, boarding: Boarding, groups: tuple[GroupFacts, ...], catch: str) -> None:
    """Add the last meals of fish that go to a boarding place, which feeds them from then on.

    Parameters
    ----------
    move : Draft
        With the task that catches and brings them.
    boarding : Boarding
        Where they go.
    groups : tuple of GroupFacts
        Those who go there.
    catch : str
        Id of the task that catches them.
    """
    fish = tuple(group for group in groups if group.kind.group in FISH)
    for sort, those in feeders(fish, move.policy).items():
        fast, place = fast_of(sort, move.policy), move.tasks[move.id(catch)].place
        meal = _meal(
            move,
            KEYS[sort],
            those,
            fast,
            place,
            {"boards": boarding, "later": []},
            subject=f"boarded-{boarding.id}",
        )
        move.link(f"agree-boarding-{boarding.id}", meal, key="agree-boarding > last-feed")
        _link_catch(move, meal, catch, fast, f"{KEYS[sort]} > catch-fish")
        eaters = tuple(group.livestock.id for group in those)
        move.meals.append(Meals(eaters, meal, move.id(catch), "", fast.whole_min, boarding.id))


def link_last_feeds(move: Draft, facts: SystemFacts) -> None:
    """Tie the last meals of a system to the catch.

    Parameters
    ----------
    move : Draft
        With its moving day composed.
    """
    sorts = feeders(facts.of_group(*FISH), move.policy)
    if not sorts or not move.has_own(facts.task("catch-fish")):
        move.link(
            facts.task("last-feed"),
            facts.task("record-morning"),
            gap=DAY // 2,
            at_most=2 * DAY,
            any_length=True,
        )
    for sort in sorts if move.has_own(facts.task("catch-fish")) else ():
        fast = fast_of(sort, move.policy)
        key = last_feed_of(sort, tuple(sorts))
        task = facts.task(key)
        _link_catch(move, task, facts.task("catch-fish"), fast)
        if key != "last-feed" and sort is Feeder.SMALL:
            later = fast_of(Feeder.ORDINARY, move.policy).least_min - fast.least_min
            move.link(facts.task("last-feed"), task, gap=max(later, 0))
        if move.facts.leg.gives_away:
            move.meals.append(_meals(move, facts, sort, sorts[sort], ""))


def _link_catch(move: Draft, meal: str, catch: str, fast: Fast, key: str = "") -> None:
    """Tie a meal to the catch; the longest fast counts from the start of the meal, so that it is no time in a tub."""
    lasts = move.tasks[move.id(meal)].minutes
    move.link(meal, catch, gap=fast.least_min + fast.room_min, key=key)
    most = fast.greatest_min - fast.room_min + lasts
    move.link(meal, catch, relation=Relation.STARTTOSTART, gap=None, at_most=most, key=key, any_length=True)


def note_first_feed(move: Draft, facts: SystemFacts, first: str) -> None:
    """Tie the first meal after a move to the last one before it; the schedule is judged by how long they fast again.

    Parameters
    ----------
    move : Draft
        With both meals added.
    first : str
        Id of the task that feeds first.
    """
    for sort, groups in feeders(facts.of_group(*FISH), move.policy).items():
        if not move.has_own(facts.task("last-feed")):
            continue
        meals = _meals(move, facts, sort, groups, first)
        move.meals.append(meals)
        whole = fast_of(sort, move.policy)
        move.link(
            meals.last,
            meals.first,
            gap=None,
            at_most=whole.planned_whole_min,
            words={"whole": whole.whole_min / HOUR},
            key="last-feed > first-feed",
            any_length=True,
        )


def _meals(
    move: Draft, facts: SystemFacts, sort: Feeder, groups: tuple[GroupFacts, ...], first: str
) -> Meals:
    sorts = tuple(feeders(facts.of_group(*FISH), move.policy))
    return Meals(
        livestock=tuple(group.livestock.id for group in groups),
        last=move.id(facts.task(last_feed_of(sort, sorts))),
        catch=move.id(facts.task("catch-fish")),
        first=move.id(first) if first else "",
        whole_min=fast_of(sort, move.policy).whole_min,
    )
