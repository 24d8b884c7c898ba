from __future__ import annotations

import pytest

from moveplan.journal.waters.readings import BARE, ReadingError, as_taken, read_value


@pytest.mark.parametrize(
    ("what", "text", "value"),
    [
        ("temperature", "25.5 C", 25.5),
        ("temperature", "78 °F", 25.555556),
        ("salinity", "35 psu", 35.0),
        ("salinity", "35 ppt", 35.0),
        ("salinity", "35 g/kg", 35.0),
        # by the scale of 1978 with 25 °C of ITS-90; 1023.3438 kg/m³ at 25 °C, and 35.16504 g/kg for 35
        ("salinity", "53.07103 mS/cm at 25 C", 35.0),
        ("salinity", "53.07103 mS/cm 77F", 35.0),
        ("salinity", "35.98592 g/l", 35.0),
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
        # one unit is the only one possible
        ("temperature", "25", 25.0),
        ("temperature", "77", 25.0),
        ("salinity", "35", 35.0),
        ("ammonia", "0.2", 0.2),
        ("nitrate", "8", 8.0),
        ("alkalinity", "8", 8.0),
        ("alkalinity", "2.5", 7.009675),
        # 143 mg/l CaCO3 x 56.0774 / 100.0869 / 10
        ("alkalinity", "143 ppm", 8.012106),
        ("alkalinity", "143 mg/l as CaCO3", 8.012106),
        ("alkalinity", "143", 8.012106),
        ("oxygen", "6.5", 6.5),
    ],
)
def test_readings_in_the_units_of_kits_and_meters(what: str, text: str, value: float) -> None:
    assert read_value(what, text)[0] == pytest.approx(value, abs=1e-5)


@pytest.mark.parametrize(
    ("what", "text", "message"),
    [
        (
            "salinity",
            "53 mS/cm",
            'salinity: "53 mS/cm" is a conductivity, which says nothing without its temperature; write what the meter '
            'refers it to, such as "53 mS/cm at 25 C", or the salinity, such as "35 psu"',
        ),
        ("temperature", "45", 'temperature: "45" has no unit; write "45 C" or "45 F"'),
        # what hardly any water reads is asked: a slip, or the number of another thing
        ("temperature", "99", 'temperature: "99" has no unit; write "99 C" or "99 F"'),
        ("temperature", "35", 'temperature: "35" has no unit; write "35 C" or "35 F"'),
        ("ammonia", "35", 'ammonia: "35" has no unit; write "35 mg/l"'),
        ("salinity", "2", 'salinity: "2" has no unit; write "2 psu"'),
        (
            "salinity",
            "1.026",
            'salinity: "1.026" is a specific gravity, which says nothing without its temperatures; '
            'write them as the instrument has them, such as "1.026 at 25 C" or "1.026 at 25/4 C", '
            'or the salinity, such as "35 psu"',
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


@pytest.mark.parametrize(
    ("text", "salinity"),
    [
        # Densities of the International Equation of State 1980 (UNESCO Technical Papers in Marine Science 44, 1983):
        # sea water of 35 at 25 °C 1023.343 kg/m³; pure water at 25 °C 997.0479, at 4 °C 999.9750 (recalled)
        (f"{1023.343 / 997.0479:.5f} at 25 C", 35.0),
        (f"{1023.343 / 999.9750:.5f} at 25/4 C", 35.0),
        (f"{1023.343 / 997.0479:.4f} sg 77 F", 35.0),
        (f"{1023.343 / 997.0479:.4f} 77/77", 35.0),
    ],
)
def test_a_specific_gravity_with_its_temperature_is_a_salinity(text: str, salinity: float) -> None:
    assert read_value("salinity", text)[0] == pytest.approx(salinity, abs=0.06)


def test_how_a_reading_was_taken_is_said() -> None:
    assert as_taken("ammonia", "0.2 mg/l") == "0.2 mg/l as N"
    assert as_taken("ammonia", "0.2") == "0.2 mg/l as N"
    assert as_taken("nitrate", "0.2 mg/l") == "0.2 mg/l as NO3"
    assert as_taken("ammonia", "0.2 mg/l NH4") == "0.2 mg/l NH4"
    assert as_taken("temperature", "25") == "25 C"
    assert as_taken("salinity", "53 mS/cm at 25 C") == "53 mS/cm at 25 C, salinity 34.9"
    assert as_taken("salinity", "1.0264 at 25 C") == "1.0264 at 25 C, salinity 35"


def test_no_bare_number_could_have_two_units() -> None:
    for rows in BARE.values():
        for one in rows:
            assert not any(one is not other and one[1] <= other[2] and other[1] <= one[2] for other in rows)
