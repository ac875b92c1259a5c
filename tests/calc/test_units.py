"""Units as people type them, against pint, and back again without ugly digits."""

import pint
import pytest
from hypothesis import given, strategies as st

from calc import units
from calc.errors import UnreadableQuantity

REGISTRY = pint.UnitRegistry()
# What pint calls our symbols; kinds it has no word for (a turnover, a money) are not listed.
PINT = {
    "length": {"in": "inch", "ft": "foot", "mm": "mm", "cm": "cm", "m": "m"},
    "area": {"in2": "inch**2", "ft2": "foot**2", "cm2": "cm**2", "m2": "m**2"},
    "volume": {"gal": "gallon", "imp gal": "imperial_gallon", "qt": "quart", "fl oz": "fluid_ounce", "L": "liter",
               "mL": "milliliter", "m3": "m**3", "ft3": "foot**3", "in3": "inch**3"},
    "flow": {"L/min": "liter/minute", "L/h": "liter/hour", "L/s": "liter/second", "m3/h": "m**3/hour", "m3/s": "m**3/s",
             "gph": "gallon/hour", "gpm": "gallon/minute", "cfm": "foot**3/minute"},
    "pressure": {"Pa": "Pa", "kPa": "kPa", "MPa": "MPa", "psi": "psi", "bar": "bar", "mbar": "mbar",
                 "psf": "force_pound/foot**2", "kg/m2": "kilogram_force/m**2"},
    "mass": {"kg": "kg", "g": "g", "mg": "mg", "lb": "pound", "oz": "ounce", "t": "metric_ton"},
    "density": {"kg/m3": "kg/m**3", "lb/ft3": "pound/foot**3"},
    "power": {"W": "W", "kW": "kW"},
    "energy": {"kWh": "kWh", "Wh": "Wh", "MJ": "MJ"},
    "time": {"s": "s", "min": "minute", "h": "hour", "d": "day"},
    "voltage": {"V": "V", "mV": "mV"}, "current": {"A": "A", "mA": "mA"}, "charge": {"Ah": "A*hour", "mAh": "mA*hour"},
    "speed": {"m/s": "m/s", "ft/s": "foot/s"},
    "air_rate": {"L/min/gal": "liter/minute/gallon", "L/h/gal": "liter/hour/gallon", "L/min/L": "1/minute", "L/h/L": "1/hour"},
    "turnover": {"/h": "1/hour", "/d": "1/day"},
    "site_density": {"/m2": "1/m**2", "/ft2": "1/foot**2"},
    "area_mass": {"kg/m2": "kg/m**2", "lb/ft2": "pound/foot**2"},
    "concentration": {"mg/L": "mg/liter", "g/L": "g/liter"},
}
BASE = {"length": "m", "area": "m**2", "volume": "m**3", "flow": "m**3/s", "pressure": "Pa", "mass": "kg",
        "density": "kg/m**3", "power": "W", "energy": "kWh", "time": "s", "voltage": "V", "current": "A",
        "charge": "A*hour", "speed": "m/s", "air_rate": "1/s", "turnover": "1/s", "site_density": "1/m**2",
        "area_mass": "kg/m**2", "concentration": "mg/liter"}


@pytest.mark.parametrize("kind, symbol", [(kind, symbol) for kind, table in PINT.items() for symbol in table])
def test_a_unit_is_worth_what_pint_says(kind, symbol):
    expected = REGISTRY.Quantity(2.5, PINT[kind][symbol]).to(BASE[kind]).magnitude
    assert units.parse(f"2.5 {symbol}", kind, "us") == pytest.approx(expected, rel=1e-12)


def test_no_unit_is_left_unchecked():
    left = {(kind, symbol) for kind, known in units.KINDS.items() for symbol in known.units
            if symbol not in PINT.get(kind, {})}
    assert left == {("pressure", "inH2O"), ("pressure", "mH2O"), ("temperature", "C"), ("temperature", "F"),
                    ("temperature", "K"), ("temperature_difference", "C"), ("temperature_difference", "F"),
                    ("temperature_difference", "K"), ("money", ""), ("tariff", "/kWh"), ("ratio", ""), ("ratio", "%"), ("ratio", "times"),
                    ("whole", "")}


def test_water_columns_are_the_conventional_ones():
    # NIST SP 811, Appendix B: conventional inch of water, 249.0889 Pa.
    assert units.parse("1 inH2O", "pressure", "us") == pytest.approx(249.0889, abs=1e-4)
    assert units.parse("1 mH2O", "pressure", "us") == pytest.approx(9806.65)


@pytest.mark.parametrize("typed, celsius", [("68 F", 20), ("32 °F", 0), ("-40 F", -40), ("24 C", 24), ("300 K", 26.85)])
def test_temperatures(typed, celsius):
    assert units.parse(typed, "temperature", "us") == pytest.approx(celsius)


@pytest.mark.parametrize("typed, inches", [
    ("48", 48), ('48"', 48), ("4 ft", 48), ("4'", 48), ("4 ft 6 1/2 in", 54.5), ("4' 6\"", 54), ("4ft6in", 54), ("3 5/8", 3.625),
    ("3-5/8 in", 3.625), ("3 5/8\"", 3.625), ("1/2", 0.5), ("½", 0.5), ("3⅝ in", 3.625), ("1,200 in", 1200), ("2,5 in", 2.5),
    ("  7   in ", 7), ("7IN", 7), ("2.54 cm", 1), ("25.4mm", 1), ("1e2 in", 100),
])
def test_lengths_as_builders_write_them(typed, inches):
    assert units.parse(typed, "length", "us") == pytest.approx(inches * 0.0254)


@pytest.mark.parametrize("typed, kind, words", [
    ("", "length", "is empty"), ("wet", "length", "is not a number"), ("nan", "length", "is not a number"),
    ("inf", "flow", "is not a number"), ("1e999", "length", "larger than can be worked with"),
    ("5 gal", "length", "is a volume"), ("5 in", "volume", "is a length"), ("5 furlongs", "length", "a unit that is not known"),
    ("3 5/0 in", "length", "nothing below the line"), ("2.5", "whole", "must be a whole number"),
    ("<script>", "mass", "is not a number"), ("1" * 300, "length", "is too long"),
])
def test_what_cannot_be_read_gets_the_rest_of_a_sentence(typed, kind, words):
    with pytest.raises(UnreadableQuantity) as caught:
        units.parse(typed, kind, "us")
    assert words in str(caught.value) and len(str(caught.value)) < 200


@given(st.text(max_size=80), st.sampled_from(sorted(units.KINDS)))
def test_any_text_is_read_or_refused(typed, kind):
    try:
        value = units.parse(typed, kind, "metric")
    except UnreadableQuantity as refusal:
        assert str(refusal)
    else:
        assert value == value and abs(value) != float("inf")


@given(st.floats(1e-6, 1e6), st.sampled_from([(kind, symbol) for kind, known in units.KINDS.items()
                                              for symbol in known.units if symbol]))
def test_there_and_back(value, pair):
    kind, symbol = pair
    there = units.convert(value, kind, symbol)
    assert units.parse(f"{there!r} {symbol}", kind, "us") == pytest.approx(value, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("value, kind, system, options, text", [
    (48.5 * 0.0254, "length", "us", {"fraction": 16}, "48 1/2 in"), (0.01, "length", "us", {"fraction": 16}, "3/8 in"),
    (0.0, "length", "us", {"fraction": 16}, "0 in"), (-0.0254 / 2, "length", "us", {"fraction": 8}, "-1/2 in"),
    (0.999999, "length", "metric", {"metric": "cm"}, "100 cm"), (1.188, "length", "metric", {"metric": "mm"}, "1,188 mm"),
    (12.000000001, "mass", "metric", {}, "12 kg"), (1844.2 / 60000, "flow", "metric", {}, "1,844 L/min"), (0.15, "ratio", "us", {}, "15 %"),
    (1234.5, "money", "us", {}, "1,234.50"), (20.0, "temperature", "us", {}, "68 F"), (-1e-12, "mass", "us", {"us": "kg"}, "-0.000000000001 kg"),
])
def test_numbers_are_shown_as_people_write_them(value, kind, system, options, text):
    assert units.show(value, kind, system, **options) == text


@given(st.floats(1e-9, 1e12))
def test_shown_numbers_keep_three_digits_and_no_exponent(value):
    text = units.number(value)
    assert "e" not in text and float(text.replace(",", "")) == pytest.approx(value, rel=6e-3)
