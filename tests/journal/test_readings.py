from __future__ import annotations

import pytest

from moveplan.journal.readings import ReadingError, read_value, said_unit


@pytest.mark.parametrize(
    ("what", "text", "value"),
    [
        ("temperature", "25.5 C", 25.5),
        ("temperature", "78 °F", 25.555556),
        ("salinity", "35 psu", 35.0),
        ("salinity", "35 ppt", 35.0),
        ("ammonia", "0.2 mg/l", 0.2),
        ("ammonia", "0.2 ppm", 0.2),
        # 14.007 / 18.039 and 14.007 / 17.031: IUPAC standard atomic weights (2021)
        ("ammonia", "1 mg/l NH4", 0.776484),
        ("ammonia", "1 mg/l NH3", 0.822442),
        ("ammonia", "1 mg/l NH3-N", 1.0),
        ("ammonia", "1 mg N/l", 1.0),
        # 14.007 / 46.005
        ("nitrite", "1 mg/l NO2", 0.304467),
        ("nitrite", "0.1 mg/l as N", 0.1),
        # 62.004 / 14.007
        ("nitrate", "1 mg/l N", 4.426644),
        ("nitrate", "8 mg/l", 8.0),
        ("ph", "8.1", 8.1),
        ("ph", "pH 8.1", 8.1),
        ("alkalinity", "8 dKH", 8.0),
        # 2.8 dKH a meq/l: 56.0774 / 20
        ("alkalinity", "2.5 meq/l", 7.009675),
        ("oxygen", "6.5 mg/l", 6.5),
    ],
)
def test_readings_in_the_units_of_kits_and_meters(what: str, text: str, value: float) -> None:
    assert read_value(what, text)[0] == pytest.approx(value, abs=1e-5)


@pytest.mark.parametrize(
    ("what", "text", "message"),
    [
        ("ammonia", "0.2", 'ammonia: "0.2" has no unit; write "0.2 mg/l"'),
        ("temperature", "25", 'temperature: "25" has no unit; write "25 C" or "25 F"'),
        ("salinity", "35", 'salinity: "35" has no unit; write "35 psu"'),
        (
            "salinity",
            "1.026",
            'salinity: "1.026" is a specific gravity, which says nothing without its temperatures; '
            'write the salinity, such as "35 psu"',
        ),
        (
            "ammonia",
            "1 mg/l NO2",
            'ammonia: "1 mg/l NO2" is not counted as ammonia; write for example "0.2 mg/l N"',
        ),
        ("amonia", "1 mg/l", '"amonia" is not measured here; did you mean ammonia?'),
        ("temperature", "250 C", 'temperature "250 C" is out of range; write -2 to 45 °C'),
        ("ph", "neutral", 'ph: "neutral" is not a number; write for example "8.1"'),
    ],
)
def test_what_is_wrong_is_said(what: str, text: str, message: str) -> None:
    with pytest.raises(ReadingError) as error:
        read_value(what, text)
    assert str(error.value) == message


def test_a_bare_concentration_says_how_it_was_taken() -> None:
    assert said_unit("ammonia", "0.2 mg/l") == "n"
    assert said_unit("nitrate", "0.2 mg/l") == "no3"
    assert said_unit("ammonia", "0.2 mg/l NH4") == ""
    assert said_unit("temperature", "25 C") == ""
