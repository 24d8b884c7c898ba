"""What the whole of a move needs and has: salt, bins, heaters, gear, and what holding systems use up."""

from __future__ import annotations

from dataclasses import dataclass, field

from moveplan.practice.drafting.brief import Brief
from moveplan.practice.ledger.bins import STORAGE, BinMeans
from moveplan.practice.ledger.entries import Running
from moveplan.quantities.containers.vessels import Numbers, Vessel
from moveplan.quantities.facts import Facts, SystemFacts
from moveplan.quantities.heaters import PUMP, mixing_pump
from moveplan.quantities.keeping.boarders import Boarders, boarding_vessels
from moveplan.quantities.keeping.upkeep import Upkeep, upkeep_of
from moveplan.quantities.leg.lading import gear_of
from moveplan.quantities.leg.mixing import Mixing, mixing_of, water_place
from moveplan.quantities.leg.refill import curing_water
from moveplan.quantities.water.amounts import making_for, making_of, mixed_of


@dataclass(slots=True)
class Stores(Brief):
    """Answers what is needed over all legs of a move."""

    legs: tuple[Facts, ...] = ()
    boarders: Boarders = ()
    known_bins: tuple[Vessel, ...] = ()
    known_afresh_kg: float = 0.0
    known_heaters: int = 0
    mixings: list[Mixing] = field(default_factory=list)
    warmed: list[Running] = field(default_factory=list)

    def _bin_means(self) -> BinMeans:
        tub, making = self.means().main("tub"), self.plan.water_making
        days = [[one for own in facts.systems for one in own.vessels] for facts in self.legs]
        days.append([*self.boarding()])
        used = (sum(one.gear == tub.gear for one in vessels) for vessels in days)
        storage_l = making.storage_l if making else 0.0
        numbers = Numbers(self.plan.gear, self.plan.labels, {one.number for own in days for one in own})
        there = self.legs[0].leg.drives and self.legs[0].leg.water_there
        return BinMeans(
            storage_l, tub.gear, tub.volume_l, max(used, default=0), tub.there, numbers, int(there)
        )

    def boarding(self) -> tuple[Vessel, ...]:
        """List the containers in which boarded animals are brought and fetched."""
        return tuple(one for _, groups in self.boarders for one in boarding_vessels(self.plan, groups))

    def numbered(self) -> tuple[Vessel, ...]:
        """List what is washed and gets a number: containers of the leg, at first the bins for mixing water too."""
        return (*self.vessels(), *(self.known_bins if self.facts is self.legs[0] else ()))

    @property
    def final(self) -> Facts:
        """Where everything stands in the end."""
        return self.legs[-1]

    def gear_needed(self) -> tuple[tuple[str, int, int], ...]:
        """Kind of gear, how many are needed on the day that needs most, how many there are."""
        rows: dict[str, tuple[int, int]] = {}
        ways = [gear_of(self.plan, self.boarding())] if self.boarders else []
        for several in (*(facts.gear_needed for facts in self.legs), *ways):
            for kind, needed, there in several:
                rows[kind] = (max(needed, rows.get(kind, (0, 0))[0]), there)
        needed, there = rows.get("heater", (0, 0))
        rows["heater"] = (max(needed, self.known_heaters), there)
        # one pump with a hose moves the water that is mixed, draws that of the old tank and fills the new one
        for kind in (PUMP, "hose"):
            rows[kind] = (1, sum(item.count for item in self.plan.gear if item.kind == kind and item.owned))
        for bin_ in self.known_bins:
            if bin_.gear != STORAGE:
                kind = bin_.gear if bin_.kind == "vat" else bin_.kind
                needed, there = rows.get(kind, (0, 0))
                rows[kind] = (needed + 1, there)
        return tuple((kind, needed, there) for kind, (needed, there) in rows.items())

    def final_salt_kg(self) -> float:
        """Salt mix for all new and spare water of the move, and for changes in holding systems. [kg]."""
        made = sum(facts.water.salt.likely for facts in self.legs)
        return made + sum(one.salt_kg for one in self.upkeep()) + self.known_afresh_kg

    def _at_home(self) -> tuple[SystemFacts, ...]:
        """List the systems in which animals are looked after once the move is over."""
        leg = self.final.leg
        return () if leg.gives_away or leg.empty else self.final.systems

    def reserve_salt(self) -> tuple[float, float]:
        """Salt water as much as all spare water once more, and dry mix for it that is at hand on arrival. [l], [kg]."""
        making = making_of(self.plan)
        systems = () if self.ready_mixed(self.final) else self._at_home()
        rows = [(one.rebuilt, one.water.spare.likely) for one in systems]
        salt = sum(mixed_of(system, litres, making)[1].likely for system, litres in rows)
        return sum(litres for _, litres in rows), salt

    def ready_mixed(self, facts: Facts) -> bool:
        """Whether the salt water of a leg is bought from a shop that mixes it."""
        return bool(making_for(self.plan, facts.leg).ready_mixed)

    def curing_water(self) -> tuple[float, float]:
        """Purified water and dry mix in which new rock cures. [l], [kg]."""
        if self.final.leg.gives_away:
            return 0.0, 0.0
        rows = [
            curing_water(self.plan, one)
            for one in self.final.systems
            if self.plan.system(one.system.id).new_tank
        ]
        return sum(row[0] for row in rows), sum(row[1] for row in rows)

    def mixing(self, litres: float, place: str = "", *, first: bool = False) -> Mixing:
        """Work out how so much new salt water of the leg is warmed; the bill reads it too.

        Parameters
        ----------
        litres : float
            Salt water. [l]
        place : str
            Id of the place where it is warmed; empty: where the water of the leg is made.
        first : bool
            Whether the tanks of the leg are filled with it, and draw nothing before.
        """
        where = self.plan.place(place or water_place(self.facts.leg, self.facts.systems))
        warmest = max(one.rebuilt.temperature_c for one in self.facts.systems)
        found = mixing_of(
            self.plan, where, making_of(self.plan), litres, warmest, self.facts.leg if first else None
        )
        self.mixings.append(found)
        return found

    def heat(self, mixing: Mixing, place: str, first: str, last: str) -> None:
        """Note that heaters and pump of a mixing run at a place from the start of one task to the end of another.

        Parameters
        ----------
        mixing : Mixing
            Whose heaters.
        place : str
            Id of the place.
        first, last : str
            Ids of tasks.
        """
        if mixing.litres > 0 and mixing.time.high > 0:
            held = (*(one.gear for one in mixing.heaters), mixing_pump(self.plan))
            self.warmed.append(Running(place, first, last, mixing.heater_w, "mixing", held=held))

    def heaters_hung(self) -> int:
        """Most spare heaters that hang in one bin. [-]."""
        return max((len(one.heaters) for one in self.mixings if one.litres > 0), default=0)

    def days_waiting(self) -> int:
        """Days between the legs of a move; 0 where there is one. [day]."""
        days = [facts.leg.days[-1] for facts in self.legs if facts.leg.days]
        return (days[-1] - days[0]).days if days else 0

    def upkeep(self) -> tuple[Upkeep, ...]:
        """Work out what holding systems use up between the legs of a move."""
        first = self.legs[0]
        if len(self.legs) == 1 or first.leg.gives_away:
            return ()
        making, days = making_of(self.plan), self.days_waiting()
        return tuple(upkeep_of(facts, days, self.policy, making) for facts in first.systems)
