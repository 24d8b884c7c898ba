"""Reverse-osmosis water: how fast a membrane makes it in cold feed water at low pressure."""

from __future__ import annotations

from moveplan.science.numbers import KELVIN, Number, choose, exp
from moveplan.science.ranges import ranged, within

_TDS_MG_L_PER_PSI = 100.0
"""Dissolved solids that make one psi of osmotic pressure; rule of thumb of the trade. [mg/(l psi)]"""
_BAR_PER_PSI = 0.0689476
"""One pound-force on a square inch. [bar]"""


@ranged
def temperature_correction(feed_temperature_c: Number) -> Number:
    """How much slower a membrane makes water than at 25 °C.

    Parameters
    ----------
    feed_temperature_c : float or array
        Temperature of the feed water. [°C]

    Returns
    -------
    float or array
        Flow at 25 °C over the flow at this temperature; tables of makers differ by 5 %. [-]

    Notes
    -----
    ``exp(3020 (1/T - 1/298.15))`` below 25 °C and ``exp(2640 (1/T - 1/298.15))`` above: the membrane
    industry's usual form, which reproduces a published neutral table (1.711 at 10 °C, 1.422 at 15 °C, 1.189
    at 20 °C, 0.915 at 28 °C) to 0.001.

    Examples
    --------
    >>> round(temperature_correction(12.0), 3)
    1.587
    """
    inverse = 1.0 / (feed_temperature_c + KELVIN) - 1.0 / (25.0 + KELVIN)
    slope: Number = choose(feed_temperature_c < 25.0, 3020.0, 2640.0)
    return exp(slope * inverse)


@ranged
def osmotic_pressure_bar(dissolved_solids_mg_l: Number) -> Number:
    """Osmotic pressure of tap water by the rule of thumb of the trade.

    Parameters
    ----------
    dissolved_solids_mg_l : float or array
        Total dissolved solids. [mg/l]

    Returns
    -------
    float or array
        Osmotic pressure. [bar]

    Notes
    -----
    1 psi for each 100 mg/l; common practice.

    Examples
    --------
    >>> round(osmotic_pressure_bar(290.0), 2)
    0.2
    """
    return dissolved_solids_mg_l / _TDS_MG_L_PER_PSI * _BAR_PER_PSI


@ranged
def permeate_flow_l_h(
    rated_flow_l_day: Number,
    rated_pressure_bar: Number,
    feed_temperature_c: Number,
    feed_pressure_bar: Number,
    feed_osmotic_bar: Number,
    rated_osmotic_bar: Number | float = 0.2,
) -> Number:
    """Purified water that a membrane makes in an hour.

    Parameters
    ----------
    rated_flow_l_day : float or array
        Flow on the label, at 25 °C. [l/day]
    rated_pressure_bar : float or array
        Pressure at which the label was measured. [bar]
    feed_temperature_c : float or array
        Temperature of the feed water. [°C]
    feed_pressure_bar : float or array
        Pressure of the feed water, above its osmotic pressure. [bar]
    feed_osmotic_bar : float or array
        Osmotic pressure of the feed water. [bar]
    rated_osmotic_bar : float or array
        Osmotic pressure of the water with which the label was measured. [bar]

    Returns
    -------
    float or array
        Flow. [l/h]

    Raises
    ------
    OutOfRangeError
        Also where the feed pressure does not exceed the osmotic pressure: no water would pass.

    Notes
    -----
    Flow in proportion to net driving pressure, ``(P - pi) / (P_rated - pi_rated)``, over
    :func:`temperature_correction`.

    Examples
    --------
    >>> round(permeate_flow_l_h(189.27, 4.14, 12.0, 3.5, 0.2), 2)
    4.16
    """
    net = feed_pressure_bar - feed_osmotic_bar
    within("feed_pressure_bar", net, 0.05, 20.0, "net of osmotic pressure, water must be driven through")
    pressure_factor: Number = net / (rated_pressure_bar - rated_osmotic_bar)
    return rated_flow_l_day / 24.0 * pressure_factor / temperature_correction(feed_temperature_c)
