"""Watts into kilowatt-hours and money, and what a circuit may carry."""

from __future__ import annotations

from ..errors import OutOfRange
from .base import PUBLISHED, STANDARD, relation
from .limits import at_least, between


@relation(title="Energy used", formula=r"E = \frac{P t}{1000}", result=("E", "kWh", "energy"),
          symbols={"power_w": ("P", "W", "power"), "hours": ("t", "h", "time it runs")}, valid="steady power",
          source="Definition of the kilowatt-hour", status=STANDARD)
def energy_used(power_w: float, hours: float) -> float:
    """Energy in kWh of a power over a time; OutOfRange below zero."""
    at_least("Power", power_w, "W")
    at_least("Running time", hours, "h")
    return power_w * hours / 1000


@relation(title="Cost of energy", formula=r"C = E c", result=("C", "money", "cost"),
          symbols={"energy_kwh": ("E", "kWh", "energy"), "price_per_kwh": ("c", "money/kWh", "price")},
          valid="one flat price", source="Arithmetic; your bill may have steps and a standing charge", status=STANDARD)
def energy_cost(energy_kwh: float, price_per_kwh: float) -> float:
    """Cost of energy at a flat price; OutOfRange below zero."""
    at_least("Energy", energy_kwh, "kWh")
    at_least("Price", price_per_kwh, "per kWh")
    return energy_kwh * price_per_kwh


@relation(title="Most a circuit may carry all day", formula=r"P = 0.8 \, I U", result=("P", "W", "continuous load"),
          symbols={"rating_a": ("I", "A", "breaker rating"), "voltage_v": ("U", "V", "voltage")},
          valid="loads on for 3 hours or more; other countries have other rules",
          source="NEC 210.20(A) and Article 100: breaker at least 125 % of the continuous load (read in a commentary)",
          status=PUBLISHED)
def continuous_limit(rating_a: float, voltage_v: float) -> float:
    """Continuous load in W allowed on a breaker; OutOfRange below zero."""
    at_least("Breaker rating", rating_a, "A")
    at_least("Voltage", voltage_v, "V")
    return 0.8 * rating_a * voltage_v


@relation(title="Share of the day a timed pump runs", formula=r"s = \frac{n t}{24 \cdot 60}",
          result=("s", "", "share of the day"),
          symbols={"floods_per_day": ("n", "", "floods a day"), "minutes_each": ("t", "min", "length of one flood")},
          valid="no more than a day in all", source="Definition of a day", status=STANDARD)
def flooding_share(floods_per_day: float, minutes_each: float) -> float:
    """Share of the day that timed floods take; OutOfRange below zero or past 24 hours in all."""
    at_least("Floods a day", floods_per_day)
    at_least("Length of a flood", minutes_each, "min")
    if floods_per_day * minutes_each > 24 * 60:
        raise OutOfRange("Floods must not take more than 24 hours a day.")
    return floods_per_day * minutes_each / (24 * 60)


@relation(title="Cost at two prices", formula=r"c = E \left( s \, p_2 + (1 - s) \, p_1 \right)",
          result=("c", "money", "cost of the energy"),
          symbols={"energy_kwh": ("E", "kWh", "energy used"), "cheap_share": ("s", "", "share of it in cheap hours"),
                   "price_per_kwh": ("p_1", "money/kWh", "usual price"),
                   "cheap_price_per_kwh": ("p_2", "money/kWh", "price in the cheap hours")},
          valid="an even load while it is on; no standing charge", source="Definition of the two prices",
          status=STANDARD)
def two_price_cost(energy_kwh: float, cheap_share: float, price_per_kwh: float, cheap_price_per_kwh: float) -> float:
    """Cost of energy of which a share (0 to 1) falls into cheap hours; OutOfRange below zero."""
    at_least("Energy", energy_kwh, "kWh")
    between("Share in cheap hours", cheap_share, 0.0, 1.0)
    at_least("Price", price_per_kwh, "per kWh")
    at_least("Price in the cheap hours", cheap_price_per_kwh, "per kWh")
    return energy_kwh * (cheap_share * cheap_price_per_kwh + (1.0 - cheap_share) * price_per_kwh)
