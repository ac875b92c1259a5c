"""Units as people type them, against pint, and back again without ugly digits."""

import re

import pint
import pytest
from hypothesis import example, given, settings, strategies as st

from calc import figures, units
from calc.errors import UnreadableQuantity
from calc.topics import TOPICS

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
    "temperature": {"C": "degC", "F": "degF", "K": "kelvin"},
    "temperature_difference": {"C": "delta_degC", "F": "delta_degF", "K": "kelvin"},
    "mass": {"kg": "kg", "g": "g", "mg": "mg", "lb": "pound", "oz": "ounce", "t": "metric_ton"},
    "density": {"kg/m3": "kg/m**3", "lb/ft3": "pound/foot**3"},
    "power": {"W": "W", "kW": "kW", "BTU/h": "Btu_it/hour"},
    "mass_rate": {"mg/h": "mg/hour", "g/h": "g/hour", "g/d": "g/day"},
    "thermal_resistance": {"m2K/W": "m**2*kelvin/W", "R": "foot**2*delta_degF*hour/Btu_it"},
    "irradiance": {"W/m2": "W/m**2"}, "illuminance": {"lux": "lux", "klx": "kilolux", "fc": "lumen/foot**2"},
    "photon_flux": {"µmol/m2/s": "micromole/m**2/s"}, "daily_light": {"mol/m2/d": "mole/m**2/day"},
    "efficacy": {"µmol/J": "micromole/J"}, "conductivity": {"mS/cm": "mS/cm", "µS/cm": "uS/cm"},
    "molarity": {"mmol/L": "mmol/liter", "mol/L": "mol/liter"},
    "dose": {"mL/L": "milliliter/liter", "mL/gal": "milliliter/gallon", "L/m3": "liter/m**3"},
    "energy": {"kWh": "kWh", "Wh": "Wh", "MJ": "MJ"},
    "time": {"s": "s", "min": "minute", "h": "hour", "d": "day"},
    "voltage": {"V": "V", "mV": "mV"}, "current": {"A": "A", "mA": "mA"}, "charge": {"Ah": "A*hour", "mAh": "mA*hour"},
    "speed": {"m/s": "m/s", "ft/s": "foot/s"},
    "air_rate": {"L/min/gal": "liter/minute/gallon", "L/h/gal": "liter/hour/gallon", "L/min/L": "1/minute",
                 "L/h/L": "1/hour"},
    "turnover": {"/h": "1/hour", "/d": "1/day"},
    "surface_flow": {"m3/m2/d": "m**3/m**2/day", "gal/ft2/d": "gallon/foot**2/day"},
    "site_density": {"/m2": "1/m**2", "/ft2": "1/foot**2"},
    "area_mass": {"kg/m2": "kg/m**2", "lb/ft2": "pound/foot**2"},
    "concentration": {"mg/L": "mg/liter", "g/L": "g/liter"}, "drops": {"mL": "mL"},
}
BASE = {"length": "m", "area": "m**2", "volume": "m**3", "flow": "m**3/s", "pressure": "Pa", "mass": "kg",
        "temperature": "degC", "temperature_difference": "kelvin",
        "density": "kg/m**3", "power": "W", "energy": "kWh", "time": "s", "voltage": "V", "current": "A",
        "charge": "A*hour", "speed": "m/s", "air_rate": "1/s", "turnover": "1/s",
        "surface_flow": "m/s", "site_density": "1/m**2",
        "area_mass": "kg/m**2", "concentration": "mg/liter", "mass_rate": "mg/hour",
        "thermal_resistance": "m**2*kelvin/W", "irradiance": "W/m**2", "illuminance": "lux",
        "photon_flux": "micromole/m**2/s", "daily_light": "mole/m**2/day", "efficacy": "micromole/J",
        "conductivity": "mS/cm", "molarity": "mmol/liter", "dose": "milliliter/liter", "drops": "m**3"}


@pytest.mark.parametrize("kind, symbol", [(kind, symbol) for kind, table in PINT.items() for symbol in table])
def test_a_unit_is_worth_what_pint_says(kind, symbol):
    expected = REGISTRY.Quantity(2.5, PINT[kind][symbol]).to(BASE[kind]).magnitude
    assert units.parse(f"2.5 {symbol}", kind, "us") == pytest.approx(expected, rel=1e-12, abs=0)


def test_no_unit_is_left_unchecked():
    left = {(kind, symbol) for kind, known in units.KINDS.items() for symbol in known.units
            if symbol not in PINT.get(kind, {})}
    assert left == {("pressure", "inH2O"), ("pressure", "mH2O"), ("money", ""), ("tariff", "/kWh"), ("tariff", "/MWh"),
                    ("ratio", ""), ("ratio", "%"), ("ratio", "times"), ("whole", ""), ("number", ""),
                    ("alkalinity", "mg/L"), ("alkalinity", "meq/L"), ("alkalinity", "dKH"), ("drops", "drops"),
                    ("conductivity", "ppm500"), ("conductivity", "ppm640"), ("conductivity", "ppm700")}


@pytest.mark.parametrize("kind, unit", [(kind, unit) for kind, known in units.KINDS.items()
                                        for unit in known.units.values() if unit.symbol])
def test_every_spelling_of_a_unit_is_that_unit(kind, unit):
    expected = 3 * unit.factor + unit.offset
    for word in (unit.symbol, *unit.aliases):
        for spelling in (word, word.upper(), f" {word} ", f"{word}."):
            assert units.parse(f"3{spelling}", kind, "us") == pytest.approx(expected, rel=1e-12, abs=0), spelling


@pytest.mark.parametrize("kind", sorted(units.KINDS))
def test_a_bare_number_takes_the_unit_named_or_the_system_s(kind):
    known = units.KINDS[kind]
    for unit in known.units.values():
        if unit.symbol:
            assert units.parse("4", kind, "us", unit.symbol) == pytest.approx(4 * unit.factor + unit.offset)
    assert units.parse("4", kind, "us") == units.parse("4", kind, "us", known.us)
    assert units.parse("4", kind, "metric") == units.parse("4", kind, "metric", known.metric)
    assert {known.us, known.metric, known.script} <= set(known.units)


def test_every_unit_that_a_topic_names_is_one_of_its_kind():
    named = [(spec.key, spec.kind, unit) for topic in TOPICS
             for spec in (*topic.FIELDS, *topic.RESULTS, *(one for table in topic.TABLES for one in table.columns))
             for unit in (spec.us, spec.metric) if unit and spec.kind in units.KINDS]
    assert len(named) > 100
    assert [one for one in named if one[2] not in units.KINDS[one[1]].units] == []


def test_a_unit_that_the_kind_has_not_is_never_passed_through():
    with pytest.raises(KeyError):
        units.convert(1.0, "length", "gal")
    with pytest.raises(KeyError):
        units.show(1.0, "length", "us", us="gal")


def test_water_columns_are_the_conventional_ones():
    # NIST SP 811, Appendix B: conventional inch of water, 249.0889 Pa.
    assert units.parse("1 inH2O", "pressure", "us") == pytest.approx(249.0889, abs=1e-4)
    assert units.parse("1 mH2O", "pressure", "us") == pytest.approx(9806.65)
    centimetre = REGISTRY.Quantity(1.0, "cmH2O").to("Pa").magnitude
    assert units.parse("1 inH2O", "pressure", "us") == pytest.approx(2.54 * centimetre, rel=1e-12)


def test_alkalinity_as_other_trades_say_it():
    # One equivalent takes half a mole of calcium carbonate, 100.09 g/mol (IUPAC atomic weights); a German degree is
    # 10 mg/L of calcium oxide (DIN 38409-6, from memory), 17.85 mg/L as calcium carbonate.
    assert units.parse("2 meq/L", "alkalinity", "us") == pytest.approx(100.087, abs=1e-3)
    assert units.parse("1 dKH", "alkalinity", "us") == pytest.approx(17.848, abs=1e-3)


@pytest.mark.parametrize("typed, celsius", [
    ("68 F", 20), ("32 °F", 0), ("-40 F", -40), ("24 C", 24), ("24°c", 24), ("75.2 ° F", 24), ("300 K", 26.85)])
def test_temperatures(typed, celsius):
    assert units.parse(typed, "temperature", "us") == pytest.approx(celsius)


@pytest.mark.parametrize("typed, inches", [
    ("48", 48), ("48 in", 48), ("48in.", 48), ('48"', 48), ("48''", 48), ("48″", 48), ("4 ft", 48), ("4'", 48),
    ("4 ft 6 1/2 in", 54.5), ("4' 6\"", 54), ("4’ 6”", 54), ("4'-6\"", 54), ("4' 6½\"", 54.5), ("4ft6in", 54),
    ("4 feet 6 inches", 54), ("4 ft. 6 in.", 54), ("4 ft, 6 in", 54), ("-4 ft 6 in", -54), ("4 ft 1/2 in", 48.5),
    ("3 5/8", 3.625), ("3-5/8 in", 3.625), ("-3 5/8", -3.625), ('3 5/8"', 3.625), ("1 1/2 in", 1.5), ("1/2", 0.5),
    ("-1/2", -0.5), ("½", 0.5), ("3⅝ in", 3.625), ("3 ⅝", 3.625), ("⅕", 0.2), ("1⁄2", 0.5), ("1,200 1/2 in", 1200.5),
    ("1,200 in", 1200), ("1,234,567.5", 1234567.5), ("2,5 in", 2.5), ("0,500", 0.5), ("1234,567", 1234.567),
    ("-1,500", -1500), ("\u22125", -5), ("+5", 5), (".5", 0.5), ("5.", 5), ("  7   in ", 7), ("7\u00a0in", 7),
    ("7IN", 7), ("2.54 cm", 1), ("25.4mm", 1), ("1e2 in", 100), ("1E+2", 100), ("1e-1", 0.1),
])
def test_lengths_as_builders_write_them(typed, inches):
    assert units.parse(typed, "length", "us") == pytest.approx(inches * 0.0254)


@pytest.mark.parametrize("typed, kind, like", [
    ("28 gal", "volume", 28 * units.GALLON), ("28 US gal", "volume", 28 * units.GALLON),
    ("6 imp gal", "volume", 6 * units.IMPERIAL_GALLON), ("1,5 L", "volume", 1.5e-3), ("1,500 L", "volume", 1.5),
    ("12 L/min", "flow", 2e-4), ("12 lpm", "flow", 2e-4), ("12 litres per minute", "flow", 2e-4),
    ("720 L / hour", "flow", 2e-4), ("300 gph", "flow", 300 * units.GALLON / 3600),
    ("300 gallons/hr", "flow", 300 * units.GALLON / 3600), ("1 bar", "pressure", 1e5), ("5 MPa", "pressure", 5e6),
    ("5 inH2O", "pressure", 1245.44455), ("5 in H2O", "pressure", 1245.44455), ("5 inH₂O", "pressure", 1245.44455),
    ("15 %", "ratio", 0.15), ("15%", "ratio", 0.15), ("28 L/min/gal", "air_rate", 28 / 60 * 1e-3 / units.GALLON),
    ("28 L/min per gal", "air_rate", 28 / 60 * 1e-3 / units.GALLON), ("6 lpm/L", "air_rate", 0.1),
    ("1/h", "turnover", 1 / 3600), ("2/h", "turnover", 2 / 3600), ("2 per hour", "turnover", 2 / 3600),
    ("1/2 /h", "turnover", 0.5 / 3600), ("8 sq. ft", "area", 8 * units.FOOT**2), ("5 m²", "area", 5.0),
    ("2 per sq ft", "site_density", 2 / units.FOOT**2), ("2 lbs / ft³", "density", 2 * units.POUND / units.FOOT**3),
    ("5 kg/m2", "area_mass", 5.0), ("5 kg/m2", "pressure", 49.03325), ("6 ppm", "concentration", 6.0),
    ("$0.17", "money", 0.17), ("$0.17", "tariff", 0.17), ("0.17/kWh", "tariff", 0.17), ("€ 0,17 / kWh", "tariff", 0.17),
    ("0.17 € per kWh", "tariff", 0.17), ("₹1,250.50", "money", 1250.5), ("12 £", "money", 12.0), ("-$5", "money", -5.0),
    ("4", "whole", 4.0), ("4.0", "whole", 4.0),
])
def test_other_quantities_as_people_type_them(typed, kind, like):
    assert units.parse(typed, kind, "us") == pytest.approx(like, rel=1e-12, abs=0)


LIKE = "give a length, like 48 in, 4 ft or 120 cm"
NOT = "must be a length, like 48 in, 4 ft or 120 cm; "


@pytest.mark.parametrize("typed, kind, sentence", [
    ("", "length", f"is empty; {LIKE}"), ("   ", "length", f"is empty; {LIKE}"),
    ("wet", "length", NOT + "“wet” is not a number"), ("NaN", "length", NOT + "“NaN” is not a number"),
    ("-inf", "length", NOT + "“-inf” is not a number"), ("infinity", "length", NOT + "“infinity” is not a number"),
    ("$5", "length", NOT + "“$5” is not a number"), ("٣ in", "length", NOT + "“٣ in” is not a number"),
    ("5/8/3", "length", NOT + "“5/8/3” is not a number"), ("3--5/8", "length", NOT + "“3--5/8” is not a number"),
    ("--5/8", "length", NOT + "“--5/8” is not a number"), ("2.5 1/2", "length", NOT + "“2.5 1/2” is not a number"),
    ("1e+-5", "length", NOT + "“1e+-5” is not a number"), ("12,34,5", "length", NOT + "“12,34,5” is not a number"),
    ("1,234.5,678", "length", NOT + "“1,234.5,678” is not a number"),
    ("\u202e5", "length", NOT + "“\ufffd5” is not a number"),
    ("<script>", "mass", "must be a mass, like 20 lb or 9 kg; “<script>” is not a number"),
    ("9" * 70, "length", NOT + "“" + "9" * 37 + "...” is not a number"),
    ("1e999", "length", "is larger than can be worked with; " + LIKE),
    ("1" * 201, "length", f"is too long; {LIKE}"),
    ("5 gal", "length", f"is a volume in “gal”; {LIKE}"),
    ("5 L per min", "length", f"is a flow in “L per min”; {LIKE}"),
    ("5 in", "volume", "is a length in “in”; give a volume, like 28 gal or 106 L"),
    ("5 gal", "flow", "is a volume in “gal”; give a flow, like 300 gph or 20 L/min"),
    ("5 м", "length", f"has a unit that is not known here, “м”; {LIKE}"),
    ("5 furlongs", "length", f"has a unit that is not known here, “furlongs”; {LIKE}"),
    ("5 " + "x" * 60, "length", "has a unit that is not known here, “" + "x" * 37 + f"...”; {LIKE}"),
    ("5 mPa", "pressure", "has a unit that is not known here, “mPa”; give a pressure, like 3 psi or 20 kPa"),
    ("6 000 L", "volume", "must be one number; “6 000 L” has more; give a volume, like 28 gal or 106 L"),
    ("3 5/0 in", "length", "has a fraction with nothing below the line; write it like 3 5/8"),
    ("0/0", "length", "has a fraction with nothing below the line; write it like 3 5/8"),
    ("2.5", "whole", "must be a whole number, like 4"),
    ("$$5", "money", "must be an amount of money, like 12.50; “$$5” is not a number"),
])
def test_what_cannot_be_read_gets_the_rest_of_a_sentence(typed, kind, sentence):
    with pytest.raises(UnreadableQuantity) as caught:
        units.parse(typed, kind, "us")
    assert str(caught.value) == sentence


# Text made of what numbers and units are made of finds more than text of any letters.
ALMOST_A_QUANTITY = st.text("0123456789+-.,/eE '\"½⅝²³°%$€ ftingalLmhCFkW", max_size=24)


@settings(max_examples=1500, deadline=None)
@given(st.text(max_size=260) | ALMOST_A_QUANTITY, st.sampled_from(sorted(units.KINDS)),
       st.sampled_from(["us", "metric"]))
@example("1e+-5", "length", "us")
@example("1/" + "9" * 39, "length", "us")
@example("9" * 199, "flow", "metric")
def test_any_text_is_read_as_a_finite_number_or_refused_in_a_sentence(typed, kind, system):
    try:
        value = units.parse(typed, kind, system)
    except UnreadableQuantity as refusal:
        sentence = str(refusal)
        assert sentence[0].islower() and len(sentence) < 200 and sentence.isprintable()
    else:
        assert isinstance(value, float) and value - value == 0


PAIRS = st.sampled_from([(kind, symbol) for kind, known in units.KINDS.items() for symbol in known.units if symbol])


@given(st.floats(1e-6, 1e6), PAIRS)
def test_there_and_back(value, pair):
    kind, symbol = pair
    there = units.convert(value, kind, symbol)
    assert units.parse(f"{there!r} {symbol}", kind, "us") == pytest.approx(value, rel=1e-9, abs=1e-9)


@given(st.floats(0.5, 9e5), PAIRS, st.sampled_from(["us", "metric"]))
def test_what_is_shown_reads_as_what_it_was(amount, pair, system):
    kind, symbol = pair
    unit = units.KINDS[kind].units[symbol]
    text = units.show(amount * unit.factor + unit.offset, kind, system, us=symbol, metric=symbol)
    back = units.convert(units.parse(text, kind, system), kind, symbol)
    assert back == pytest.approx(amount, rel=5.1e-3, abs=0.06 if kind in ("length", "temperature") else 0)


@given(st.integers(-4000, 40000), st.sampled_from([8, 16]))
def test_a_builders_fraction_reads_as_the_same_length(parts, denominator):
    metres = parts / denominator * units.INCH
    text = units.show(metres, "length", "us", fraction=denominator)
    assert units.parse(text, "length", "us") == pytest.approx(metres, abs=1e-12)
    if "/" in text:
        bottom = int(text.split("/")[1].removesuffix(" in"))
        top = int(text.split("/")[0].split()[-1])
        assert abs(top) < bottom and top % 2 == 1 and denominator % bottom == 0


@given(st.integers(0, 10**12))
def test_thousands_commas_change_nothing(whole):
    assert units.parse(f"{whole:,}", "mass", "metric") == whole == units.parse(f"{whole}", "mass", "metric")


INCHES = ("length", "us")


@pytest.mark.parametrize("value, kind, system, options, text", [
    (48.5 * 0.0254, *INCHES, {"fraction": 16}, "48 1/2 in"), (0.01, *INCHES, {"fraction": 16}, "3/8 in"),
    (0.0, *INCHES, {"fraction": 16}, "0 in"), (-0.0254 / 2, *INCHES, {"fraction": 8}, "-1/2 in"),
    (-0.0001, *INCHES, {"fraction": 16}, "0 in"), (1000.5 * 0.0254, *INCHES, {"fraction": 8}, "1,000 1/2 in"),
    (0.99999 * 0.0254, *INCHES, {"fraction": 16}, "1 in"), (1.3716, *INCHES, {}, "54 in"),
    (1.37, *INCHES, {"us": "ft"}, "4.49 ft"), (1.37, *INCHES, {"us": "ft", "fraction": 16}, "4.49 ft"),
    (1.0, "length", "metric", {"fraction": 16}, "100 cm"), (0.999999, "length", "metric", {"metric": "cm"}, "100 cm"),
    (1.188, "length", "metric", {"metric": "mm"}, "1,188 mm"),
    (0.0123, "length", "metric", {"metric": "mm"}, "12.3 mm"),
    (1.5e-6, "length", "metric", {"metric": "mm"}, "less than 0.01 mm"), (4e-5, "length", "metric", {}, "0.004 cm"),
    (1e-17, "length", "metric", {}, "0 cm"), (12.000000001, "mass", "metric", {}, "12 kg"),
    (-0.0, "mass", "us", {}, "0 lb"),
    (-1e-13, "mass", "metric", {}, "0 kg"), (0.00123456, "mass", "metric", {}, "0.00123 kg"),
    (9.9996, "mass", "metric", {}, "10 kg"), (999.96, "mass", "metric", {}, "1,000 kg"),
    (123456.7, "mass", "metric", {}, "123,457 kg"), (1e20, "mass", "metric", {}, "more than 1,000 trillion kg"),
    (28 * units.GALLON, "volume", "us", {}, "28 gal"), (0.106, "volume", "metric", {}, "106 L"),
    (1844.2 / 60000, "flow", "metric", {}, "1,844 L/min"), (300 * units.GALLON / 3600, "flow", "us", {}, "300 gph"),
    (20000.0, "pressure", "metric", {}, "20 kPa"), (20000.0, "pressure", "us", {}, "2.9 psi"),
    (20.0, "temperature", "us", {}, "68 °F"), (-17.77778, "temperature", "us", {}, "0 °F"),
    (22.26, "temperature", "metric", {}, "22.3 °C"), (3.0, "temperature_difference", "us", {}, "5.4 °F"),
    (25.0, "density", "us", {}, "1.56 lb/ft³"), (25.0, "density", "metric", {}, "25 kg/m³"),
    (1.0, "speed", "us", {}, "3.28 ft/s"), (0.1, "air_rate", "metric", {}, "6 L/min/L"),
    (0.1, "air_rate", "us", {}, "22.7 L/min/gal"), (1 / 3600, "turnover", "us", {}, "1 /h"),
    (0.15, "ratio", "us", {}, "15 %"), (25.0, "site_density", "us", {}, "2.32 /ft²"),
    (0.17, "tariff", "us", {}, "0.17/kWh"),
    (1234.5, "money", "us", {}, "1,234.50"), (12.0, "money", "metric", {}, "12.00"),
    (-0.001, "money", "us", {}, "0.00"),
    (1234.0, "whole", "us", {}, "1,234"), (-0.2, "whole", "us", {}, "0"),
])
def test_numbers_are_shown_as_people_write_them(value, kind, system, options, text):
    assert units.show(value, kind, system, **options) == text


def test_ppm_without_its_scale_is_answered_with_the_scales():
    with pytest.raises(units.UnreadableQuantity, match="ppm500, ppm640 or ppm700, like 1400 ppm500; “1400 ppm” does"):
        units.parse("1400 ppm", "conductivity", "us")
    assert units.parse("1400 ppm 500", "conductivity", "us") == pytest.approx(2.8)


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf")])
@pytest.mark.parametrize("kind", sorted(units.KINDS))
def test_what_is_no_number_is_said_to_be_none(value, kind):
    for system in ("us", "metric"):
        assert units.show(value, kind, system, fraction=16) == "not a number"
    assert units.number(value) == "not a number"


@given(st.floats(allow_nan=False, allow_infinity=False), PAIRS, st.sampled_from([0, 8, 16]))
def test_any_value_is_shown_shortly_and_never_as_minus_nothing(value, pair, fraction):
    text = units.show(value, pair[0], "us", us=pair[1], fraction=fraction)
    assert not text.startswith("-0 ") and "nan" not in text and "inf" not in text.lower().replace("inh2o", "")
    assert len(text) < 40 or fraction


@given(st.floats(1e-4, 9.99e8))
def test_shown_numbers_keep_three_digits_and_no_exponent(value):
    text = units.number(value)
    assert "e" not in text and float(text.replace(",", "")) == pytest.approx(value, rel=6e-3)
    assert sum(letter.isdigit() for letter in text) <= 9


@pytest.mark.parametrize(("value", "text"), [
    (0.0, "0"), (1e-14, "0"), (3.99e-9, "less than 0.0001"), (-3.99e-9, "just below 0"), (1e-4, "0.0001"),
    (28553727591696.0, "28.6 trillion"), (9.9996e8, "1 billion"), (999_940_000.0, "999,940,000"),
    (9.9999e11, "1 trillion"), (-2.5e9, "-2.5 billion"), (4e15, "more than 1,000 trillion"),
    (-4e15, "less than -1,000 trillion"),
])
def test_what_is_too_small_or_too_great_to_picture_is_said_in_words(value, text):
    assert units.number(value) == text


@pytest.mark.parametrize(("value", "kind", "unit", "text"), [
    (3.99e-12, "volume", "L", "less than 0.01 mL"), (2e-8, "volume", "L", "0.02 mL"),
    (2e-7, "mass", "g", "0.2 mg"), (1e-9, "mass", "kg", "less than 0.01 mg"),
    (1000.0, "concentration", "mg/L", "1,000 mg/L"), (2e-6, "concentration", "mg/L", "less than 0.0001 mg/L"),
    (-2e-6, "concentration", "mg/L", "just below 0 mg/L"),
    (0.004, "money", "", "less than 0.01"), (1234567.89, "money", "", "1,234,568"), (3e9, "money", "", "3 billion"),
])
def test_a_trifle_is_said_in_a_smaller_unit_or_as_less_than_one_can_measure(value, kind, unit, text):
    assert units.show(value, kind, "metric", metric=unit) == text


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_a_number_in_a_formula_reads_back_to_six_digits(value):
    text = figures.scientific(value)
    plain = text.translate(str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")).replace(" × 10", "e").replace(",", "")
    assert float(plain) == pytest.approx(value, rel=1e-5, abs=1e-320) and not re.search(r"\de[+-]?\d", text)
