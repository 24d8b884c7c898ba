"""Print quantities in the keeper's units, ``metric`` or ``us``, so that they can be read back."""

from __future__ import annotations

from math import floor, log10

from moveplan.units.table import INCH_M, POUND_KG, POUND_PER_SQUARE_INCH_BAR, US_GALLON_L

_FOOT_M = float(12 * INCH_M)
_RARE = 0.105
"""Of chances below the one in so many is rounded as people round. Chosen. [-]"""
_SELDOM, _OFTEN = 0.275, 0.95
"""Below the first a chance is one in so many; from the last on tenths are too coarse. Chosen. [-]"""
_CERTAIN = 0.99
"""Beyond it, and below what is left of it, a chance hangs on what was assumed more than on the runs. Chosen. [-]"""
_STEPS = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)
"""What people round to, times a power of ten. [-]"""
_DURATIONS = ((10080, "week", "weeks"), (1440, "day", "days"), (60, "h", "h"), (1, "min", "min"))


def show_number(value: float) -> str:
    """Write a number in decimals without an exponent and without needless zeros.

    >>> show_number(1200.0), show_number(0.5), show_number(-0.0)
    ('1200', '0.5', '0')
    """
    text = f"{value:.9f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def show_rounded(value: float) -> str:
    """Write a number as exactly as a keeper can use it: about three digits, whole from a hundred on.

    >>> show_rounded(20.4117), show_rounded(1234.5), show_rounded(0.04567)
    ('20.4', '1234', '0.046')
    """
    size = abs(value)
    digits = 0 if size >= 100 else 1 if size >= 10 else 2 if size >= 1 else 3
    return show_number(round(value, digits))


def _shown(value: float, unit: str) -> str:
    return f"{show_rounded(value)} {unit}"


def show_length(length_m: float, units: str) -> str:
    """Print a length.

    Parameters
    ----------
    length_m : float
        Length. [m]
    units : str
        ``metric`` or ``us``.

    >>> show_length(1.2, "metric"), show_length(0.012, "metric"), show_length(1.2192, "us")
    ('120 cm', '12 mm', '48 in')
    """
    if units == "us":
        far = length_m >= 10 * _FOOT_M or not length_m
        return _shown(length_m / _FOOT_M, "ft") if far else _shown(length_m / float(INCH_M), "in")
    if length_m < 0.03:
        return _shown(length_m * 1000, "mm")
    return _shown(length_m * 100, "cm") if length_m < 3.0 else _shown(length_m, "m")


def show_distance(distance_km: float, units: str) -> str:
    """Print the length of a road.

    Parameters
    ----------
    distance_km : float
        Distance. [km]
    units : str
        ``metric`` or ``us``.

    >>> show_distance(38.0, "metric"), show_distance(38.0, "us")
    ('38 km', '23.6 miles')
    """
    return _shown(distance_km / 1.609344, "miles") if units == "us" else _shown(distance_km, "km")


def show_mass(mass_kg: float, units: str) -> str:
    """Print a mass.

    Parameters
    ----------
    mass_kg : float
        Mass. [kg]
    units : str
        ``metric`` or ``us``.

    >>> show_mass(38.0, "metric"), show_mass(0.004, "metric"), show_mass(38.0, "us")
    ('38 kg', '4 g', '83.8 lb')
    """
    if units == "us":
        pounds = mass_kg / float(POUND_KG)
        return _shown(pounds, "lb") if pounds >= 1 or not pounds else _shown(pounds * 16, "oz")
    return _shown(mass_kg, "kg") if mass_kg >= 1 or not mass_kg else _shown(mass_kg * 1000, "g")


def show_volume(volume_l: float, units: str) -> str:
    """Print a volume.

    Parameters
    ----------
    volume_l : float
        Volume. [l]
    units : str
        ``metric`` or ``us``.

    >>> show_volume(310.4, "metric"), show_volume(310.4, "us")
    ('310 l', '82 US gal')
    """
    return _shown(volume_l / float(US_GALLON_L), "US gal") if units == "us" else _shown(volume_l, "l")


def show_flow(flow_l_h: float, units: str) -> str:
    """Print the flow of a pump.

    Parameters
    ----------
    flow_l_h : float
        Flow. [l/h]
    units : str
        ``metric`` or ``us``.

    >>> show_flow(3000.0, "metric"), show_flow(3000.0, "us")
    ('3000 l/h', '793 US gal/h')
    """
    return f"{show_volume(flow_l_h, units)}/h"


def show_rate(rate_l_day: float, units: str) -> str:
    """Print the output of a water maker.

    Parameters
    ----------
    rate_l_day : float
        Output. [l/day]
    units : str
        ``metric`` or ``us``.

    >>> show_rate(190.0, "us")
    '50.2 US gal/day'
    """
    return f"{show_volume(rate_l_day, units)}/day"


def show_temperature(temperature_c: float, units: str) -> str:
    """Print a temperature.

    Parameters
    ----------
    temperature_c : float
        Temperature. [°C]
    units : str
        ``metric`` or ``us``.

    >>> show_temperature(25.5, "metric"), show_temperature(25.5, "us")
    ('25.5 °C', '77.9 °F')
    """
    if units == "us":
        return f"{show_number(round(temperature_c * 1.8 + 32, 1))} °F"
    return f"{show_number(round(temperature_c, 1))} °C"


def show_pressure(pressure_bar: float, units: str) -> str:
    """Print a pressure.

    Parameters
    ----------
    pressure_bar : float
        Pressure. [bar]
    units : str
        ``metric`` or ``us``.

    >>> show_pressure(3.5, "metric"), show_pressure(3.5, "us")
    ('3.5 bar', '50.8 psi')
    """
    return (
        _shown(pressure_bar / float(POUND_PER_SQUARE_INCH_BAR), "psi")
        if units == "us"
        else _shown(pressure_bar, "bar")
    )


def show_power(power_w: float) -> str:
    """Print a power.

    Parameters
    ----------
    power_w : float
        Power. [W]

    >>> show_power(200.0), show_power(2300.0)
    ('200 W', '2300 W')
    """
    return _shown(power_w, "W")


def show_share(share: float) -> str:
    """Print a fraction of one as percent.

    Parameters
    ----------
    share : float
        Fraction of one.

    >>> show_share(0.05), show_share(0.004)
    ('5 %', '0.4 %')
    """
    return _shown(share * 100, "%")


def show_odds(share: float) -> str:
    """Print the chance that something happens as people say it: one in so many, or how many in ten.

    Parameters
    ----------
    share : float
        Fraction of one.

    >>> show_odds(0.0004), show_odds(0.026), show_odds(0.15), show_odds(0.32)
    ('under 1 in 100', '1 in 40', '1 in 7', '3 in 10')
    >>> show_odds(0.53), show_odds(0.632), show_odds(0.9), show_odds(0.97), show_odds(0.999)
    ('about half', '6 in 10', '9 in 10', '97 in 100', 'over 99 in 100')
    """
    if share < 1 - _CERTAIN or share > _CERTAIN:
        return "over 99 in 100" if share > _CERTAIN else "under 1 in 100"
    if share < _SELDOM:
        return f"1 in {rounded(1 / share) if share < _RARE else round(1 / share)}"
    if share >= _OFTEN:
        return f"{round(100 * share)} in 100"
    tenths = round(10 * share)
    return "about half" if tenths == 5 else f"{tenths} in 10"


def show_kept(share: float) -> str:
    """Print in how many of the runs something holds, in percent, as a plan asks for it.

    It is rounded down, so that what is kept too seldom never reads like what is asked for.

    Parameters
    ----------
    share : float
        Fraction of one.

    >>> show_kept(0.7996), show_kept(0.8), show_kept(0.004), show_kept(0.999)
    ('79 %', '80 %', 'under 1 %', 'over 99 %')
    """
    if share < 1 - _CERTAIN or share > _CERTAIN:
        return "over 99 %" if share > _CERTAIN else "under 1 %"
    return f"{floor(round(100 * share, 6))} %"


def rounded(value: float) -> int:
    """Round a positive number to 1, 1.5, 2, 2.5, 3, 4, 5, 6 or 8 times a power of ten, as people do.

    Parameters
    ----------
    value : float
        At least 1.

    >>> rounded(38.46), rounded(13.0), rounded(950.0)
    (40, 15, 1000)
    """
    power = 10.0 ** floor(log10(value))
    return round(power * min(_STEPS, key=lambda step: abs(log10(step * power / value))))


def show_nearly(minutes: float) -> str:
    """Print a duration that was computed, no finer than it is known: to five minutes, from a day on to the hour.

    Parameters
    ----------
    minutes : float
        Duration; below a quarter of an hour it is told to the minute. [min]

    >>> show_nearly(122.4), show_nearly(7.2), show_nearly(13_517)
    ('2 h', '7 min', '1 week 2 days 9 h')
    """
    step = _step_of(minutes)
    return show_duration(round(minutes / step) * step)


def show_within(minutes: float) -> str:
    """Print how long something is safe, as coarsely, and never longer than it is.

    Parameters
    ----------
    minutes : float
        Duration. [min]

    >>> show_within(683.9), show_within(7.9), show_within(-52.0)
    ('11 h 20 min', '7 min', '-55 min')
    """
    step = _step_of(abs(minutes))
    return show_duration(floor(minutes / step) * step)


def _step_of(minutes: float) -> int:
    return 1 if minutes < 15 else 5 if minutes < 1440 else 60


def show_duration(minutes: int) -> str:
    """Print a duration, exactly.

    Parameters
    ----------
    minutes : int
        Duration. [min]

    >>> show_duration(90), show_duration(1440), show_duration(0), show_duration(20160)
    ('1 h 30 min', '1 day', '0 min', '2 weeks')
    """
    if minutes < 0:
        return f"-{show_duration(-minutes)}"
    parts, rest = [], minutes
    for size, one, many in _DURATIONS:
        count, rest = divmod(rest, size)
        if count:
            parts.append(f"{count} {one if count == 1 else many}")
    return " ".join(parts) or "0 min"
