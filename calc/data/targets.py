"""Published feed formulas in mg/L of each element, with where each is from and what that is worth."""

from __future__ import annotations

from dataclasses import dataclass

from ..relations.base import ABSTRACT, COPY, MEMORY

HOAGLAND = ("Hoagland & Arnon (1950), The water-culture method for growing plants without soil, California "
            "Agricultural Experiment Station Circular 347")
MATTSON = "Mattson & Peters (2014), A recipe for hydroponic success, Inside Grower, January 2014"
DE_RIJCK = ("De Rijck & Schrevens (1998), Comparison of the mineral composition of twelve standard nutrient solutions, "
            "Journal of Plant Nutrition 21(10):2115-2125")
CORNELL = "Brechner & Both, Cornell CEA hydroponic lettuce handbook"
SONNEVELD = ("Sonneveld & Straver (1994), Nutrient solutions for vegetables and flowers grown in water or substrates, "
             "PBG Naaldwijk, 10th edition")
FLORIDA = "Hochmuth & Hochmuth, Nutrient solution formulation for hydroponic tomatoes in Florida, UF/IFAS HS796"
TREJO = "Trejo-Tellez & Gomez-Merino (2012), Nutrient solutions for hydroponic systems, in Hydroponics, InTech, ch. 1"
RESH = "Resh (2013), Hydroponic food production, 7th edition, CRC Press"
BATAVIA = "Frontiers in Plant Science (2024) 15:1411572, abstract: uptake of Batavia lettuce in mmol/L"
AMOUNTS = f"{COPY} of its salts by D. R. Hershey 1997 and two more, mg/L computed from them"
CHELATE = "; iron as a chelate, 1 to 5 mg/L in modern use, where the original gave tartrate"
TABLE_COPY = f"{COPY} of its table; its grams and its mg/L agree within 3 %"
COLUMN = f"{COPY} of the table, without the names of its columns: told by its numbers"
BALANCED = f"{MEMORY}; its ions balance exactly"


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
    remembered: str = ""
    retired: bool = False

    def status_of(self, element: str) -> str:
        """What one element's number is worth: ``remembered`` names those that stand on memory in a formula read."""
        return MEMORY if element in self.remembered.split() else self.status

    @property
    def words(self) -> str:
        """The status of the formula, with the elements that stand on memory."""
        part = f"; {', '.join(self.remembered.split())} {MEMORY}" if self.remembered else ""
        kept = "; no longer offered, kept for plans that name it" if self.retired else ""
        return self.status + part + kept


def _target(key: str, name: str, use: str, numbers: tuple[float | None, ...], source: str, status: str,
            ammonium: float | None = None, remembered: str = "", retired: bool = False) -> Target:
    order = ("N", "P", "K", "Ca", "Mg", "S", "Fe", "Mn", "Zn", "B", "Cu", "Mo")
    return Target(key, name, use, {element: value for element, value in zip(order, numbers, strict=True)
                                   if value is not None}, source, status, ammonium, remembered, retired)


TARGETS: tuple[Target, ...] = (
    _target("leafy", "Leafy greens", "lettuce, leafy greens, herbs; modified Sonneveld",
            (150, 31, 210, 90, 24, None, 1.0, 0.25, 0.13, 0.16, 0.023, 0.024), MATTSON, TABLE_COPY),
    _target("raft_lettuce", "Raft lettuce", "lettuce raft ponds",
            (125, 31, 215, 84, 24, None, 0.94, 0.14, 0.13, 0.16, 0.03, 0.03), CORNELL, MEMORY),
    _target("hoagland_half", "Teaching solution", "lessons; it is Hoagland No. 1 at half strength",
            (105.05, 15.49, 117.3, 100.2, 24.3, 32.1, 1.25, 0.25, 0.025, 0.25, 0.01, 0.0055), HOAGLAND,
            AMOUNTS + CHELATE, 0.0),
    _target("hoagland_1", "Hoagland No. 1", "general; stronger than leafy crops need",
            (210.105, 30.974, 234.59, 200.39, 48.61, 64.155, 2.5, 0.5025, 0.05, 0.5, 0.0204, 0.011), HOAGLAND,
            AMOUNTS + CHELATE, 0.0),
    _target("hoagland_2", "Hoagland No. 2", "general, with ammonium",
            (210.105, 30.974, 234.59, 160.312, 48.61, 64.155, 2.5, 0.5025, 0.05, 0.5, 0.0204, 0.011), HOAGLAND,
            AMOUNTS + CHELATE, 14.007),
    _target("sonneveld_lettuce", "Strong lettuce", "lettuce on a farm; strong",
            (283.64, 61.948, 430.081, 180.351, 24.305, 36.068, 2.234, 0.275, 0.262, 0.324, 0.048, 0.048), SONNEVELD,
            BALANCED, 17.509),
    _target("sonneveld_tomato", "Tomato", "tomato on substrate",
            (240.92, 46.461, 371.434, 216.421, 58.332, 141.064, 0.838, 0.549, 0.327, 0.324, 0.048, 0.048), SONNEVELD,
            BALANCED, 16.808, retired=True),
    _target("sonneveld_cucumber", "Cucumber", "cucumber on substrate",
            (241.62, 38.72, 312.79, 160.31, 34.03, 44.89, 0.84, 0.55, 0.327, 0.27, 0.04, 0.048),
            f"{SONNEVELD}; {DE_RIJCK}", COLUMN, 17.51, remembered="Zn B Mo"),
    _target("fruiting", "Tomato and pepper", "tomato, pepper, cucumber",
            (189, 39, 341, 170, 48, None, 2.0, 0.55, 0.33, 0.28, 0.05, 0.05), MATTSON, f"{COPY} of its table"),
    _target("florida_1", "Tomato, first weeks", "tomato, growth stage 1",
            (70, 50, 120, 150, 40, 50, 2.8, 0.8, 0.3, 0.7, 0.2, 0.05), FLORIDA, MEMORY, retired=True),
    _target("florida_3", "Tomato, middle", "tomato, growth stage 3",
            (100, 50, 150, 150, 40, 50, 2.8, 0.8, 0.3, 0.7, 0.2, 0.05), FLORIDA, MEMORY, retired=True),
    _target("florida_5", "Tomato, in fruit", "tomato, growth stage 5",
            (150, 50, 200, 150, 50, 60, 2.8, 0.8, 0.3, 0.7, 0.2, 0.05), FLORIDA, MEMORY, retired=True),
    _target("steiner", "Universal", "general",
            (167.8, 30.66, 261.57, 184.76, 49.1, 111.59, 1.34, 0.62, 0.11, 0.44, 0.01, None),
            f"{DE_RIJCK}; boron: {TREJO}", f"{COLUMN}; K 273 and Fe 2 to 4 in another table, {MEMORY[:11]}", 0.0,
            remembered="B"),
    _target("cooper", "Nutrient film", "as its salts give it",
            (201.3, 59.78, 302.23, 172.34, 50.55, 67.98, 1.9, 1.98, 0.1, 0.3, 0.1, 0.2),
            f"{DE_RIJCK}; boron and molybdenum: {TREJO}", f"{COLUMN}; Fe 12 in another table, {MEMORY[:11]}", 0.03,
            remembered="B Mo"),
    _target("hewitt", "Research", "general, research",
            (168, 41, 156, 160, 36, 48, 2.8, 0.54, 0.065, 0.54, 0.064, 0.04), TREJO, MEMORY, retired=True),
    _target("resh_lettuce", "Lettuce, Resh", "lettuce", (165, 50, 210, 200, 40, 113, 5, 0.5, 0.1, 0.5, 0.1, 0.05),
            RESH, MEMORY, retired=True),
    _target("uptake", "Top-up for lettuce: what it takes up", "to refill a running bath, not to start one",
            (187.69, 53.27, 398.8, 125.44, 20.9, None, 1.552, 0.309, 0.356, None, 0.046, None), BATAVIA,
            f"{ABSTRACT}, mg/L computed from its mmol/L"),
)
# Those that a raft grows by, for the menu; the others stay for the plans that have them.
OFFERED = ("leafy", "raft_lettuce", "hoagland_half", "uptake")
BY_KEY = {target.key: target for target in TARGETS}

OKLAHOMA = ("Oklahoma State University Extension, Electrical Conductivity and pH Guide for Hydroponics, HLA-6722, "
            "table 1")
# Source water, mg/L: (element, keep below, who says so). Sulfur is a third of the sulfate printed, 100. The line
# "Magnesium bicarbonate < 50" is no limit for magnesium, so there is none here.
WATER_LIMITS: tuple[tuple[str, float, str], ...] = (
    ("Na", 50.0, f"{MATTSON} (read); {OKLAHOMA} (read)"),
    ("Cl", 70.0, f"{MATTSON} (read); 140 in {OKLAHOMA} (read)"),
    ("Ca", 150.0, f"{OKLAHOMA} (read)"),
    ("S", 33.0, f"sulfate 100, {OKLAHOMA} (read)"),
)

# Chlorine that disinfects, mg/L in the water before any salt: lettuce lost 30 % of its shoots at 0.5, the least tried.
CHLORINE_HARMS_MG_L = 0.5
CHLORINE_LOSSES = ((0.5, 0.30), (1.0, 0.55), (1.5, 0.66), (2.0, 0.83), (4.0, 0.92))
CHLORINE_SOURCE = (f"McGehee & Raudales 2023, HortTechnology 33(1):125-130 ({ABSTRACT}): Rex lettuce in deep water "
                   "culture. Dosed by the week into a mix that uses it up, 5.5 mg/L cost butterhead no mass (Premuzic "
                   f"and others 2007, Phyton 76:103-117, {ABSTRACT})")
CHLORINE_GOES = ("Let the water stand open for days in air and sun, or stir a little vitamin C into it (both: US "
                 "Forest Service 2005, Using vitamin C to neutralize chlorine in water systems). Bound chlorine "
                 "(chloramine) does not leave by standing: it takes a filter of activated carbon (common practice, no "
                 "published source).")
