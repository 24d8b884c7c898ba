"""Closed containers by the array: when a limit is reached, and what the water is like at a time.

The engine behind :mod:`moveplan.science.gas.transit`.  One array element is one container.  Animals take oxygen
from water and gas, and add carbon dioxide and ammonia to the water; the gas shares the carbon dioxide;
excreted ammonia takes up hydrogen ions, so alkalinity grows with it.  Time enters carbon and ammonia
linearly, so the time to a limit follows from the pH at that limit, and no step in time is needed.

Assumed: well-mixed water, gas of constant volume, no bacteria.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from moveplan.science.animals.respiration import OXYGEN_G_MOL
from moveplan.science.filter.ammonia import NITROGEN_G_MOL, pka_nbs
from moveplan.science.gas.dissolved import CARBON_DIOXIDE_G_MOL, GAS_CONSTANT_L_ATM
from moveplan.science.numbers import KELVIN, Array
from moveplan.science.water.carbonate import (
    alkalinity_of,
    carbon_per_carbon_dioxide,
    hydrogen_at,
    inorganic_carbon_mmol_kg,
    ph_total_of,
)
from moveplan.science.water.carbonate_constants import Constants, constants, ph_nbs_minus_total
from moveplan.science.water.seawater import density_kg_m3

_LEAST = 1e-12
"""Least rate that counts: animals that give off less do not fill a container in a lifetime. [mol/(kg h)]"""
_MOST_ROUNDS = 60
"""Most halvings of a bracket; 60 exhaust a float, and the loops end sooner. [-]"""
_NEAR = 1e-10
"""Change between two rounds at which a search has settled. [-]"""
_SCANNED_PH = np.linspace(11.0, 4.8, 311)
"""NBS pH at which a sealed container is searched for the ammonia limit, from alkaline to acid."""


@dataclass(frozen=True, slots=True)
class Bags:
    """Closed containers as columns, by mass of water.

    Parameters
    ----------
    known : Constants
        Constants of the carbonate system. [-]
    density : array
        Density of the water. [kg/l]
    gas_ratio : array
        Carbon dioxide in the gas over that dissolved. [-]
    alkalinity, carbon : array
        Alkalinity and inorganic carbon of the water when packed. [mol/kg]
    carbon_rate, ammonia_rate : array
        Carbon dioxide and ammonia given off. [mol/(kg h)]
    nbs_offset : array
        NBS pH less total pH. [-]
    pka_nbs : array
        Acid constant of ammonium on the NBS scale. [-]
    """

    known: Constants[Array]
    density: Array
    gas_ratio: Array
    alkalinity: Array
    carbon: Array
    carbon_rate: Array
    ammonia_rate: Array
    nbs_offset: Array
    pka_nbs: Array

    @classmethod
    def packed(
        cls,
        *,
        water_l: Array,
        gas_l: Array,
        temperature_c: Array,
        salinity_psu: Array,
        oxygen_use_mg_h: Array,
        ammonia_mg_n_h: Array,
        respiratory_quotient: Array,
        alkalinity_mmol_kg: Array,
        carbon_dioxide_uatm: Array,
    ) -> Bags:
        """Set up containers from what is put into them; arguments as in the glossary."""
        known = constants(temperature_c, salinity_psu)
        density = density_kg_m3(temperature_c, salinity_psu) / 1000.0
        mass_kg = water_l * density
        gas_moles_per_atm = gas_l / (GAS_CONSTANT_L_ATM * (temperature_c + KELVIN))
        carbon = inorganic_carbon_mmol_kg(
            alkalinity_mmol_kg, carbon_dioxide_uatm, temperature_c, salinity_psu
        )
        return cls(
            known=known,
            density=density,
            gas_ratio=gas_moles_per_atm / (mass_kg * known.k0),
            alkalinity=alkalinity_mmol_kg / 1000.0,
            carbon=carbon / 1000.0,
            carbon_rate=np.maximum(
                oxygen_use_mg_h * respiratory_quotient / OXYGEN_G_MOL / 1000.0 / mass_kg, _LEAST
            ),
            ammonia_rate=ammonia_mg_n_h / NITROGEN_G_MOL / 1000.0 / mass_kg,
            nbs_offset=ph_nbs_minus_total(temperature_c, salinity_psu),
            pka_nbs=pka_nbs(temperature_c, salinity_psu),
        )

    def time_to_carbon_dioxide_h(self, limit_mg_l: Array) -> Array:
        """Time until dissolved carbon dioxide reaches a limit [h]; 0 if it is above from the start.

        At the limit each pH means one content of carbon, hence one time, hence one content of ammonia, and
        one alkalinity; the search goes round until they agree.
        """
        dissolved = limit_mg_l / CARBON_DIOXIDE_G_MOL / 1000.0 / self.density
        time = np.zeros_like(dissolved)
        for _ in range(_MOST_ROUNDS):
            ammonia = self.ammonia_rate * time
            hydrogen = hydrogen_at(self.alkalinity + ammonia, dissolved, ammonia, self.known)
            carbon = dissolved * carbon_per_carbon_dioxide(hydrogen, self.known, self.gas_ratio)
            following = np.maximum((carbon - self.carbon) / self.carbon_rate, 0.0)
            change, time = np.abs(following - time) / (1.0 + time), following
            if change.max(initial=0.0) < _NEAR:
                break
        return time

    def time_to_ammonia_h(self, limit_mg_n_l: Array) -> Array:
        """Time until un-ionised ammonia first reaches a limit [h]; infinite where the falling pH prevents it.

        At the limit each pH means one total ammonia, hence one time; the most alkaline pH at which the
        carbonate system agrees is the first crossing.  It is looked for on a grid of 0.02 and then refined.
        """
        limit = (limit_mg_n_l / NITROGEN_G_MOL / 1000.0 / self.density)[:, None]
        ph = np.broadcast_to(_SCANNED_PH, (limit.size, _SCANNED_PH.size))
        below = self._alkalinity_short(ph, limit) > 0.0
        crossed = below.any(axis=1)
        first = np.maximum(below.argmax(axis=1), 1)
        low, high = _SCANNED_PH[first], _SCANNED_PH[first - 1]
        exact = _root(lambda ph: -self._alkalinity_short(ph[:, None], limit)[:, 0], low, high)
        time = self._time_at_ammonia(exact[:, None], limit)[:, 0]
        return np.where(crossed & (self.ammonia_rate > _LEAST), time, np.inf)

    def _time_at_ammonia(self, ph_nbs: Array, limit: Array) -> Array:
        total: Array = limit * (1.0 + 10.0 ** (self.pka_nbs[:, None] - ph_nbs))
        return total / np.maximum(self.ammonia_rate, _LEAST)[:, None]

    def _alkalinity_short(self, ph_nbs: Array, limit: Array) -> Array:
        """Alkalinity present, less that which a pH would need, when ammonia is at the limit at that pH."""
        known = _as_columns(self.known)
        time = self._time_at_ammonia(ph_nbs, limit)
        ammonia = np.maximum(self.ammonia_rate, _LEAST)[:, None] * time
        hydrogen = 10.0 ** (self.nbs_offset[:, None] - ph_nbs)
        carbon = self.carbon[:, None] + self.carbon_rate[:, None] * time
        dissolved = carbon / carbon_per_carbon_dioxide(hydrogen, known, self.gas_ratio[:, None])
        present: Array = self.alkalinity[:, None] + ammonia
        return present - alkalinity_of(hydrogen, dissolved, ammonia, known)

    def at(self, duration_h: Array) -> tuple[Array, Array, Array, Array]:
        """Give the water after a time.

        PH on the NBS scale, carbon dioxide [mg/l], total and un-ionised ammonia [mg N/l].
        """
        ammonia = self.ammonia_rate * duration_h
        carbon = self.carbon + self.carbon_rate * duration_h
        ph = ph_total_of(self.alkalinity + ammonia, carbon, ammonia, self.known, self.gas_ratio)
        dissolved = carbon / carbon_per_carbon_dioxide(10.0**-ph, self.known, self.gas_ratio)
        per_litre = 1000.0 * self.density
        ph_nbs = ph + self.nbs_offset
        total = ammonia * NITROGEN_G_MOL * per_litre
        unionised = total / (1.0 + 10.0 ** (self.pka_nbs - ph_nbs))
        return ph_nbs, dissolved * CARBON_DIOXIDE_G_MOL * per_litre, total, unionised


def _as_columns(known: Constants[Array]) -> Constants[Array]:
    return Constants(
        known.k0[:, None],
        known.k1[:, None],
        known.k2[:, None],
        known.boric[:, None],
        known.water[:, None],
        known.ammonium[:, None],
        known.total_boron[:, None],
    )


def _root(rising: Callable[[Array], Array], low: Array, high: Array) -> Array:
    """Find, elementwise, the root between ``low`` (below zero) and ``high`` (above) by the Illinois rule.

    Where the two do not enclose a root the answer is ``high``.
    """
    at_low, at_high = rising(low), rising(high)
    enclosed = (at_low < 0.0) & (at_high > 0.0)
    middle = high
    for _ in range(_MOST_ROUNDS):
        rise = at_high - at_low
        searching = enclosed & (rise != 0.0)
        step = np.where(searching, at_high * (high - low) / np.where(searching, rise, 1.0), 0.0)
        previous, middle = middle, high - step
        if np.abs(middle - previous).max(initial=0.0) < _NEAR:
            break
        value = rising(middle)
        same = (value > 0.0) == (at_high > 0.0)
        low, at_low = np.where(same, low, high), np.where(same, 0.5 * at_low, at_high)
        high, at_high = middle, value
    return middle
