"""In what sizes things are sold: common practice, no published source, from memory; a shop's own may differ."""

from __future__ import annotations

FOOT, POUND, OUNCE = 0.3048, 0.45359237, 0.028349523125
GALLON, FLUID_OUNCE = 3.785411784e-3, 2.95735295625e-5

# By kind of ware and system of units, in m, kg, m3 or pieces, the smallest first.
SIZES: dict[str, dict[str, tuple[float, ...]]] = {
    "hose": {"us": tuple(FOOT * one for one in (10, 25, 50, 100)), "metric": (5.0, 10.0, 25.0, 50.0)},
    "air hose": {"us": tuple(FOOT * one for one in (8, 25, 50, 100)), "metric": (2.0, 4.0, 10.0, 25.0, 50.0)},
    "pipe": {"us": tuple(FOOT * one for one in (2, 5, 10)), "metric": (1.0, 2.0, 3.0)},
    "tape": {"us": tuple(FOOT * one for one in (30, 150)), "metric": (10.0, 50.0)},
    "salt": {"us": (OUNCE, 4 * OUNCE, *(POUND * one for one in (1, 5, 25, 50))),
             "metric": (0.025, 0.1, 0.5, 1.0, 5.0, 25.0)},
    "liquid": {"us": (*(FLUID_OUNCE * one for one in (8, 32)), GALLON, 5 * GALLON),
               "metric": (1e-4, 2.5e-4, 5e-4, 1e-3, 5e-3, 2e-2)},
    "pots": {"us": (10, 25, 50, 100), "metric": (10, 25, 50, 100)},
    "plugs": {"us": (50, 100, 200), "metric": (50, 100, 200)},
    "stones": {"us": (1, 2, 4, 10), "metric": (1, 2, 4, 10)},
    "small": {"us": (2, 10), "metric": (2, 10)},
    "seeds": {"us": (100, 500, 1000), "metric": (100, 500, 1000)},
}
# What pieces come in.
WORDS = {"pots": "pack", "plugs": "tray", "stones": "pack", "small": "pack", "seeds": "packet"}
