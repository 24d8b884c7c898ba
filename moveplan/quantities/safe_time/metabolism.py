"""What a group of animals breathes and gives off in a container."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.estimate import Estimate, Provenance
from moveplan.plan.livestock import Livestock
from moveplan.quantities.policy import Policy
from moveplan.science.animals.livestock import Kind, OxygenModel
from moveplan.science.animals.respiration import (
    coral_oxygen_use_mg_h,
    fish_mass_g,
    fish_oxygen_use_mg_h,
    invertebrate_oxygen_use_mg_h,
    stressed_oxygen_use_mg_h,
)
from moveplan.science.filter.ammonia import ammonia_excretion_mg_n_h
from moveplan.units import show_rounded

_RATES = {
    OxygenModel.SHRIMP: "oxygen_rate_shrimp",
    OxygenModel.SHELLED: "oxygen_rate_shelled",
    OxygenModel.SOFT: "oxygen_rate_soft",
}
HARDY_G = 5.0
"""Fish from this mass bear the short limit of ammonia: fry of grouper died at 0.23 mg/l in a day; Zheng (2012), as
reported. [g]"""
_DISC = 0.785398
"""Area of a disc over the square of its width. [-]"""


@dataclass(frozen=True, slots=True)
class Breathing:
    """Animals that share water.

    Parameters
    ----------
    oxygen_mg_h : float
        Oxygen use of all, stress included. [mg/h]
    ammonia_mg_n_h : float
        Total ammonia of all, as nitrogen. [mg N/h]
    biomass_g : float
        Mass of all; colonies reckoned by area count nothing. [g]
    resting_mg_h : float
        Oxygen use at rest of those that being caught excites. [mg/h]
    steady_mg_h : float
        Oxygen use of colonies, which it does not, stress included. [mg/h]
    hardy : bool
        Whether they bear twice the ammonia for a day: fish of more than 5 g only.
    """

    oxygen_mg_h: float
    ammonia_mg_n_h: float
    biomass_g: float
    resting_mg_h: float = 0.0
    steady_mg_h: float = 0.0
    hardy: bool = False

    def plus(self, other: Breathing) -> Breathing:
        """Add the animals of another group."""
        return Breathing(
            self.oxygen_mg_h + other.oxygen_mg_h,
            self.ammonia_mg_n_h + other.ammonia_mg_n_h,
            self.biomass_g + other.biomass_g,
            self.resting_mg_h + other.resting_mg_h,
            self.steady_mg_h + other.steady_mg_h,
            self.hardy and other.hardy,
        )

    def over(self, containers: int) -> Breathing:
        """Share the animals out over containers."""
        return Breathing(
            self.oxygen_mg_h / containers,
            self.ammonia_mg_n_h / containers,
            self.biomass_g / containers,
            self.resting_mg_h / containers,
            self.steady_mg_h / containers,
            self.hardy,
        )


NOTHING = Breathing(0.0, 0.0, 0.0, hardy=True)


def mass_g(livestock: Livestock, kind: Kind) -> Estimate:
    """Mass of one animal: given, or from its length by the shape of its kind.

    Parameters
    ----------
    kind : Kind
        Its shape.

    Returns
    -------
    Estimate
        [g]
    """
    if livestock.mass_g is not None:
        given = livestock.mass_g
        return Estimate(given, given, given, "g", "plan file", Provenance.GIVEN)
    likely = float(fish_mass_g(livestock.size_cm, kind.coefficient_a, kind.exponent_b))
    return Estimate(
        0.75 * likely,
        likely,
        1.35 * likely,
        "g",
        f"{show_rounded(livestock.size_cm)} cm by {kind.coefficient_a:g} L^{kind.exponent_b:g}; "
        "spread of a shape assumed",
        Provenance.COMPUTED,
        kind.source,
    )


def breathing(
    livestock: Livestock, kind: Kind, count: int, temperature_c: float, policy: Policy
) -> Breathing:
    """Work out what a group breathes and gives off on the way.

    Parameters
    ----------
    kind : Kind
        Which rule applies.
    count : int
        How many.
    temperature_c : float
        Of the water. [°C]
    policy : Policy
        Stress, quotients and rates.
    """
    one_g = mass_g(livestock, kind).likely
    if kind.oxygen is OxygenModel.FISH:
        resting = float(fish_oxygen_use_mg_h(one_g, temperature_c))
    elif kind.oxygen is OxygenModel.CORAL:
        area_cm2 = kind.area_factor * _DISC * livestock.size_cm**2
        resting = float(coral_oxygen_use_mg_h(area_cm2, policy["oxygen_rate_coral"], temperature_c))
    else:
        resting = float(invertebrate_oxygen_use_mg_h(one_g, policy[_RATES[kind.oxygen]], temperature_c))
    stressed = float(stressed_oxygen_use_mg_h(resting, policy["stress_transport"]))
    symbiotic = kind.oxygen in (OxygenModel.CORAL, OxygenModel.SOFT)
    quotient = policy["ammonia_quotient_coral" if symbiotic else "ammonia_quotient_fasted"]
    ammonia = float(ammonia_excretion_mg_n_h(stressed, quotient))
    weighed = 0.0 if kind.oxygen is OxygenModel.CORAL else one_g
    steady = kind.oxygen is OxygenModel.CORAL
    return Breathing(
        count * stressed,
        count * ammonia,
        count * weighed,
        0.0 if steady else count * resting,
        count * stressed if steady else 0.0,
        kind.oxygen is OxygenModel.FISH and one_g > HARDY_G,
    )
