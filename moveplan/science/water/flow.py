"""Draining, siphoning and pumping water."""

from __future__ import annotations

import math

from moveplan.science.numbers import Number, choose, greater, sqrt
from moveplan.science.ranges import ranged

GRAVITY_M_S2 = 9.80665
"""Standard gravity [m/s²]; 3rd General Conference on Weights and Measures (1901)."""

_LAMINAR_REYNOLDS = 2300.0
"""Reynolds number below which flow in a pipe is laminar; textbook value. [-]"""
_FRICTION_STEPS = 60
"""Repeated substitutions of the friction factor, more than it takes to settle. [-]"""


@ranged
def siphon_flow_l_min(
    hose_diameter_m: Number,
    hose_length_m: Number,
    head_m: Number,
    entry_loss: Number | float = 1.5,
    viscosity_m2_s: Number | float = 0.94e-6,
) -> Number:
    """Flow through a smooth siphon hose.

    Parameters
    ----------
    hose_diameter_m : float or array
        Inner diameter. [m]
    hose_length_m : float or array
        Length. [m]
    head_m : float or array
        Height of the water surface above the outlet. [m]
    entry_loss : float or array
        Loss of entry and bends, in velocity heads. [-]
    viscosity_m2_s : float or array
        Kinematic viscosity of sea water, 0.94e-6 near 25 °C. [m²/s]

    Returns
    -------
    float or array
        Flow; salt rims, kinks and sediment cut it by a third in practice. [l/min]

    Notes
    -----
    ``h = v² / 2g (1 + f L / d + K)``, ``f = 64 / Re`` below Re 2300 and Blasius' ``0.3164 Re^-0.25`` above;
    between the two regimes the larger friction is taken, so that the flow never jumps up.

    References
    ----------
    Darcy-Weisbach and Blasius (1913); White, Fluid Mechanics, chapter 6.

    Examples
    --------
    >>> round(siphon_flow_l_min(0.016, 4.0, 0.8), 2)
    15.97
    """
    speed = sqrt(2.0 * GRAVITY_M_S2 * head_m / (1.0 + entry_loss))
    for _ in range(_FRICTION_STEPS):
        reynolds = greater(speed * hose_diameter_m / viscosity_m2_s, 1e-9)
        friction = _friction_factor(reynolds) * hose_length_m / hose_diameter_m
        speed = 0.5 * (speed + sqrt(2.0 * GRAVITY_M_S2 * head_m / (1.0 + entry_loss + friction)))
    flow: Number = speed * math.pi / 4.0 * hose_diameter_m**2 * 60_000.0
    return flow


def _friction_factor(reynolds: Number) -> Number:
    blasius: Number = 0.3164 * reynolds**-0.25
    return choose(reynolds < _LAMINAR_REYNOLDS, greater(64.0 / reynolds, blasius), blasius)


@ranged
def pump_flow_l_h(greatest_flow_l_h: Number, greatest_head_m: Number, head_m: Number) -> Number:
    """Flow of a pump at a height, from the two numbers on its label, on the careful side.

    Parameters
    ----------
    greatest_flow_l_h : float or array
        Flow at no height. [l/h]
    greatest_head_m : float or array
        Height at which the flow ends. [m]
    head_m : float or array
        Height to lift. [m]

    Returns
    -------
    float or array
        Flow; zero at and above the greatest height. [l/h]

    Notes
    -----
    Straight line between the two numbers; a parabola (:func:`pump_flow_at_best_l_h`) is the bright side.

    Examples
    --------
    >>> pump_flow_l_h(3000.0, 4.0, 2.0)
    1500.0
    """
    return greatest_flow_l_h * greater(1.0 - head_m / greatest_head_m, 0.0)
