"""What is assumed about water that plants use and about salts that stay behind: bands, limits and their sources."""

from __future__ import annotations

from ..relations.base import MEMORY
from .roots import Band

JUDGMENT = "engineering judgment, no source"

# L a day of one plant in its last weeks.
PRACTICE_L_D = Band(0.10, 0.175, 0.25, f"late leaf lettuce, {MEMORY}")
FRESH_MASS_KG = 0.15
# Where no calendar tells how long the crop stands: butterhead in a raft pond (Cornell CEA handbook, from memory).
RAFT_DAYS = 24.0
FRESH_MASS_SOURCE = f"a head of 5 oz in a raft pond (Cornell CEA lettuce handbook), {MEMORY}"
LITRES_PER_KG = Band(
    10.9, 16.7, 23.8, "10.9 to 12.4 L/kg: red and green lettuce in nutrient film at Naples (92 and 80.8 g/L, table "
    "of a review of water use efficiency in hydroponics); 13.3 L/kg: 75 g of lettuce for each liter under red "
    "and blue LEDs (Pennisi and others 2019, "
    "Scientific Reports 9:14127, abstract); 20 ± 3.8 L/kg in greenhouses (Barbosa and others 2015, Int. J. Environ. "
    "Res. Public Health 12:6879-6891); the likely value is between the last two. Cilantro (coriander) took 34 to "
    "39 L/kg: not for herbs")
# Water of the last days over that of a middling day.
PEAK = Band(1.2, 1.6, 2.0, f"a head drinks most in its last days: {JUDGMENT}")
SUN_SHARE = Band(0.6, 0.65, 0.7, f"share of the sunshine inside that evaporates water under a full canopy, {MEMORY}")
LAMP_SHARE = Band(0.6, 1.0, 1.5, f"lamps without infrared; leaves also take warmth from the room: {JUDGMENT}")

# Nutrients taken with each liter drunk, as mS/cm.
UPTAKE_SPREAD_MS_CM = 0.4
UPTAKE_SOURCE = ("Batavia lettuce took K 10.2, Ca 3.13 and Mg 0.86 mmol with each liter (Frontiers in Plant Science "
                 "2024, 15:1411572, abstract), about 1.8 mS/cm at a tenth of a mS/cm for each mmol of charge; 1.4, and "
                 f"0.4 either way, is {JUDGMENT}")
# What plants take of each with a liter drunk, mg/L: 3.13 and 0.86 mmol of calcium and magnesium; sulfur by judgment.
UPTAKE_MG_L = {"Ca": 3.13 * 40.078, "Mg": 0.86 * 24.305, "S": 20.0}
GATHER_SOURCE = ("calcium 3.13 and magnesium 0.86 mmol with each liter, Batavia lettuce (Frontiers in Plant Science "
                 f"2024, 15:1411572, abstract); sulfur 20 mg, from memory, not verified; a crop that drinks much in "
                 f"dry air takes less with each liter: {JUDGMENT}")
CRITICAL_MS_CM = 0.5
CRITICAL_SOURCE = ("basil, dill, parsley and cilantro grew alike from 0.5 to 4 mS/cm (Walters & Currey 2018, "
                   "HortScience 53(9):1319; Currey and others 2019, Agronomy 9(7):389); that uptake eases in "
                   "proportion below 0.5 is a simplification")

LIMIT_SOURCE = ("judgment, set above what is asked of source water: sodium below 50 and chloride below 70 mg/L "
                "(Mattson & Peters), chloride below 140 (Oklahoma State HLA-6722, table 1)")
SOURCE_SODIUM_MG_L, SOURCE_CHLORIDE_MG_L = 50.0, 70.0
