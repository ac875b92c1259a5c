"""Text to numbers and back: units that people type exist only here; everywhere else numbers are in base units."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from math import ceil, floor, gcd, isfinite, log10

from . import currencies
from . import words as around
from .errors import UnreadableQuantity
from .figures import LEAST, NOTHING, RAISED, small
from .figures import count as count
from .figures import number as number

INCH, FOOT, POUND, GALLON, IMPERIAL_GALLON = 0.0254, 0.3048, 0.45359237, 3.785411784e-3, 4.54609e-3
GRAVITY = 9.80665
# The International Table BTU; calcium carbonate in g/mol, for waters said in hardness or equivalents.
BTU, CACO3 = 1055.05585262, 100.0869
# The inch and the metre of water are conventional units: water of 1000 kg/m3 under standard gravity.
METRE_OF_WATER = 1000 * GRAVITY
LONGEST = 200


@dataclass(frozen=True)
class Unit:
    """One unit of a kind: base value = typed value x ``factor`` + ``offset``; ``aliases`` are read, never written."""

    symbol: str
    factor: float
    offset: float = 0.0
    aliases: tuple[str, ...] = ()


@dataclass(frozen=True)
class Kind:
    """A kind of quantity: its base unit, its units by symbol, the default unit of each system, the scripts' unit."""

    name: str
    base: str
    units: dict[str, Unit]
    us: str
    metric: str
    script: str
    example: str


def _kind(name: str, base: str, us: str, metric: str, script: str, example: str,
          *units: tuple[str, float] | tuple[str, float, tuple[str, ...]] | tuple[str, float, tuple[str, ...], float],
          ) -> Kind:
    return Kind(name, base, {unit[0]: _unit_of(*unit) for unit in units}, us, metric, script, example)


def _unit_of(symbol: str, factor: float, aliases: tuple[str, ...] = (), offset: float = 0.0) -> Unit:
    return Unit(symbol, factor, offset, aliases)


_LITRE = 1e-3
KINDS: dict[str, Kind] = {kind.name: kind for kind in (
    _kind("length", "m", "in", "cm", "m", "48 in, 4 ft or 120 cm",
          ("in", INCH, ('"', "inch", "inches", "″", "”")), ("ft", FOOT, ("'", "foot", "feet", "′", "’")),
          ("mm", 1e-3, ("millimetre", "millimetres", "millimeter", "millimeters")),
          ("cm", 1e-2, ("centimetre", "centimetres", "centimeter", "centimeters")),
          ("m", 1.0, ("metre", "metres", "meter", "meters"))),
    _kind("area", "m2", "ft2", "m2", "m2", "8 ft2 or 0.7 m2",
          ("in2", INCH**2, ("sq in", "in²", "in^2")), ("ft2", FOOT**2, ("sq ft", "ft²", "ft^2", "sqft")),
          ("cm2", 1e-4, ("cm²", "cm^2")), ("m2", 1.0, ("m²", "m^2", "sq m"))),
    _kind("volume", "m3", "gal", "L", "L", "28 gal or 106 L",
          ("gal", GALLON, ("gallon", "gallons", "us gal", "us gallon", "us gallons", "usgal")),
          ("imp gal", IMPERIAL_GALLON, ("imperial gal", "imperial gallon", "imperial gallons", "uk gal", "impgal")),
          ("qt", GALLON / 4, ("quart", "quarts")), ("fl oz", GALLON / 128, ("floz", "fluid ounce", "fluid ounces")),
          ("L", _LITRE, ("litre", "litres", "liter", "liters", "ltr")),
          ("mL", 1e-6, ("millilitre", "millilitres", "milliliter", "milliliters", "cc")),
          ("m3", 1.0, ("m³", "m^3", "cubic metre", "cubic meter")),
          ("ft3", FOOT**3, ("ft³", "ft^3", "cu ft", "cubic feet")), ("in3", INCH**3, ("in³", "in^3", "cu in"))),
    _kind("flow", "m3/s", "gph", "L/min", "L/min", "300 gph or 20 L/min",
          ("L/min", _LITRE / 60, ("lpm", "l per min", "l per minute", "litres per minute", "liters per minute")),
          ("L/h", _LITRE / 3600, ("lph", "l/hr", "l per hour", "litres per hour", "liters per hour")),
          ("L/s", _LITRE, ("lps",)), ("m3/h", 1 / 3600, ("m³/h", "m^3/h", "cmh", "m3/hr")), ("m3/s", 1.0, ("m³/s",)),
          ("gph", GALLON / 3600, ("gal/h", "gal/hr", "gallons per hour", "us gph")),
          ("gpm", GALLON / 60, ("gal/min", "gallons per minute", "us gpm")),
          ("cfm", FOOT**3 / 60, ("ft3/min", "ft³/min", "scfm"))),
    _kind("pressure", "Pa", "psi", "kPa", "Pa", "3 psi or 20 kPa",
          ("Pa", 1.0, ("pascal",)), ("kPa", 1e3), ("MPa", 1e6), ("psi", POUND * GRAVITY / INCH**2, ("lb/in2", "psig")),
          ("inH2O", METRE_OF_WATER * INCH, ("in h2o", "inwc", "in wc", "inh₂o", "in water")),
          ("mH2O", METRE_OF_WATER, ("m h2o", "mwc", "mh₂o", "m water")), ("bar", 1e5), ("mbar", 100.0, ("hPa",)),
          ("psf", POUND * GRAVITY / FOOT**2, ("lb/ft2", "lb/ft²", "lbf/ft2")), ("kg/m2", GRAVITY, ("kg/m²",))),
    _kind("temperature", "C", "F", "C", "C", "68 F or 20 C",
          ("C", 1.0, ("°c", "degc", "deg c", "celsius")), ("F", 5 / 9, ("°f", "degf", "deg f", "fahrenheit"), -160 / 9),
          ("K", 1.0, ("kelvin",), -273.15)),
    _kind("temperature_difference", "K", "F", "C", "K", "5 F or 3 C",
          ("C", 1.0, ("°c", "degc", "deg c")), ("F", 5 / 9, ("°f", "degf", "deg f")), ("K", 1.0)),
    _kind("mass", "kg", "lb", "kg", "kg", "20 lb or 9 kg",
          ("kg", 1.0, ("kilogram", "kilograms", "kilo", "kilos")), ("g", 1e-3, ("gram", "grams")), ("mg", 1e-6),
          ("lb", POUND, ("lbs", "pound", "pounds")), ("oz", POUND / 16, ("ounce", "ounces")), ("t", 1e3, ("tonne",))),
    _kind("density", "kg/m3", "lb/ft3", "kg/m3", "kg/m3", "1.5 lb/ft3 or 25 kg/m3",
          ("kg/m3", 1.0, ("kg/m³",)), ("lb/ft3", POUND / FOOT**3, ("lb/ft³", "pcf"))),
    _kind("power", "W", "W", "W", "W", "25 W", ("W", 1.0, ("watt", "watts")), ("kW", 1e3),
          ("BTU/h", BTU / 3600, ("btu/hr", "btuh", "btu per hour"))),
    _kind("energy", "kWh", "kWh", "kWh", "kWh", "2 kWh", ("kWh", 1.0), ("Wh", 1e-3), ("MJ", 1 / 3.6)),
    _kind("money", "", "", "", "", "12.50", ("", 1.0)),
    _kind("tariff", "/kWh", "/kWh", "/kWh", "/kWh", "0.17", ("/kWh", 1.0, ("per kwh",)), ("/MWh", 1e-3, ("per mwh",))),
    _kind("time", "s", "min", "min", "s", "15 min",
          ("s", 1.0, ("sec", "second", "seconds")), ("min", 60.0, ("minute", "minutes")),
          ("h", 3600.0, ("hr", "hrs", "hour", "hours")), ("d", 86400.0, ("day", "days"))),
    _kind("voltage", "V", "V", "V", "V", "120 V", ("V", 1.0, ("volt", "volts")), ("mV", 1e-3)),
    _kind("current", "A", "A", "A", "A", "15 A", ("A", 1.0, ("amp", "amps", "ampere", "amperes")), ("mA", 1e-3)),
    _kind("charge", "Ah", "Ah", "Ah", "Ah", "12 Ah", ("Ah", 1.0), ("mAh", 1e-3)),
    _kind("speed", "m/s", "ft/s", "m/s", "m/s", "3 ft/s or 1 m/s", ("m/s", 1.0), ("ft/s", FOOT, ("fps",))),
    _kind("air_rate", "1/s", "L/min/gal", "L/min/L", "L/min/L", "28 L/min/gal or 7 L/min/L",
          ("L/min/gal", _LITRE / 60 / GALLON, ("l/min per gal", "lpm/gal", "l/min per gallon")),
          ("L/h/gal", _LITRE / 3600 / GALLON, ("l/h per gal", "l/h per gallon")),
          ("L/min/L", 1 / 60, ("l/min per l",)), ("L/h/L", 1 / 3600, ("l/h per l",))),
    _kind("turnover", "1/s", "/h", "/h", "/h", "1 /h",
          ("/h", 1 / 3600, ("per hour", "/hour", "/hr", "times per hour", "times an hour", "x/h")),
          ("/d", 1 / 86400, ("per day", "/day", "times a day"))),
    _kind("surface_flow", "m/s", "gal/ft2/d", "m3/m2/d", "m3/m2/d", "60 gal/ft2/d or 2.4 m3/m2/d",
          ("m3/m2/d", 1 / 86400, ("m³/m²/d", "m3/m2/day", "m³/m²/day", "m/d")),
          ("gal/ft2/d", GALLON / FOOT**2 / 86400, ("gal/ft²/d", "gal/ft2/day", "gpd/ft2"))),
    _kind("ratio", "1", "%", "%", "", "15 %", ("", 1.0), ("%", 0.01, ("percent", "per cent")), ("times", 1.0)),
    _kind("site_density", "1/m2", "/ft2", "/m2", "/m2", "2 /ft2 or 25 /m2",
          ("/m2", 1.0, ("/m²", "per m2")), ("/ft2", 1 / FOOT**2, ("/ft²", "per ft2", "per sq ft"))),
    _kind("area_mass", "kg/m2", "lb/ft2", "kg/m2", "kg/m2", "1 lb/ft2 or 5 kg/m2",
          ("kg/m2", 1.0, ("kg/m²",)), ("lb/ft2", POUND / FOOT**2, ("lb/ft²",))),
    _kind("concentration", "mg/L", "mg/L", "mg/L", "mg/L", "6 mg/L", ("mg/L", 1.0, ("ppm",)), ("g/L", 1e3)),
    _kind("mass_rate", "mg/h", "mg/h", "mg/h", "mg/h", "120 mg/h",
          ("mg/h", 1.0, ("mg/hr", "mg per hour")), ("g/h", 1e3, ("g/hr",)), ("g/d", 1e3 / 24, ("g/day",))),
    _kind("thermal_resistance", "m2K/W", "R", "m2K/W", "m2K/W", "R 5 as 5 R, or 0.9 m2K/W",
          ("m2K/W", 1.0, ("m²k/w", "m2·k/w", "rsi")),
          ("R", FOOT**2 * 5 / 9 * 3600 / BTU, ("ft2 f h/btu", "ft2·f·h/btu", "r-value"))),
    _kind("irradiance", "W/m2", "W/m2", "W/m2", "W/m2", "300 W/m2", ("W/m2", 1.0, ("w/m²",))),
    _kind("illuminance", "lux", "lux", "lux", "lux", "12000 lux", ("lux", 1.0, ("lx",)), ("klx", 1e3, ("klux",)),
          ("fc", 1 / FOOT**2, ("foot-candle", "foot-candles", "footcandle", "footcandles"))),
    _kind("photon_flux", "µmol/m2/s", "µmol/m2/s", "µmol/m2/s", "µmol/m2/s", "200 µmol/m2/s",
          ("µmol/m2/s", 1.0, ("umol/m2/s", "μmol/m2/s", "µmol/m²/s", "μmol/m²/s", "umol/m²/s"))),
    _kind("daily_light", "mol/m2/d", "mol/m2/d", "mol/m2/d", "mol/m2/d", "14 mol/m2/d",
          ("mol/m2/d", 1.0, ("mol/m²/d", "mol/m2/day", "mol/m²/day"))),
    _kind("efficacy", "µmol/J", "µmol/J", "µmol/J", "µmol/J", "2.5 µmol/J", ("µmol/J", 1.0, ("umol/j", "μmol/j"))),
    _kind("conductivity", "mS/cm", "mS/cm", "mS/cm", "mS/cm", "1.6 mS/cm",
          ("mS/cm", 1.0, ("ds/m",)), ("µS/cm", 1e-3, ("us/cm", "μs/cm")),
          ("ppm500", 1 / 500, ("ppm 500",)), ("ppm640", 1 / 640, ("ppm 640",)), ("ppm700", 1 / 700, ("ppm 700",))),
    # A drop of 1/20 mL is what droppers are reckoned by; real ones give 0.03 to 0.07 mL.
    _kind("drops", "m3", "drops", "drops", "mL", "12 drops or 0.6 mL",
          ("drops", 5e-8, ("drop", "gtt")),
          ("mL", 1e-6, ("millilitre", "millilitres", "milliliter", "milliliters", "cc"))),
    _kind("alkalinity", "mg/L as CaCO3", "mg/L", "mg/L", "mg/L", "120 mg/L",
          ("mg/L", 1.0, ("ppm", "mg/L as CaCO3", "mg/L CaCO3", "ppm as CaCO3")),
          ("meq/L", CACO3 / 2, ("mmol/L HCO3", "mval/L")), ("dKH", CACO3 * 10 / 56.0774, ("°dkh", "dh"))),
    _kind("molarity", "mmol/L", "mmol/L", "mmol/L", "mmol/L", "2 mmol/L", ("mmol/L", 1.0), ("mol/L", 1e3)),
    _kind("dose", "mL/L", "mL/gal", "mL/L", "mL/L", "10 mL/gal or 2.5 mL/L",
          ("mL/L", 1.0), ("mL/gal", 1e-3 / GALLON, ("ml per gallon",)), ("L/m3", 1.0, ("L/m³",))),
    _kind("number", "", "", "", "", "5.8", ("", 1.0)),
    _kind("whole", "", "", "", "", "4", ("", 1.0)),
)}

NAMES = {"air_rate": "an air rate", "area": "an area", "energy": "an amount of energy", "money": "an amount of money",
         "area_mass": "a mass on an area", "whole": "a whole number", "ratio": "a share", "time": "a time",
         "charge": "a battery charge", "site_density": "a density of sites", "tariff": "a price per kWh",
         "temperature_difference": "a temperature difference", "turnover": "a turnover",
         "surface_flow": "a flow over a surface",
         "mass_rate": "a mass in an hour", "thermal_resistance": "a thermal resistance",
         "irradiance": "a strength of sunshine", "illuminance": "an illuminance", "photon_flux": "a photon flux",
         "daily_light": "a day's light", "efficacy": "an efficacy", "alkalinity": "an alkalinity",
         "molarity": "a concentration in mmol", "number": "a number", "drops": "a count of drops or mL"}
_FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3",
              "⅔": "2/3", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅐": "1/7",
              "⅑": "1/9", "⅒": "1/10"}
# The words that a compound unit is spelled with, by the short form that the tables use.
_PARTS = {word: short for short, words in {
    "l": ("litre", "litres", "liter", "liters"), "gal": ("gallon", "gallons", "us gal", "us gallon", "us gallons"),
    "s": ("sec", "second", "seconds"), "min": ("minute", "minutes"), "h": ("hr", "hrs", "hour", "hours"),
    "d": ("day", "days"), "l/min": ("lpm",), "l/h": ("lph",), "lb": ("lbs", "pound", "pounds"),
    "m": ("metre", "metres", "meter", "meters"), "ft": ("foot", "feet"), "in2": ("sq in", "square inches"),
    "ft2": ("sq ft", "square foot", "square feet"), "ft3": ("cu ft", "cubic foot", "cubic feet"),
    "m2": ("sq m", "square metre", "square metres", "square meter", "square meters"),
    "m3": ("cu m", "cubic metre", "cubic metres", "cubic meter", "cubic meters"),
}.items() for word in words}


def name_of(kind: str) -> str:
    """A kind in words, with its article."""
    return NAMES.get(kind, f"a {kind}")


def _spelled(word: str) -> str:
    """A unit's words in the one spelling that the tables are kept in: "Litres per Hour" is "l/h", "° F" is "°f"."""
    word = word.lower().replace("²", "2").replace("³", "3").replace("^", "").replace("₂", "2").replace("° ", "°")
    word = f" {word.replace('.', ' ')} ".replace(" per ", "/")
    parts = (" ".join(part.split()) for part in word.split("/"))
    return "/".join(_PARTS.get(part, part) for part in parts)


def _lookups() -> dict[str, dict[str, Unit]]:
    found = {}
    for kind in KINDS.values():
        table: dict[str, Unit] = {}
        for unit in kind.units.values():
            for word in (unit.symbol, *unit.aliases):
                table.setdefault(word.lower(), unit)
                table.setdefault(_spelled(word), unit)
        found[kind.name] = table
    return found


_LOOKUP = _lookups()
_KINDS_OF_WORD: dict[str, str] = {}
for _name, _table in _LOOKUP.items():
    for _word in _table:
        if _word and _name not in ("area_mass", "temperature_difference"):
            _KINDS_OF_WORD.setdefault(_word, _name)


def _quoted(text: str) -> str:
    """What was typed, fit to stand in a sentence: at most 40 characters, none that steers the writing's direction."""
    text = "".join(letter if letter.isprintable() else "�" for letter in text.strip())
    return f"“{text if len(text) <= 40 else text[:37] + '...'}”"


def _clean(text: str) -> str:
    for mark, words in _FRACTIONS.items():
        if mark in text:
            text = text.replace(mark, " " + words)
    text = text.replace("\u2212", "-").replace("\u2044", "/").replace("\u00a0", " ").replace("\u202f", " ")
    return " ".join(text.replace("\u2009", " ").split())


def _plain_digits(text: str) -> bool:
    return text.isascii() and text.isdigit()


def _without_commas(text: str) -> str | None:
    """The number with a point for its decimal comma and with no thousands comma; ``None`` when the commas fit neither.

    Three digits behind a comma and one to three ahead of it part thousands (1,500), unless the number begins with
    nought (0,500); any other single comma is a decimal one (1,5).
    """
    if "," not in text:
        return text
    head, *groups = text.split(",")
    before, *after = groups[-1].split(".")
    grouped = all(len(group) == 3 and _plain_digits(group) for group in (*groups[:-1], before)) and len(after) < 2
    size = head.lstrip("+-")
    if grouped and _plain_digits(size) and len(size) <= 3 and size[0] != "0":
        return head + "".join(groups)
    if len(groups) == 1 and not after:
        return f"{head}.{groups[0]}"
    return None


def _decimal(text: str) -> float | None:
    """A plain decimal number, with or without a power of ten; ``None`` when the text is not one."""
    plain = _without_commas(text)
    if plain is None or len(plain) > 60:
        return None
    mantissa, mark, power = plain.lower().partition("e")
    whole, _, part = (mantissa[1:] if mantissa[:1] in ("+", "-") else mantissa).partition(".")
    if not _plain_digits(whole + part):
        return None
    if mark and not (_plain_digits(power[1:] if power[:1] in ("+", "-") else power) and len(power) < 6):
        return None
    return float(plain)


def _number(text: str) -> float | None:
    """A number as builders write it: 48, 48.5, 3 5/8, 3-5/8, 5/8; ``None`` when the text is not one."""
    text = text.strip()
    if "/" not in text:
        return _decimal(text)
    body = text[1:].strip() if text[:1] in ("+", "-") else text
    parts = body.replace("-", " ", 1).split()
    top, _, bottom = parts[-1].partition("/") if parts else ("", "", "")
    if len(parts) > 2 or body[:1] == "-" or not (_plain_digits(top) and _plain_digits(bottom)) or len(body) > 40:
        return None
    whole = (_without_commas(parts[0]) or "") if len(parts) == 2 else "0"
    if not _plain_digits(whole):
        return None
    if int(bottom) == 0:
        raise UnreadableQuantity("has a fraction with nothing below the line; write it like 3 5/8")
    value = int(whole) + int(top) / int(bottom)
    return -value if text[0] == "-" else value


_POWER = tuple("+-0123456789")


def _split(text: str) -> tuple[str, str]:
    """The leading number and the rest, which is the unit."""
    end = 0
    for place, letter in enumerate(text):
        if letter.isdigit() or letter in "+-.,":
            end = place + 1
        elif letter == "/":
            if not (place and text[place - 1].isdigit() and text[place + 1:place + 2].isdigit()):
                break
            end = place + 1
        elif letter in "eE" and place and text[place - 1].isdigit() and text[place + 1:place + 2] in _POWER:
            end = place + 1
        elif letter == " ":
            # A space goes on with the number only before a fraction: "3 5/8".
            rest = text[place + 1:]
            top = rest.partition("/")[0]
            if not (top.isdigit() and rest[len(top) + 1:len(top) + 2].isdigit()):
                break
        else:
            break
    return text[:end], text[end:].strip()


def _feet_and_inches(text: str) -> float | None:
    """4 ft 6 1/2 in, 4' 6", 4ft6: the value in metres, or ``None``."""
    low = text.lower().replace("feet", "ft").replace("foot", "ft").replace("ft. ", "ft ")
    low = low.replace("′", "ft").replace("’", "ft").replace("'", "ft")
    head, mark, tail = low.partition("ft")
    tail = tail.strip(" -,")
    if not mark or not tail or not tail[0].isdigit():
        return None
    number, unit = _split(tail)
    feet = _number(head)
    inches = _number(number)
    if feet is None or inches is None or unit.rstrip(".") not in ("", "in", "inch", "inches", '"', "″", "”"):
        return None
    return feet * FOOT + (inches * INCH if feet >= 0 else -inches * INCH)


def beside(text: str) -> currencies.Written:
    """What is written beside an amount of money: its currency, hundredths, a confirmation."""
    return currencies.written(_clean(text))


def parse(text: str, kind: str, system: str, unit: str = "") -> float:
    """Read typed text as a quantity, in the kind's base unit.

    ``unit`` is what a bare number takes; without it, the kind's default for the system ("us" or "metric").
    Raises UnreadableQuantity with the rest of a sentence that a field's label begins. Signs and bounds are the
    field's business, not this function's; what comes back is always finite.

    >>> from calc.units import parse
    >>> round(parse("3 5/8 in", "length", "us"), 6), parse("60 cm", "length", "us")
    (0.092075, 0.6)
    >>> parse("28", "volume", "metric")
    0.028
    """
    known = KINDS[kind]
    if len(text) > LONGEST:
        raise UnreadableQuantity(f"is too long; give {name_of(kind)}, like {known.example}")
    clean = _clean(text)
    if not clean:
        raise UnreadableQuantity(f"is empty; give {name_of(kind)}, like {known.example}")
    clean = around.without_ahead(clean, kind)
    if clean.lower() in around.YES_OR_NO:
        many = "how many, like 4" if kind == "whole" else f"{name_of(kind)}, like {known.example}"
        raise UnreadableQuantity(f"asks for more than yes or no: type {many}")
    if kind not in ("money", "tariff") and around.sizes_in(clean):
        raise UnreadableQuantity(f"takes one size, and {_quoted(text)} has several: type one of them here, like "
                                 f"{known.example}, and each other in its own field")
    factor = 1.0
    if kind in ("money", "tariff"):
        amount = currencies.written(clean)
        clean, factor = amount.rest, amount.factor
    if kind == "length":
        # Two single marks are how many keyboards write an inch mark.
        clean = clean.replace("''", '"').replace("′′", '"').replace("’’", '"')
        both = _feet_and_inches(clean)
        if both is not None:
            return both
    number, word = _split(clean)
    value = _number(number) if number else None
    if value is None:
        raise UnreadableQuantity(f"must be {name_of(kind)}, like {known.example}; {_quoted(text)} is not a number")
    found = _unit(kind, word, text, system, unit)
    result = (value * found.factor + found.offset) * factor
    if not isfinite(result):
        raise UnreadableQuantity(f"is larger than can be worked with; give {name_of(kind)}, like {known.example}")
    if kind == "whole" and result != floor(result):
        raise UnreadableQuantity("must be a whole number, like 4")
    return result


def named(text: str, kind: str) -> bool:
    """Whether a unit stands behind the number, so that the reader's own units play no part."""
    word = _split(around.without_ahead(_clean(text), kind))[1]
    return bool(around.without_behind(around.without_degrees(word) if kind.startswith("temperature") else word))


def _unit(kind: str, word: str, text: str, system: str, unit: str) -> Unit:
    """The unit that a word names, or the one that a bare number takes."""
    known = KINDS[kind]
    if kind.startswith("temperature"):
        word = around.without_degrees(word)
    if word and not _find(kind, word):
        # Nothing is passed over in a unit that is known as it stands.
        word = around.without_behind(word)
    if not word:
        return known.units[unit or (known.metric if system == "metric" else known.us)]
    found = _find(kind, word)
    if found:
        return found
    wanted = f"give {name_of(kind)}, like {known.example}"
    if word[0].isdigit():
        raise UnreadableQuantity(f"must be one number; {_quoted(text)} has more; {wanted}")
    if kind == "conductivity" and _spelled(word) == "ppm":
        raise UnreadableQuantity(f"needs the scale of your meter behind ppm: ppm500, ppm640 or ppm700, like "
                                 f"{_split(_clean(text))[0]} ppm500; {_quoted(text)} does not say which")
    other = _KINDS_OF_WORD.get(_spelled(word))
    if other and other != kind and _find(other, word):
        raise UnreadableQuantity(f"is {name_of(other)} in {_quoted(word)}; {wanted}")
    raise UnreadableQuantity(f"has a unit that is not known here, {_quoted(word)}; {wanted}")


def _find(kind: str, word: str) -> Unit | None:
    table = _LOOKUP[kind]
    found = table.get(word.lower()) or table.get(_spelled(word))
    # Case is the reader's own affair, but for mega: 5 mPa is not 5 MPa.
    return None if found and found.symbol in ("MPa", "MJ") and word[0] != "M" else found


def convert(value: float, kind: str, unit: str) -> float:
    """A base-unit value in one of the kind's units, named by its symbol; KeyError for a unit the kind has not."""
    found = KINDS[kind].units[unit]
    return (value - found.offset) / found.factor


# Smaller units that a trifle of a larger one is shown in, and the least that is shown of the smallest.
_SMALLER = {"L": "mL", "gal": "fl oz", "fl oz": "mL", "kg": "g", "g": "mg", "lb": "oz", "oz": "g", "kWh": "Wh",
            "m": "mm", "kPa": "Pa"}
_TRIFLE = 1e-3
# Salts by the pinch are weighed and sold in milligrams: 9.18 mg, and no 0.00918 g beside 0.972 mg.
_TRIFLES = {"g": 0.1}
_LEASTS = {"mL": 0.01, "mg": 0.01, "mm": 0.01, "Wh": 0.01, "Pa": 0.01, "drops": 0.01}
# From here on cents are not said, and fractions of an inch are not read.
_CENTS_UNDER, _FRACTIONS_UNDER = 1e6, 1e5


def written(symbol: str) -> str:
    """A unit as it is shown: with signs that few keyboards have and nobody need type.

    >>> from calc.units import written
    >>> written("F"), written("gal"), written("mol/m2/d")
    ('°F', 'gal', 'mol/m²/d')
    """
    if symbol in ("C", "F"):
        return f"°{symbol}"
    return _SQUARE_OR_CUBE.sub(lambda found: found[0].translate(RAISED), symbol)


# The 2 of m2, and not that of CO2.
_SQUARE_OR_CUBE = re.compile(r"(?:(?<=\bm)|(?<=\bcm)|(?<=\bmm)|(?<=\bft)|(?<=\bin))[23]\b")


@lru_cache(maxsize=4096)
def builders(inches: float, denominator: int) -> str:
    """Inches to the nearest fraction, reduced, as a builder writes them: 48 1/2, 5/8, 0."""
    parts = round(abs(inches) * denominator)
    whole, rest = divmod(parts, denominator)
    sign = "-" if inches < 0 and parts else ""
    common = gcd(rest, denominator)
    fraction = f"{rest // common}/{denominator // common}" if rest else ""
    body = " ".join(part for part in (f"{whole:,}" if whole or not rest else "", fraction) if part)
    return sign + body


@lru_cache(maxsize=8192)
def show(value: float, kind: str, system: str, us: str = "", metric: str = "", fraction: int = 0) -> str:
    """A quantity as text in the reader's units; ``fraction`` (16 or 8) asks for builders' fractions of an inch.

    >>> from calc.units import show
    >>> show(0.092075, "length", "us", us="in", fraction=16), show(0.092075, "length", "metric", metric="mm")
    ('3 5/8 in', '92 mm')
    """
    known = KINDS[kind]
    symbol = (metric or known.metric) if system == "metric" else (us or known.us)
    amount = convert(value, kind, symbol)
    if not isfinite(amount):
        return "not a number"
    if kind in ("money", "whole"):
        return _counted(amount, kind)
    if symbol == "in" and fraction and abs(amount) < _FRACTIONS_UNDER:
        return f"{builders(amount, fraction)} in"
    while NOTHING < abs(amount) < _TRIFLES.get(symbol, _TRIFLE) and _SMALLER.get(symbol) in known.units:
        symbol = _SMALLER[symbol]
        amount = convert(value, kind, symbol)
    least = _LEASTS.get(symbol, 0.0 if kind in ("number", "temperature") else LEAST)
    if NOTHING < abs(amount) < least * (1 - 1e-9):
        return small(amount, least, symbol)
    digits = 4 if abs(amount) >= (10 if kind == "length" else 1000) else 3
    if kind == "temperature":
        text = number(round(amount, 1), 4)
    elif symbol == "mm" and abs(amount) >= 1:
        text = number(round(amount, 1 if abs(amount) < 20 else 0), 5)
    elif symbol == "cm" and abs(amount) >= 1:
        text = number(round(amount, 1), 5)
    elif symbol in ("mm", "cm"):
        text = number(amount, 2)
    else:
        text = number(amount, digits)
    joined = "" if symbol.startswith("/") and kind == "tariff" else " "
    return f"{text}{joined}{written(symbol)}" if symbol else text


def _counted(amount: float, kind: str) -> str:
    """Money and things counted; a coin's part that is not nothing is said."""
    if kind == "whole" or abs(amount) >= _CENTS_UNDER:
        return count(amount)
    if NOTHING < amount < 0.005:
        return small(amount, 0.01)
    # Rounded first and added to 0, so that a trifle below nothing is not written -0.
    return f"{round(amount, 2) + 0.0:,.2f}"


def show_bound(value: float, kind: str, system: str, us: str = "", metric: str = "", up: bool = True) -> str:
    """A bound as text with two digits, rounded ``up`` or down into what is allowed, so that typing it back is allowed.

    A bound that two digits hold exactly, such as 40 C, is shown as it is.
    """
    known = KINDS[kind]
    symbol = (metric or known.metric) if system == "metric" else (us or known.us)
    amount = convert(value, kind, symbol)
    if amount and isfinite(amount):
        step = 10.0 ** (floor(log10(abs(amount))) - 1)
        # A hair of slack keeps a bound that is round already from moving on by a step.
        amount = (ceil(amount / step - 1e-9) if up else floor(amount / step + 1e-9)) * step
    text = number(amount, 2)
    return f"{text} {written(symbol)}" if symbol and symbol != "/kWh" else text + symbol
