"""Published feed formulas in mg/L of each element, with where each is from and what that is worth."""

from __future__ import annotations

from dataclasses import dataclass

from ..relations.base import MEMORY

HOAGLAND = ("Hoagland & Arnon (1950), The water-culture method for growing plants without soil, California "
            "Agricultural Experiment Station Circular 347")
MATTSON = "Mattson & Peters (2014), A recipe for hydroponic success, Inside Grower, January 2014"
CORNELL = "Brechner & Both, Cornell CEA hydroponic lettuce handbook"
SONNEVELD = ("Sonneveld & Straver (1994), Nutrient solutions for vegetables and flowers grown in water or substrates, "
             "PBG Naaldwijk, 10th edition")
FLORIDA = "Hochmuth & Hochmuth, Nutrient solution formulation for hydroponic tomatoes in Florida, UF/IFAS HS796"
TREJO = "Trejo-Tellez & Gomez-Merino (2012), Nutrient solutions for hydroponic systems, in Hydroponics, InTech, ch. 1"
RESH = "Resh (2013), Hydroponic food production, 7th edition, CRC Press"
BATAVIA = "Frontiers in Plant Science (2024) 15:1411572, abstract: uptake of Batavia lettuce in mmol/L"
AMOUNTS = "salt amounts from memory, mg/L computed from them"
FIRM = "from memory; its grams and its mg/L agree within 3 %"
BALANCED = "from memory; its ions balance exactly"


@dataclass(frozen=True)
class Target:
    """One formula: mg/L by element (an element left out has no aim), and mg/L of nitrogen as ammonium, if given."""

    key: str
    name: str
    use: str
    mg_l: dict[str, float]
    source: str
    status: str
    ammonium_mg_l: float | None = None


def _target(key: str, name: str, use: str, numbers: tuple[float | None, ...], source: str, status: str,
            ammonium: float | None = None) -> Target:
    order = ("N", "P", "K", "Ca", "Mg", "S", "Fe", "Mn", "Zn", "B", "Cu", "Mo")
    return Target(key, name, use, {element: value for element, value in zip(order, numbers, strict=True)
                                   if value is not None}, source, status, ammonium)


TARGETS: tuple[Target, ...] = (
    _target("leafy", "Lettuce, leaves and herbs (modified Sonneveld)", "lettuce, leafy greens, herbs",
            (150, 31, 210, 90, 24, None, 1.0, 0.25, 0.13, 0.16, 0.023, 0.024), MATTSON, FIRM),
    _target("raft_lettuce", "Raft lettuce (Cornell)", "lettuce raft ponds",
            (125, 31, 215, 84, 24, None, 0.94, 0.14, 0.13, 0.16, 0.03, 0.03), CORNELL, MEMORY),
    _target("hoagland_half", "Hoagland No. 1 at half strength", "general, a teaching case",
            (105.05, 15.49, 117.3, 100.2, 24.3, 32.1, None, 0.25, 0.025, 0.25, 0.01, 0.006), HOAGLAND, AMOUNTS, 0.0),
    _target("hoagland_1", "Hoagland No. 1", "general; stronger than leafy crops need",
            (210.105, 30.974, 234.59, 200.39, 48.61, 64.155, None, 0.5025, 0.05, 0.5, 0.0204, 0.0118), HOAGLAND,
            AMOUNTS, 0.0),
    _target("hoagland_2", "Hoagland No. 2", "general, with ammonium",
            (210.105, 30.974, 234.59, 160.312, 48.61, 64.155, None, 0.5025, 0.05, 0.5, 0.0204, 0.0118), HOAGLAND,
            AMOUNTS, 14.007),
    _target("sonneveld_lettuce", "Lettuce in water (Sonneveld)", "strong commercial lettuce feed",
            (283.64, 61.948, 430.081, 180.351, 24.305, 36.068, 2.234, 0.275, 0.262, 0.324, 0.048, 0.048), SONNEVELD,
            BALANCED, 17.509),
    _target("sonneveld_tomato", "Tomato (Sonneveld)", "tomato on substrate",
            (240.92, 46.461, 371.434, 216.421, 58.332, 141.064, 0.838, 0.549, 0.327, 0.324, 0.048, 0.048), SONNEVELD,
            BALANCED, 16.808),
    _target("sonneveld_cucumber", "Cucumber (Sonneveld)", "cucumber on substrate",
            (241.62, 38.717, 312.786, 160.312, 33.419, 44.083, 0.838, 0.549, 0.327, 0.27, 0.048, 0.048), SONNEVELD,
            BALANCED, 17.509),
    _target("fruiting", "Tomato and other heavy feeders (Arizona)", "tomato, pepper, cucumber",
            (189, 39, 341, 170, 48, None, 2.0, 0.55, 0.33, 0.28, 0.05, 0.05), MATTSON, MEMORY),
    _target("florida_1", "Tomato, first weeks (Florida, stage 1)", "tomato, growth stage 1",
            (70, 50, 120, 150, 40, 50, 2.8, 0.8, 0.3, 0.7, 0.2, 0.05), FLORIDA, MEMORY),
    _target("florida_3", "Tomato, middle (Florida, stage 3)", "tomato, growth stage 3",
            (100, 50, 150, 150, 40, 50, 2.8, 0.8, 0.3, 0.7, 0.2, 0.05), FLORIDA, MEMORY),
    _target("florida_5", "Tomato, in fruit (Florida, stage 5)", "tomato, growth stage 5",
            (150, 50, 200, 150, 50, 60, 2.8, 0.8, 0.3, 0.7, 0.2, 0.05), FLORIDA, MEMORY),
    _target("steiner", "Universal (Steiner)", "general",
            (168, 31, 273, 180, 48, None, 3, 0.62, 0.11, 0.44, 0.02, None), TREJO, MEMORY),
    _target("cooper", "Nutrient film (Cooper)", "middles of published ranges",
            (218, 60, 300, 178, 50, 68, 12, 2, 0.1, 0.3, 0.1, 0.2), TREJO, MEMORY),
    _target("hewitt", "Research solution (Hewitt)", "general, research",
            (168, 41, 156, 160, 36, 48, 2.8, 0.54, 0.065, 0.54, 0.064, 0.04), TREJO, MEMORY),
    _target("resh_lettuce", "Lettuce (Resh)", "lettuce", (165, 50, 210, 200, 40, 113, 5, 0.5, 0.1, 0.5, 0.1, 0.05),
            RESH, MEMORY),
    _target("uptake", "Top-up for lettuce: what it takes up", "to refill a running bath, not to start one",
            (187.69, 53.27, 398.8, 125.44, 20.9, None, 1.552, 0.309, 0.356, None, 0.046, None), BATAVIA,
            "published abstract, mg/L computed from its mmol/L"),
)
BY_KEY = {target.key: target for target in TARGETS}

# Source water, mg/L: (element, keep below, who says so).
WATER_LIMITS: tuple[tuple[str, float, str], ...] = (
    ("Na", 50.0, f"{MATTSON} (read)"), ("Cl", 70.0, f"{MATTSON} (read)"),
    ("Ca", 150.0, "Oklahoma State University Extension, HLA-6442, table 1, as copied"),
    ("Mg", 50.0, "Oklahoma State University Extension, HLA-6442, table 1, as copied"),
)
