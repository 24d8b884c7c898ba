"""What pH and alkalinity of a tank say about the carbon dioxide in its water."""

from __future__ import annotations

from moveplan.science.numbers import greater, lesser
from moveplan.science.ranges import check
from moveplan.science.water.carbonate import alkalinity_of
from moveplan.science.water.carbonate_constants import constants, ph_nbs_minus_total

LEAST_UATM, MOST_UATM = 150.0, 5000.0
"""Partial pressures beyond which a pH and an alkalinity do not belong together, one of them being misread; assumed, air
of rooms being 400 to 2000. [µatm]"""


def carbon_dioxide_of_ph_uatm(
    ph: float, alkalinity_mmol_kg: float, temperature_c: float, salinity_psu: float
) -> float:
    """Partial pressure of carbon dioxide in water of a known pH and alkalinity.

    Parameters
    ----------
    ph : float
        pH by a meter on NBS buffers. [-]
    alkalinity_mmol_kg : float
        Total alkalinity. [mmol/kg]
    temperature_c : float
        Water temperature. [°C]
    salinity_psu : float
        Practical salinity. [-]

    Returns
    -------
    float
        Partial pressure, kept within :data:`LEAST_UATM` and :data:`MOST_UATM`. [µatm]

    Notes
    -----
    Alkalinity that is not carbonate is taken off, and the rest shared out by the hydrogen ion.

    References
    ----------
    Carbonate system of :mod:`moveplan.science.water.carbonate`, with pH on the total scale.

    Examples
    --------
    >>> [round(carbon_dioxide_of_ph_uatm(ph, 2.8, 25.5, 35.0), -1) for ph in (8.3, 8.1, 7.9)]
    [350.0, 610.0, 1050.0]
    """
    check(
        ph=ph, alkalinity_mmol_kg=alkalinity_mmol_kg, temperature_c=temperature_c, salinity_psu=salinity_psu
    )
    known = constants(temperature_c, salinity_psu)
    hydrogen = 10.0 ** -(ph - ph_nbs_minus_total(temperature_c, salinity_psu))
    others = alkalinity_of(hydrogen, 0.0, 0.0, known)
    each = alkalinity_of(hydrogen, 1.0, 0.0, known) - others
    dissolved_mol_kg = (alkalinity_mmol_kg / 1000.0 - others) / each
    return float(lesser(greater(1e6 * dissolved_mol_kg / known.k0, LEAST_UATM), MOST_UATM))
