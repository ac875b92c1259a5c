"""What the answers of the feed questions are called, and the limits its steps share."""

from __future__ import annotations

from ...data.salts import NH4

OWN = "own"
SALTS, POWDERS, BOTTLES = "salts", "powders", "bottles"
JUDGMENT = "engineering judgment, no source"
GOOD_EC = 0.10
BALANCED = 0.05
FULL_SHARE = 0.8
HALF_A_STEP = 0.05
STOCK = "Trace-element stock"
# The acid is poured in halves and stopped by the meter: half and half of the rest are sure to go in.
ACID_TAKEN = 0.75
# An acid that brings less than this share of what is wanted is left out of the weights.
ACID_COUNTS_FROM = 0.10
# Iron in mg/L that a formula which names none is offered: what the lettuce formulas carry.
IRON_MG_L = 1.0
# Less of an element than this is none.
NO_TRACE_MG_L = 1e-4
PERCENTS = (("n", "N"), ("nh4", NH4), ("p", "P"), ("k", "K"), ("ca", "Ca"), ("mg", "Mg"), ("s", "S"), ("fe", "Fe"),
            ("mn", "Mn"), ("zn", "Zn"), ("b", "B"), ("cu", "Cu"), ("mo", "Mo"))
OXIDES_OF = {"oxide": ("P2O5", "K2O"), "all oxides": ("P2O5", "K2O", "CaO", "MgO", "SO3"), "elements": ()}
SCALES = {"1 g": 1.0, "0.1 g": 0.1, "0.01 g": 0.01}
PPM_SCALES = {"ppm500": 500.0, "ppm640": 640.0, "ppm700": 700.0}
