"""Limits of dissolved oxygen that hold at any altitude: animals feel its partial pressure, not its concentration.

A limit is a share of what the water would hold at sea level at the same temperature and salinity; the shares are
``oxygen_plan_share``, ``oxygen_alarm_share``, ``oxygen_stop_share`` and those of the gate in data/limits.toml.
"""

from __future__ import annotations

from moveplan.science.gas.dissolved import (
    oxygen_saturation_mg_l,
)
from moveplan.science.numbers import Number, greater
from moveplan.science.ranges import ranged


@ranged
def oxygen_limit_mg_l(oxygen_share: Number, temperature_c: Number, salinity_psu: Number) -> Number:
    """Dissolved oxygen of the same partial pressure as a share of sea-level air.

    Parameters
    ----------
    oxygen_share : float or array
        Share of saturation at sea level: 0.75 to plan for, 0.60 alarm, 0.45 stop. [-]
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity. [-]

    Returns
    -------
    float or array
        Dissolved oxygen, the same at any altitude. [mg/l]

    References
    ----------
    Garcia and Gordon (1992), Limnol. Oceanogr. 37, 1307-1312.

    Examples
    --------
    >>> [round(oxygen_limit_mg_l(share, 26.0, 35.0), 2) for share in (0.75, 0.60, 0.45)]
    [4.99, 3.99, 3.0]
    """
    return oxygen_share * oxygen_saturation_mg_l(temperature_c, salinity_psu)


@ranged
def oxygen_gate_mg_l(
    temperature_c: Number,
    salinity_psu: Number,
    pressure_kpa: Number,
    local_share: Number | float = 0.90,
    oxygen_share: Number | float = 0.60,
) -> Number:
    """Dissolved oxygen that a running tank must have before animals go in.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity. [-]
    pressure_kpa : float or array
        Air pressure here. [kPa]
    local_share : float or array
        Least share of saturation here, which shows that water and air are in touch. [-]
    oxygen_share : float or array
        Least share of saturation at sea level, which shows that animals have enough. [-]

    Returns
    -------
    float or array
        Dissolved oxygen, the greater of the two. [mg/l]

    References
    ----------
    Garcia and Gordon (1992), Limnol. Oceanogr. 37, 1307-1312; pressure as in Benson and Krause (1984),
    Limnol. Oceanogr. 29, 620-632.

    Examples
    --------
    >>> round(oxygen_gate_mg_l(26.0, 35.0, 101.325), 2)
    5.99
    """
    here = local_share * oxygen_saturation_mg_l(temperature_c, salinity_psu, pressure_kpa)
    return greater(here, oxygen_share * oxygen_saturation_mg_l(temperature_c, salinity_psu))
