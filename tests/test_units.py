"""Quantities against pint, a units library made by others, and the texts of what is refused."""

from __future__ import annotations

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from moveplan.units import (
    Measure,
    QuantityError,
    kind_of_unit,
    quoted,
    retold,
    show_distance,
    show_duration,
    show_flow,
    show_length,
    show_mass,
    show_number,
    show_power,
    show_pressure,
    show_rate,
    show_share,
    show_temperature,
    show_volume,
    unit_factor,
)
from moveplan.units.table import KINDS, TARGETS, TWO_MEANINGS, UNITS

PINT: pint.UnitRegistry[float] = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
ANY = (float("-inf"), float("inf"))

PAIRS = [
    ("120 cm", "m", "120 cm", "m"),
    ("48 in", "m", "48 inch", "m"),
    ("7.5 ft", "m", "7.5 foot", "m"),
    ("3 yd", "cm", "3 yard", "cm"),
    ("22 miles", "km", "22 mile", "km"),
    ("12 mm", "mm", "12 mm", "mm"),
    ("45 lb", "kg", "45 pound", "kg"),
    ("12 oz", "g", "12 ounce", "g"),
    ("1.1 t", "kg", "1.1 metric_ton", "kg"),
    ("75 US gal", "l", "75 gallon", "litre"),
    ("75 UK gal", "l", "75 imperial_gallon", "litre"),
    ("3 US qt", "l", "3 quart", "litre"),
    ("3 UK pints", "l", "3 imperial_pint", "litre"),
    ("8 US fl oz", "l", "8 fluid_ounce", "litre"),
    ("8 UK fl oz", "l", "8 imperial_fluid_ounce", "litre"),
    ("2 ft3", "l", "2 foot**3", "litre"),
    ("231 in3", "l", "231 inch**3", "litre"),
    ("0.4 m3", "l", "0.4 m**3", "litre"),
    ("793 US gal/h", "l/h", "793 gallon/hour", "litre/hour"),
    ("50 l/min", "l/h", "50 litre/minute", "litre/hour"),
    ("50 US gal per day", "l/day", "50 gallon/day", "litre/day"),
    ("4 g/day", "g/day", "4 gram/day", "gram/day"),
    ("2 weeks", "min", "2 week", "minute"),
    ("90 min", "h", "90 minute", "hour"),
    ("6 weeks", "day", "6 week", "day"),
    ("4 years", "month", "48 month", "month"),
    ("30 days", "month", "30 day", "month"),
    ("50 psi", "bar", "50 psi", "bar"),
    ("345 kPa", "bar", "345 kPa", "bar"),
    ("2.3 kW", "W", "2.3 kilowatt", "watt"),
    ("5 %", "%", "0.05 dimensionless", "dimensionless"),
]


@pytest.mark.parametrize(("text", "unit", "theirs", "their_unit"), PAIRS, ids=[row[0] for row in PAIRS])
def test_same_as_pint(text: str, unit: str, theirs: str, their_unit: str) -> None:
    assert Measure(unit, *ANY, "").read(text) == pytest.approx(
        PINT(theirs).to(their_unit).magnitude, rel=1e-12
    )


@pytest.mark.parametrize("text", ["77.9 F", "-40 °F", "298.65 K", "25.5 C"])
def test_temperatures_same_as_pint(text: str) -> None:
    number, unit = text.split()
    names = {"F": "degF", "°F": "degF", "K": "kelvin", "C": "degC"}
    expected = PINT.Quantity(float(number), names[unit]).to("degC").magnitude
    assert Measure("°C", *ANY, "").read(text) == pytest.approx(expected, abs=1e-9)


def test_alkalinity_by_molar_masses() -> None:
    # 1 meq/l is 28.0387 mg/l CaO, and a German degree is 10 mg/l CaO; 50.04345 mg/l CaCO3 a meq/l.
    read = Measure("dKH", *ANY, "").read
    assert read("1 meq/l") == pytest.approx(2.80387, rel=1e-6)
    assert read("50.04345 ppm CaCO3") == pytest.approx(2.80387, rel=1e-6)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("4 ft 6 in", 1.3716),
        ("4'6\"", 1.3716),
        ("1 m 20 cm", 1.2),
        ("120cm", 1.2),
        ("  120   CM ", 1.2),
        ("+1.2 m", 1.2),
        (".5 m", 0.5),
        ("\N{MINUS SIGN}2 m", -2.0),
        ("-1 m 50 cm", -1.5),
    ],
)
def test_ways_to_write_a_length(text: str, value: float) -> None:
    assert Measure("m", *ANY, "").read(text) == value


def test_written_decimals_come_out_as_written() -> None:
    assert Measure("cm", *ANY, "").read("7 cm") == 7.0
    assert Measure("m", *ANY, "").read("55 cm") == 0.55
    assert Measure("min", *ANY, "").read("1 h 30 min") == 90.0


LENGTH = Measure("m", 0.1, 20.0, "60 cm")
ALTITUDE = Measure("m", -430, 4500, "1600 m")
VOLUME = Measure("l", 0.0, 100_000.0, "80 l")
MASS = Measure("kg", 0.0, 20_000.0, "40 kg")


@pytest.mark.parametrize(
    ("measure", "text", "expected"),
    [
        (LENGTH, "48", '"48" has no unit; write "48 cm" or "48 in"'),
        (LENGTH, "5", '"5" has no unit; write "5 in"'),
        (LENGTH, "0.01", '"0.01" has no unit; write for example "60 cm"'),
        (LENGTH, "", 'has no value; write for example "60 cm"'),
        (LENGTH, "wide", '"wide" is not a length; write for example "60 cm"'),
        (LENGTH, "nan", '"nan" is not a length; write for example "60 cm"'),
        (LENGTH, "inf m", '"inf m" is not a length; write for example "60 cm"'),
        (LENGTH, "1e3 m", '"1e3 m" is not a length; write for example "60 cm"'),
        (LENGTH, "5 cm", '"5 cm" is less than 10 cm; write "10 cm" or more'),
        (ALTITUDE, "20000 ft", '"20000 ft" is more than 4500 m; write "4500 m" or less'),
        (ALTITUDE, "-500 m", '"-500 m" is less than -430 m; write "-430 m" or more'),
        (ALTITUDE, "5200", '"5200" has no unit; write "5200 ft"'),
        (ALTITUDE, "1600", '"1600" has no unit; write "1600 m" or "1600 ft"'),
        (LENGTH, "21 m", '"21 m" is more than 2000 cm; write "2000 cm" or less'),
        (
            LENGTH,
            "120 furlong",
            '"120 furlong" has no unit of length that is known here; write "120 cm" or "120 in"',
        ),
        (LENGTH, "120 kg", '"120 kg" is a mass, not a length; write "120 cm" or "120 in"'),
        (LENGTH, "1,2 m", '"1,2 m" has a comma; write "1.2 m" or "12 m"'),
        (LENGTH, "1.2.3 m", '"1.2.3 m" is not a length; write for example "60 cm"'),
        (LENGTH, "1 m -20 cm", '"1 m -20 cm" is not a length; write for example "60 cm"'),
        (
            VOLUME,
            "12 gal",
            '"12 gal" is 45 l in US gallons and 55 l in UK gallons; write "12 US gal" or "12 UK gal"',
        ),
        (
            VOLUME,
            "2 pints",
            '"2 pints" is 0.95 l in US pints and 1.1 l in UK pints; write "2 US pt" or "2 UK pt"',
        ),
        (
            Measure("l/day", 0, 1000, "190 l/day"),
            "50 gal/day",
            '"50 gal/day" is 189 l/day in US gallons and 227 l/day in UK gallons; '
            'write "50 US gal/day" or "50 UK gal/day"',
        ),
        (MASS, "2 tons", '"2 tons" may mean tons of 907, 1000 or 1016 kg; write "2 t" or "2 kg"'),
        (MASS, "2 fl oz", '"2 fl oz" has no unit of mass that is known here; write "2 kg" or "2 lb"'),
        (VOLUME, "-5 l", '"-5 l" is less than 0 l; write "0 l" or more'),
        (Measure("%", 0, 100, "5 %"), "5", '"5" has no unit; write "5 %"'),
        (Measure("°C", 15, 35, "25.5 C"), "25", '"25" has no unit; write "25 C"'),
        (Measure("°C", 15, 35, "25.5 C"), "78", '"78" has no unit; write "78 F"'),
        (
            Measure("°C", 15, 35, "25.5 C"),
            "1 C 2 C",
            '"1 C 2 C" is not a temperature; write for example "25.5 C"',
        ),
    ],
)
def test_refused(measure: Measure, text: str, expected: str) -> None:
    with pytest.raises(QuantityError) as caught:
        measure.read(text)
    assert str(caught.value) == expected


def test_long_texts_are_cut() -> None:
    with pytest.raises(QuantityError) as caught:
        VOLUME.read("9" * 10_000_000)
    assert len(str(caught.value)) < 150


def test_quoted_hides_nothing() -> None:
    assert quoted("a\tb\u202ec\x07") == '"a\\tb\\u202ec\\x07"'
    assert len(quoted("x" * 1000)) == 62


def test_every_spelling_is_read_in_its_kind() -> None:
    for kind, spellings in UNITS.items():
        for spelling in spellings:
            assert unit_factor(spelling, kind) == spellings[spelling]


def test_doubtful_units_are_no_units() -> None:
    assert not any(spelling in UNITS[kind] for spelling in TWO_MEANINGS for kind in UNITS)
    assert kind_of_unit("gal") == ""
    assert kind_of_unit("l/h") == "flow"
    assert set(KINDS) >= {target.kind for target in TARGETS.values()}


@settings(max_examples=200, deadline=None)
@given(st.floats(0.001, 9_000), st.sampled_from(["metric", "us"]))
def test_what_is_shown_is_read_back(value: float, units: str) -> None:
    shown = [
        (show_length(value, units), "m", value),
        (show_distance(value, units), "km", value),
        (show_mass(value, units), "kg", value),
        (show_volume(value, units), "l", value),
        (show_flow(value, units), "l/h", value),
        (show_rate(value, units), "l/day", value),
        (show_pressure(value, units), "bar", value),
        (show_power(value), "W", value),
    ]
    for text, unit, expected in shown:
        # Three digits are shown, fewer of what is below a thousandth of the unit shown.
        assert Measure(unit, *ANY, "").read(text) == pytest.approx(expected, rel=6e-3, abs=6e-4 * 5), text
    assert Measure("°C", *ANY, "").read(show_temperature(value, units)) == pytest.approx(value, abs=0.051)
    assert Measure("%", *ANY, "").read(show_share(value / 9000)) == pytest.approx(
        value / 9000, rel=6e-3, abs=6e-6
    )


@settings(max_examples=200, deadline=None)
@given(st.integers(-600_000, 600_000))
def test_durations_are_shown_exactly(minutes: int) -> None:
    assert Measure("min", *ANY, "").read(show_duration(minutes)) == minutes


@pytest.mark.parametrize(
    ("shown", "expected"),
    [
        (show_number(0.1 + 0.2), "0.3"),
        (show_number(-0.0), "0"),
        (show_number(1e12), "1000000000000"),
        (show_length(0.55, "metric"), "55 cm"),
        (show_length(25.0, "metric"), "25 m"),
        (show_length(25.0, "us"), "82 ft"),
        (show_mass(0.0, "us"), "0 lb"),
        (show_mass(0.2, "us"), "7.05 oz"),
        (show_duration(-90), "-1 h 30 min"),
        (show_duration(1501), "1 day 1 h 1 min"),
        (show_volume(0.75, "metric"), "0.75 l"),
    ],
)
def test_shown(shown: str, expected: str) -> None:
    assert shown == expected


@settings(max_examples=300, deadline=None)
@given(
    st.text(max_size=70) | st.from_regex(r"[-+0-9., /%'\"a-zA-Z°]{0,24}", fullmatch=True),
    st.sampled_from(list(TARGETS)),
)
def test_any_text_is_read_or_refused_in_a_sentence(text: str, unit: str) -> None:
    value, refused = 0.0, QuantityError("")
    try:
        value = Measure(unit, -1e6, 1e6, "1 x").read(text)
    except QuantityError as error:
        refused = error
    assert -1e6 <= value <= 1e6
    assert str(refused).isprintable()


@pytest.mark.parametrize(
    ("metric", "us"),
    [
        ("12 l", "3.17 US gal"),
        ("from 22.5 °C to 25.5 °C", "from 72.5 °F to 77.9 °F"),
        ("1.20 m × 0.60 m", "47.2 in × 23.6 in"),
        ("panes of 10 mm glass", "panes of 0.39 in glass"),
        ("35 km at 64 km/h", "21.7 miles at 39.8 mph"),
        ("a pump of 3000 l/h, 12 l/min", "a pump of 793 US gal/h, 3.17 US gal/min"),
        (
            "20 g/l, 0.5 mg/l, 2830 kg/m³, 1.1 m², 14 W/K, 3 m/s",
            "20 g/l, 0.5 mg/l, 177 lb/ft³, 1.1 m², 7.78 W/°F, 3 m/s",
        ),
        ("stands at 23.8 to 25.6 °C", "stands at 74.8 to 78.1 °F"),
        ("10 to 20 l, 2 to 4 m, 1.5 kg/l", "2.64 to 5.28 US gal, 78.7 in to 13.1 ft, 12.5 lb/US gal"),
        ("version 1.2.3 l", "version 1.2.3 l"),
    ],
)
def test_a_sentence_is_told_in_the_units_of_the_keeper(metric: str, us: str) -> None:
    assert retold(metric, "us") == us
    assert retold(metric, "metric") == metric
