"""Draining, siphoning and pumping water."""

from __future__ import annotations

import math

import numpy as np

from moveplan.science.numbers import Array, Number, ceiling, choose, greater, sqrt
from moveplan.science.ranges import ordered, ranged

GRAVITY_M_S2 = 9.80665
"""Standard gravity [m/s²]; 3rd General Conference on Weights and Measures (1901)."""

_LAMINAR_REYNOLDS = 2300.0
_FRICTION_STEPS = 60
_HEAD_STEPS = 40


@ranged
def hole_drain_time_min(
    water_area_m2: Number,
    start_depth_m: Number,
    end_depth_m: Number,
    hole_diameter_m: Number,
    discharge_coefficient: Number | float = 0.62,
) -> Number:
    """Time to drain a tank through a hole in its bottom.

    Parameters
    ----------
    water_area_m2 : float or array
        Surface of the water. [m²]
    start_depth_m : float or array
        Depth above the hole at the start. [m]
    end_depth_m : float or array
        Depth above the hole at the end, not above the start. [m]
    hole_diameter_m : float or array
        Diameter of the hole. [m]
    discharge_coefficient : float or array
        0.62 for a sharp edge. [-]

    Returns
    -------
    float or array
        Time. [min]

    Notes
    -----
    ``2 A (sqrt(h1) - sqrt(h2)) / (Cd a sqrt(2 g))``.

    References
    ----------
    Torricelli's law; any textbook of fluid mechanics, such as White, Fluid Mechanics, chapter 3.

    Examples
    --------
    >>> round(hole_drain_time_min(0.72, 0.55, 0.05, 0.025), 2)
    9.22
    """
    ordered("end_depth_m", end_depth_m, "start_depth_m", start_depth_m)
    hole = math.pi / 4.0 * hole_diameter_m**2
    fall = sqrt(start_depth_m) - sqrt(end_depth_m)
    seconds: Number = (
        2.0 * water_area_m2 * fall / (discharge_coefficient * hole * math.sqrt(2.0 * GRAVITY_M_S2))
    )
    return seconds / 60.0


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


def siphon_drain_time_min(
    water_area_m2: float,
    start_depth_m: float,
    end_depth_m: float,
    outlet_drop_m: float,
    hose_diameter_m: float,
    hose_length_m: float,
) -> float:
    """Time to drain a tank with a siphon while the head falls.

    Parameters
    ----------
    water_area_m2 : float
        Surface of the water. [m²]
    start_depth_m : float
        Depth at the start. [m]
    end_depth_m : float
        Depth at the end, not above the start. [m]
    outlet_drop_m : float
        Height of the tank's bottom above the outlet of the hose. [m]
    hose_diameter_m : float
        Inner diameter of the hose. [m]
    hose_length_m : float
        Length of the hose. [m]

    Returns
    -------
    float
        Time. [min]

    Notes
    -----
    Simpson's rule over the depth on ``A dh / q(h)`` with :func:`siphon_flow_l_min`.

    References
    ----------
    Darcy-Weisbach and Blasius (1913); White, Fluid Mechanics, chapter 6.

    Examples
    --------
    >>> round(siphon_drain_time_min(0.72, 0.55, 0.05, 0.4, 0.016, 4.0), 1)
    24.7
    """
    ordered("end_depth_m", end_depth_m, "start_depth_m", start_depth_m)
    depths: Array = np.linspace(end_depth_m, start_depth_m, _HEAD_STEPS + 1)
    ones = np.ones_like(depths)
    flow = siphon_flow_l_min(hose_diameter_m * ones, hose_length_m * ones, depths + outlet_drop_m)
    weights = np.where(np.arange(_HEAD_STEPS + 1) % 2, 4.0, 2.0)
    weights[[0, -1]] = 1.0
    step = (start_depth_m - end_depth_m) / _HEAD_STEPS
    return float(1000.0 * water_area_m2 * step / 3.0 * (weights / flow).sum())


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


@ranged
def pump_flow_at_best_l_h(greatest_flow_l_h: Number, greatest_head_m: Number, head_m: Number) -> Number:
    """Flow of a pump at a height, from the two numbers on its label, on the bright side.

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
    ``Q_max sqrt(1 - h / h_max)``, the parabola of a centrifugal pump; White, Fluid Mechanics, chapter 11.

    Examples
    --------
    >>> round(pump_flow_at_best_l_h(3000.0, 4.0, 2.0))
    2121
    """
    return greatest_flow_l_h * sqrt(greater(1.0 - head_m / greatest_head_m, 0.0))


@ranged
def bucket_trips(volume_l: Number, bucket_l: Number) -> Number:
    """Trips to carry a volume by bucket.

    Parameters
    ----------
    volume_l : float or array
        Volume to carry. [l]
    bucket_l : float or array
        What is carried in one trip. [l]

    Returns
    -------
    float or array
        Whole number of trips. [-]

    Notes
    -----
    Volume over bucket, rounded up.

    Examples
    --------
    >>> bucket_trips(400.0, 10.0)
    40.0
    """
    return ceiling(volume_l / bucket_l - 1e-9)
