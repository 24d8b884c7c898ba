"""Animals go over in waves while both tanks run: clean-up crew and corals, then fish, timid before territorial."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from moveplan.estimate import Estimate
from moveplan.network.task import Kind, Timing
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import DAY, HOUR, hands, usual
from moveplan.practice.drafting.touch import under_water
from moveplan.practice.ledger.pouring import OPEN_USES, carried_over
from moveplan.practice.phases.before.mixed_afresh import Fresh, mix_afresh
from moveplan.practice.phases.before.ripening import cycle_for
from moveplan.practice.phases.before.water import keeping_min
from moveplan.practice.phases.day.teardown import names
from moveplan.quantities.containers.vessels import Use, Vessel
from moveplan.quantities.facts import GroupFacts, SystemFacts
from moveplan.quantities.handling import together
from moveplan.quantities.keeping.stocking import Wave, waves_of
from moveplan.quantities.trade_groups import CORALS, FISH

_FLOAT = (20, 35, 60)
"""Minutes of coming to temperature and salinity, waters matched; common practice, no source. [min]"""


@dataclass(frozen=True, slots=True)
class _Company:
    """Animals of one wave.

    Parameters
    ----------
    subject : str
        Ending of the ids of its tasks.
    number, count : int
        Which wave of how many.
    wave : Wave
        Its load and pause.
    """

    subject: str
    number: int
    count: int
    groups: tuple[GroupFacts, ...]
    wave: Wave

    def of(self, *trade_groups: str) -> tuple[GroupFacts, ...]:
        """Pick those of some trade groups."""
        return tuple(group for group in self.groups if group.kind.group in trade_groups)

    @property
    def others(self) -> tuple[GroupFacts, ...]:
        """Neither fish nor corals."""
        return tuple(group for group in self.groups if group.kind.group not in (*CORALS, *FISH))


def companies(move: Draft, facts: SystemFacts) -> tuple[_Company, ...]:
    """Share the animals of a system out over waves, as its new filter can carry them."""
    litres = facts.volumes.total.likely
    first = cycle_for(move, facts).carries.likely * litres
    groups = tuple((group.livestock, group.count) for group in facts.groups)
    waves = waves_of(facts.rebuilt, groups, litres, first, move.policy)
    by_id = {group.livestock.id: group for group in facts.groups}
    return tuple(
        _Company(
            f"{facts.system.id}.{number}",
            number,
            len(waves),
            tuple(by_id[group.id] for group, _ in wave.groups),
            wave,
        )
        for number, wave in enumerate(waves, 1)
    )


def _vessels(facts: SystemFacts, company: _Company) -> tuple[Vessel, ...]:
    """List the containers in which a wave is carried over."""
    own = {group.livestock.id for group in company.groups}
    return tuple(
        vessel
        for vessel in facts.of_use(*OPEN_USES, Use.BAGS)
        if set(vessel.livestock) & own and vessel.kind != "bag"
    )


def add_waves(move: Draft, facts: SystemFacts) -> str:
    """Add the waves of one system.

    Parameters
    ----------
    move : Draft
        With the new tank ripened.

    Returns
    -------
    str
        Id of the task after which the last animal is over and watched; of a tank without animals, the rock.
    """
    move.phase("waves")
    _add_ready(move, facts)
    before, fish_seen, last = "go-or-no-go", False, ""
    for company in companies(move, facts):
        fishes = bool(company.of(*FISH))
        last = _add_wave(move, facts, company, before, rock=fishes and not fish_seen)
        if company.number == 1:
            move.link("charge-batteries", f"match-wave-{company.subject}")
        fish_seen |= fishes
        before = f"wave-settled-{company.subject}"
        move.last_settled[facts.system.id] = before
    rock = "" if fish_seen else _add_rock(move, facts, facts.system.id, before)
    return last or rock


def _mix(move: Draft, facts: SystemFacts, company: _Company, vessels: tuple[Vessel, ...]) -> Fresh | None:
    """Mix what makes up for the water that a wave is carried over in, shortly before: it would not keep for weeks."""
    litres = sum(vessel.water_l for vessel in vessels)
    if not litres:
        return None
    return mix_afresh(move, facts, litres, _fresh_account(facts), f"wave-{company.subject}")


def _link_mix(move: Draft, company: _Company, fresh: Fresh) -> None:
    """Let the mix wait for the wave before, and be there at the decision of the eve for the first."""
    number, match = company.number, f"match-wave-{company.subject}"
    before = f"watch-wave-{company.subject.rpartition('.')[0]}.{number - 1}" if number > 1 else "trim-water"
    move.link(before, fresh.first, key="any > afresh")
    move.link(
        fresh.ready, match if number > 1 else "go-or-no-go", gap=fresh.stands_min, key="mix-afresh > any"
    )
    move.link(fresh.ready, match, at_most=keeping_min(move), key="mix-afresh > any")
    move.heat(fresh.mixing, move.facts.new.id, fresh.ready, move.id(match))


def _fresh_account(facts: SystemFacts) -> str:
    return f"{facts.shift.mixed}:wave"


def _add_ready(move: Draft, facts: SystemFacts) -> None:
    late: dict[str, Any] = {
        "system": facts,
        "place": move.facts.old.id,
        "crew": hands(1),
        "timing": Timing.LATE,
    }
    move.add("set-out-waves", usual(15, 25, 40, "towels, tubs, a clear way between the tanks"), **late)
    move.link("print-labels", facts.task("set-out-waves"))
    move.link(facts.task("set-out-waves"), "go-or-no-go")
    move.link(facts.task("change-before"), "go-or-no-go")


def _lifting(move: Draft, company: _Company) -> Estimate:
    work = move.handling.work
    parts = [work("draw-setup", 1)]
    corals = sum(group.count for group in company.of(*CORALS))
    if corals:
        parts.append(work("coral-out", corals, move.care_crew().count))
    if company.others:
        parts.append(work("invertebrate-out", sum(group.count for group in company.others)))
    for group in company.of(*FISH):
        parts += [work(f"fish-{group.kind.catching}", group.count), work("bag", group.count)]
    return together(*parts)


def _releasing(move: Draft, company: _Company) -> Estimate:
    parts = [usual(5, 10, 15, "opening and measuring")]
    corals = sum(group.count for group in company.of(*CORALS))
    if corals:
        parts.append(move.handling.work("coral-in", corals, move.care_crew().count))
    fish = sum(group.count for group in company.of(*FISH))
    if fish:
        parts.append(usual(5 + fish, 8 + 3 * fish, 15 + 6 * fish, "letting each swim out by itself"))
    if company.others:
        parts.append(move.handling.work("invertebrate-out", sum(group.count for group in company.others)))
    return together(*parts)


def _words(move: Draft, facts: SystemFacts, company: _Company) -> dict[str, object]:
    manners: dict[str, int] = {}
    for group in company.of(*FISH):
        manners[group.livestock.temperament] = manners.get(group.livestock.temperament, 0) + group.count
    return {
        "number": company.number,
        "wave_count": company.count,
        "animals": names(company.groups),
        "corals": names(company.of(*CORALS)),
        "crew": names(company.others),
        "wet": under_water(company.others),
        "bagged": any(group.packing.bagged for group in company.groups),
        "fish": names(company.of(*FISH)),
        "manners": [move.release_words(*manner) for manner in manners.items()],
        "packing": move.packing_words(company.of(*FISH), facts.vessels),
        "pause": company.wave.pause,
        "load": company.wave.load,
        "floated": _FLOAT[1],
    }


def _add_wave(move: Draft, facts: SystemFacts, company: _Company, before: str, *, rock: bool) -> str:
    place, subject = move.facts.new.id, company.subject
    here: dict[str, Any] = {
        "system": facts,
        "subject": subject,
        "place": place,
        "words": _words(move, facts, company),
    }
    if company.number == 1:
        here["day"] = move.day
    caring = move.care_crew()
    rock_task = _add_rock(move, facts, subject, before, day=here.get("day", "")) if rock else ""
    move.add(
        "match-wave",
        usual(10, 15, 30, "two rows of readings"),
        kind=Kind.HOLD_POINT,
        crew=hands(1, "cares"),
        **here,
    )
    floating = usual(*_FLOAT, "temperature and salinity draw level")
    over = together(_lifting(move, company), floating, _releasing(move, company))
    vessels = _vessels(facts, company)
    fresh = _mix(move, facts, company, vessels)
    pours = carried_over(move, facts, vessels, _fresh_account(facts))
    move.add("move-wave", over, crew=caring, pours=pours, **here)
    move.use(vessels, f"move-wave-{subject}", f"move-wave-{subject}")
    move.add("watch-wave", usual(45, 60, 90, "an hour in dim light"), crew=hands(1, "cares"), **here)
    move.chain(f"match-wave-{subject}", f"move-wave-{subject}")
    move.link(f"move-wave-{subject}", f"watch-wave-{subject}", at_most=HOUR, any_length=True)
    gap = 6 * HOUR if before == "go-or-no-go" else 0
    move.link(before, f"match-wave-{subject}", gap=gap, at_most=2 * DAY if gap else None)
    if fresh:
        _link_mix(move, company, fresh)
    if rock_task:
        move.link(rock_task, f"match-wave-{subject}", at_most=DAY)
    for group in company.groups:
        move.ends[group.livestock.id] = (f"move-wave-{subject}", f"move-wave-{subject}")
    _add_pause(move, facts, company)
    return f"watch-wave-{subject}"


def _add_pause(move: Draft, facts: SystemFacts, company: _Company) -> None:
    subject = company.subject
    here: dict[str, Any] = {
        "system": facts,
        "subject": subject,
        "place": move.facts.new.id,
        "words": _words(move, facts, company),
    }
    move.add("wave-pause", company.wave.pause, kind=Kind.WAIT, **here)
    move.add(
        "wave-settled",
        usual(15, 20, 30, "a row of readings and a count"),
        kind=Kind.HOLD_POINT,
        crew=hands(1, "cares"),
        **here,
    )
    move.chain(f"move-wave-{subject}", f"wave-pause-{subject}", f"wave-settled-{subject}")
    move.link(f"watch-wave-{subject}", f"wave-settled-{subject}")


def _add_rock(move: Draft, facts: SystemFacts, subject: str, before: str, day: str = "") -> str:
    over = together(facts.times["rock-out"], facts.times["rock-in"])
    task = move.add(
        "rock-over",
        over,
        system=facts,
        subject=subject,
        place=move.facts.new.id,
        crew=move.heavers(facts.system.rock_kg),
        may_pause=False,
        day=day,
    )
    gap = 6 * HOUR if before == "go-or-no-go" else 0
    move.link(before, task, gap=gap)
    wet = tuple(replace(one, water_l=0.0) for one in facts.of_use(Use.ROCK, Use.MEDIA))
    move.use(wet, task, task)
    return task
