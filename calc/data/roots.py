"""What is assumed about roots, stones, still water and limits: low, likely and high, each with its source."""

from __future__ import annotations

from dataclasses import dataclass

from ..relations.base import MEMORY, PUBLISHED


@dataclass(frozen=True)
class Band:
    """An uncertain number: the low, likely and high value, and where they are from."""

    low: float
    likely: float
    high: float
    source: str


JUDGMENT = "engineering judgment, no source"

# Dry root mass of one plant in g.
ROOT_MASS_G: dict[str, Band] = {
    "young": Band(0.05, 0.15, 0.3, JUDGMENT),
    "half grown": Band(0.2, 0.4, 0.7, JUDGMENT),
    "head": Band(0.6, 1.0, 1.2, f"head of 150 to 200 g: {MEMORY}"),
    "large leaf": Band(1.0, 2.5, 6.0, JUDGMENT),
    "fruiting": Band(8.0, 20.0, 50.0, JUDGMENT),
}
ROOT_WORDS = {"young": "Young, first week or two on the raft", "half grown": "Half grown lettuce or herbs",
              "head": "Heads ready to cut", "large leaf": "Large leaves: kale, chard",
              "fruiting": "Fruiting tomato, pepper or cucumber"}

REFERENCE_C = 20.0
ROOT_RATE_MG_G_H = Band(
    2.3, 4.6, 9.2, f"mg of oxygen per g of dry root an hour: textbook range 2.3 to 6.9, {MEMORY}; the high value is "
                   "what "
    "roses took up (0.55 mg per g fresh root an hour, Bar-Yosef & Lieth 2013, Scientia Horticulturae, abstract) at "
    "an assumed "
    "6 % dry matter (celery afloat had 9.6 %, Agroland 2021, untad 690, abstract; the high value would "
    "then be 5.7)")
Q10 = Band(2.0, 2.2, 2.8, "2.0 in a lettuce model (Van Henten 1994), 2.4 to 3.1 in forest roots (Burton et al. 2002, "
                          "abstract); tomato roots in deep flow took up more from 17 to 33 °C and less at 45 (Root "
                          "Research 12(2), abstract)")
WATER_MG_L_H = Band(0.02, 0.05, 0.2, f"mg of oxygen per L of reasonably clean solution an hour: {MEMORY}")

# Share of the oxygen taken up per metre of depth in the standard test.
STONE_PER_METRE: dict[str, Band] = {
    "stone": Band(0.0167, 0.033, 0.067, "1 % at 0.3 m with a band of 0.5 to 2 %: an assumption, no paper on such "
                                        "stones could "
                                         "be opened"),
    "fine": Band(0.033, 0.065, 0.08, f"5 to 8 % a meter for fine-pore diffusers in deep tanks, {MEMORY}; half for "
                                     f"the low value"),
    "bare hose": Band(0.008, 0.02, 0.033, f"2.5 to 3.3 % a meter for coarse bubbles in deep tanks, {MEMORY}; lower "
                                          f"here, since "
                                           "bubbles from a bare hose are larger still"),
}
# Where no air is blown, any kind will do.
NO_STONES = "stone"
STONE_WORDS = {"stone": "Ordinary air stones", "fine": "Fine-pore ceramic or membrane discs",
               "bare hose": "Bare hose ends"}
ALPHA = Band(0.8, 0.9, 1.0, f"nutrient solution beside clean water: {MEMORY}")
FOULING = Band(0.6, 0.85, 1.0, f"stones in use beside new ones: {JUDGMENT}")

# Transfer coefficient of the open surface in m/d at 20 C. Bubbles stir, so still air is not still water.
SURFACE_M_D: dict[str, Band] = {
    "still": Band(0.1, 0.3, 0.5, f"indoors, water moved by warmth alone: {MEMORY}; where bubbles rise beside it, 59 "
                                 "to 85 % of all transfer was through the surface (DeMoyer and others 2003, Water "
                                 "Research 37:1890-1904, abstract)"),
    "moving": Band(0.3, 0.6, 1.5, "a fan or a light wind; wind of 2 m/s gives 0.4 (Gelda et al. 1996, abstract), the "
                                  "rest is "
                                  "judgment"),
    "windy": Band(0.7, 1.4, 2.6, "wind of 5 m/s gives 1.4 (Gelda et al. 1996, abstract), fitted on a lake"),
}
SURFACE_WORDS = {"still": "Still air, indoors", "moving": "A fan or a light wind", "windy": "Open and windy"}

CRITICAL_MG_L = 2.0
CRITICAL_SOURCE = ("lettuce grew alike at 2.1 to 16.8 mg/L (Goto et al. 1996, Acta Horticulturae 440:205-210, "
                   "abstract); that uptake eases evenly from 2 mg/L down to where it stops is a simplification. Of "
                   "many plants roots grow as ever down to half of air, some 4 mg/L (Drew 1983, quoted second hand); "
                   "one trial had a third more lettuce at 8.5 than at 6.5 mg/L (Ouyang and others 2020, as a maker of "
                   "oxygen plants tells it)")
# Where roots take no more oxygen out of the water. Easing toward 0 mg/L instead would leave 0.01 in a still bath.
STOP_MG_L = Band(
    0.3, 1.0, 1.5, "fitted to three trials: 3.6 m³ of growing lettuce, without air or pump, read 1 to 2 mg/L "
                   "(Hernandez et al. 2017, Acta Horticulturae 1170:619-626, abstract); lettuce was hurt at 0.32 mg/L "
                   "(Yoshida, Kitano & Eguchi 1997, Biotronics 26:39-45, abstract) and unhurt at 2.1 (Goto et al. "
                   "1996)")

# (what it is, mg/L, what it means, source)
LEVELS: tuple[tuple[str, float, str, str], ...] = (
    ("Kept by growers, upper", 6.0, "a common aim, with time in hand when the power fails",
     "5 to 8 mg/L: Hager et al. 2021, Aquaponics production manual, Kentucky State University"),
    ("Kept by growers, lower", 5.0, "the least commonly aimed for",
     "5 to 8 mg/L: Hager et al. 2021, Aquaponics production manual, Kentucky State University"),
    ("Alarm", 4.0, "look for the cause today", f"Cornell CEA lettuce handbook, {MEMORY}"),
    ("Act now", 3.0, "crops are said to suffer below this", f"Cornell CEA lettuce handbook, {MEMORY}"),
    ("Research: lettuce unhurt down to", 2.1, "24 days at 24 °C, no loss against 4.2, 8.4 and 16.8 mg/L",
     f"Goto et al. 1996, Acta Horticulturae 440:205-210, abstract ({PUBLISHED})"),
    ("Research: lettuce hurt at", 0.32, "7 days; 3.2 and 6.4 mg/L were alike",
     f"Yoshida, Kitano & Eguchi 1997, Biotronics 26:39-45, abstract ({PUBLISHED})"),
)
RESEARCH_LIMIT_MG_L, RESEARCH_SOURCE = LEVELS[4][1], LEVELS[4][3]
