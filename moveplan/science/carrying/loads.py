"""Masses of tanks and rock, and the loads they put on floors and vehicles.

Estimates of mass and pressure only.  Nothing here designs a glass thickness or says that a floor is strong
enough: that depends on span, joists and condition, and is for a structural engineer.
"""

from __future__ import annotations

from moveplan.science.numbers import Number, greater
from moveplan.science.ranges import ranged, within
from moveplan.science.water.flow import GRAVITY_M_S2


@ranged
def tank_inner_volume_l(
    length_m: Number, width_m: Number, height_m: Number, side_thickness_m: Number, base_thickness_m: Number
) -> Number:
    """Volume of a rectangular tank filled to the brim.

    Parameters
    ----------
    length_m : float or array
        Outer length. [m]
    width_m : float or array
        Outer width. [m]
    height_m : float or array
        Outer height. [m]
    side_thickness_m : float or array
        Thickness of the four sides. [m]
    base_thickness_m : float or array
        Thickness of the bottom. [m]

    Returns
    -------
    float or array
        Volume. [l]

    Notes
    -----
    Inner length times width times height.

    Examples
    --------
    >>> round(tank_inner_volume_l(1.2, 0.6, 0.6, 0.012, 0.012), 1)
    398.3
    """
    _refuse_solid(length_m, width_m, height_m, side_thickness_m, base_thickness_m)
    inner = (length_m - 2.0 * side_thickness_m) * (width_m - 2.0 * side_thickness_m)
    return 1000.0 * inner * (height_m - base_thickness_m)


@ranged
def tank_mass_kg(
    length_m: Number,
    width_m: Number,
    height_m: Number,
    side_thickness_m: Number,
    base_thickness_m: Number,
    material_density_kg_m3: Number,
) -> Number:
    """Mass of an empty rectangular tank without braces, rim and silicone.

    Parameters
    ----------
    length_m : float or array
        Outer length. [m]
    width_m : float or array
        Outer width. [m]
    height_m : float or array
        Outer height. [m]
    side_thickness_m : float or array
        Thickness of the four sides. [m]
    base_thickness_m : float or array
        Thickness of the bottom. [m]
    material_density_kg_m3 : float or array
        2500 for float glass, 1190 for acrylic. [kg/m³]

    Returns
    -------
    float or array
        Mass. [kg]

    References
    ----------
    Density of float glass from EN 572-1 (recalled); geometry otherwise.

    Examples
    --------
    >>> round(tank_mass_kg(1.2, 0.6, 0.6, 0.012, 0.012, 2500.0), 2)
    84.26
    """
    _refuse_solid(length_m, width_m, height_m, side_thickness_m, base_thickness_m)
    wall = height_m - base_thickness_m
    panes = 2.0 * length_m * wall + 2.0 * (width_m - 2.0 * side_thickness_m) * wall
    volume = length_m * width_m * base_thickness_m + panes * side_thickness_m
    return volume * material_density_kg_m3


def _refuse_solid(length: Number, width: Number, height: Number, side: Number, base: Number) -> None:
    within("side_thickness_m", side / length, 0.0, 0.25, "as a share of the length; room must be left inside")
    within("side_thickness_m", side / width, 0.0, 0.25, "as a share of the width; room must be left inside")
    within("base_thickness_m", base / height, 0.0, 0.5, "as a share of the height; room must be left inside")


@ranged
def rock_displacement_l(dry_rock_kg: Number, skeleton_density_kg_m3: Number | float = 2830.0) -> Number:
    """Water that soaked rock displaces.

    Parameters
    ----------
    dry_rock_kg : float or array
        Dry mass of the rock. [kg]
    skeleton_density_kg_m3 : float or array
        Density of the skeleton without its pores. [kg/m³]

    Returns
    -------
    float or array
        Volume. [l]

    References
    ----------
    Bucher, Harriott and Roberts (1998), J. Exp. Mar. Biol. Ecol. 228, 117-136: 2781 to 2873 kg/m³.

    Examples
    --------
    >>> round(rock_displacement_l(40.0), 1)
    14.1
    """
    volume: Number = 1000.0 * dry_rock_kg / skeleton_density_kg_m3
    return volume


@ranged
def floor_pressure_kpa(mass_kg: Number, length_m: Number, width_m: Number) -> Number:
    """Mean pressure under a footprint.

    Parameters
    ----------
    mass_kg : float or array
        Everything that stands there. [kg]
    length_m : float or array
        Length of the footprint. [m]
    width_m : float or array
        Width of the footprint. [m]

    Returns
    -------
    float or array
        Pressure; a code's uniform floor load is often 1.5 to 2.0. [kPa]

    References
    ----------
    ``m g / A``.  EN 1991-1-1:2002, Table 6.2, category A for comparison (recalled).

    Examples
    --------
    >>> round(floor_pressure_kpa(561.84, 1.2, 0.6), 2)
    7.65
    """
    return mass_kg * GRAVITY_M_S2 / (length_m * width_m) / 1000.0


@ranged
def blocking_force_n(mass_kg: Number, acceleration_g: Number, friction_coefficient: Number) -> Number:
    """Force with which a load must be held beyond what friction does.

    Parameters
    ----------
    mass_kg : float or array
        Mass of the load. [kg]
    acceleration_g : float or array
        Design acceleration over gravity: 0.8 forward, 0.5 sideways and rearward. [-]
    friction_coefficient : float or array
        Between load and floor; 0.3 for wood on plywood. [-]

    Returns
    -------
    float or array
        Force; zero where friction is enough. [N]

    References
    ----------
    EN 12195-1:2010 (recalled): ``F = (c - mu) m g`` with g 9.81.

    Examples
    --------
    >>> round(blocking_force_n(200.0, 0.8, 0.3), 1)
    981.0
    """
    return greater(acceleration_g - friction_coefficient, 0.0) * mass_kg * 9.81
