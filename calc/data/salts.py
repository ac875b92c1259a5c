"""Fertiliser salts: what each holds, how much dissolves, which bottle takes it, and what it can do to people."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Required, TypedDict, Unpack
from functools import lru_cache

from ..relations.base import COPY, MEMORY
from ..relations.feed import element_from_oxide

# IUPAC abridged standard atomic weights, g/mol.
ATOMIC_MASS = {"H": 1.008, "B": 10.81, "C": 12.011, "N": 14.007, "O": 15.999, "Na": 22.98977, "Mg": 24.305,
               "P": 30.97376, "S": 32.06, "Cl": 35.45, "K": 39.0983, "Ca": 40.078, "Mn": 54.93804, "Fe": 55.845,
               "Cu": 63.546, "Zn": 65.38, "Mo": 95.95}
MASS_SOURCE = "IUPAC standard atomic weights; fractions computed here from the formula"
# Nitrogen is kept apart by form, since roots and bath feel the difference.
NO3, NH4 = "N-NO3", "N-NH4"
ELEMENTS = ("N", "P", "K", "Ca", "Mg", "S", "Fe", "Mn", "Zn", "B", "Cu", "Mo")
MICROS = ("Fe", "Mn", "Zn", "B", "Cu", "Mo")
WORDS = {"N": "Nitrogen", "P": "Phosphorus", "K": "Potassium", "Ca": "Calcium", "Mg": "Magnesium", "S": "Sulfur",
         "Fe": "Iron", "Mn": "Manganese", "Zn": "Zinc", "B": "Boron", "Cu": "Copper", "Mo": "Molybdenum",
         "Na": "Sodium", "Cl": "Chloride", NO3: "Nitrate nitrogen", NH4: "Ammonium nitrogen"}
# Labels give oxides by an old custom: the oxide's element, its atoms of the element and of oxygen.
OXIDES = {"P2O5": ("P", 2, 5), "K2O": ("K", 2, 1), "CaO": ("Ca", 1, 1), "MgO": ("Mg", 1, 1), "SO3": ("S", 1, 3)}

# Sources of what dissolves. All print grams to water or shares of the mass; a bottle is filled up to its mark, so each
# is brought to a litre of the full solution by its density.
TABLE = "solubility table of Wikipedia as an open data file"
CRC = "CRC Handbook 98th ed., solubility of common salts, in an open data file"
NIST = "IUPAC-NIST Solubility Data Series 66 (SRD 106), at 10 °C; at 20 °C the " + TABLE
DENSITY = ("brought to a liter of the full solution by its density after Laliberté & Cooper 2004 (thermo 0.6.1; "
           "stretched near saturation, so read “about”)")
NO_DENSITY = "brought to a liter with the density of water, so on the safe side"
DISSOLVED = f"solubility {COPY}"
HANDLED = f"bottle and hazard {MEMORY}"

OXIDISER = "oxidizer: keep from anything that burns"
EYES = "can damage eyes: goggles"
BORON = "toxic for reproduction (CLP 1B): gloves, no dust"
WATER_LIFE = "toxic to water life: none in drains or streams"


@dataclass(frozen=True)
class Salt:
    """One salt: ``atoms`` of its formula, how many N are nitrate and ammonium, or shares by its ``label`` instead.

    ``solubility_g_l`` is the most that a litre of solution holds at 20 C, alone in water; ``cold_g_l`` at 10 C, where a
    source has it. ``bottle`` is "A" (with calcium), "B" or "A or B".
    """

    key: str
    name: str
    formula: str
    atoms: tuple[tuple[str, int], ...] = ()
    nitrate: int = 0
    ammonium: int = 0
    label: tuple[tuple[str, float], ...] = ()
    solubility_g_l: float = field(kw_only=True)
    cold_g_l: float | None = None
    bottle: str = "B"
    hazard: str = ""
    restricted: str = ""
    advised: bool = True
    source: str = MASS_SOURCE
    dissolves: str = f"solubility {MEMORY}"
    status: str = f"solubility {MEMORY}; {HANDLED}"

    @property
    def molar_mass(self) -> float:
        """Molar mass in g/mol, from its atoms."""
        return sum(ATOMIC_MASS[element] * count for element, count in self.atoms)


class _More(TypedDict, total=False):
    solubility_g_l: Required[float]
    cold_g_l: float
    dissolves: str
    bottle: str
    hazard: str
    restricted: str
    advised: bool
    source: str
    status: str


def _salt(key: str, name: str, formula: str, atoms: str, nitrate: int = 0, ammonium: int = 0,
          **more: Unpack[_More]) -> Salt:
    pairs = tuple((part.split(":")[0], int(part.split(":")[1])) for part in atoms.split())
    if "dissolves" in more:
        more["status"] = f"{DISSOLVED}; {HANDLED}"
    return Salt(key, name, formula, pairs, nitrate, ammonium, **more)


def _chelate(key: str, name: str, iron: float, solubility: float) -> Salt:
    # One sodium for each iron, as in the pure compounds; nitrogen inside a chelate does not feed plants.
    sodium = iron * ATOMIC_MASS["Na"] / ATOMIC_MASS["Fe"]
    return Salt(key, name, f"{iron:.0%} iron by its label", label=(("Fe", iron), ("Na", sodium)),
                solubility_g_l=solubility, bottle="A", source=f"usual strength as sold, {MEMORY}: read your label")


# Iron that stays dissolved, whose strength differs by the maker.
CHELATES = ("iron_dtpa", "iron_edta", "iron_eddha")

SALTS: tuple[Salt, ...] = (
    _salt("calcium_nitrate", "Calcium nitrate, granular (15.5-0-0)", "5Ca(NO3)2.NH4NO3.10H2O",
          "Ca:5 N:12 O:43 H:24", 11, 1, solubility_g_l=1000.0, bottle="A", hazard=f"harmful if swallowed; {EYES}"),
    _salt("calcium_nitrate_4h", "Calcium nitrate tetrahydrate", "Ca(NO3)2.4H2O", "Ca:1 N:2 O:10 H:8", 2,
          solubility_g_l=1282.0, cold_g_l=1170.0,
          dissolves=f"{CRC}, {DENSITY}", bottle="A", hazard=f"{OXIDISER}; {EYES}"),
    _salt("potassium_nitrate", "Potassium nitrate", "KNO3", "K:1 N:1 O:3", 1, solubility_g_l=279.0, cold_g_l=193.0,
          dissolves=f"{TABLE}, {DENSITY}", bottle="A or B",
          hazard=OXIDISER),
    _salt("mkp", "Monopotassium phosphate (MKP)", "KH2PO4", "K:1 H:2 P:1 O:4", solubility_g_l=209.0, cold_g_l=172.0,
          dissolves=f"{TABLE}, {DENSITY}"),
    _salt("map", "Monoammonium phosphate (MAP)", "NH4H2PO4", "N:1 H:6 P:1 O:4", 0, 1,
          solubility_g_l=272.0, cold_g_l=213.0,
          dissolves=f"{NIST}, {NO_DENSITY}"),
    _salt("potassium_sulfate", "Potassium sulfate", "K2SO4", "K:2 S:1 O:4", solubility_g_l=108.0, cold_g_l=91.0,
          dissolves=f"{TABLE}, {DENSITY}"),
    _salt("magnesium_sulfate", "Magnesium sulfate (Epsom salt)", "MgSO4.7H2O", "Mg:1 S:1 O:11 H:14",
          solubility_g_l=689.0, cold_g_l=602.0,
          dissolves=f"{TABLE}, {DENSITY}"),
    _salt("magnesium_nitrate", "Magnesium nitrate hexahydrate", "Mg(NO3)2.6H2O", "Mg:1 N:2 O:12 H:12", 2,
          solubility_g_l=973.0, cold_g_l=935.0,
          dissolves=f"{CRC}, {DENSITY}", bottle="A or B", hazard=OXIDISER),
    _salt("ammonium_sulfate", "Ammonium sulfate", "(NH4)2SO4", "N:2 H:8 S:1 O:4", 0, 2,
          solubility_g_l=535.0, cold_g_l=525.0,
          dissolves=f"{TABLE}, {DENSITY}"),
    _salt("potassium_chloride", "Potassium chloride", "KCl", "K:1 Cl:1", solubility_g_l=299.0, cold_g_l=277.0,
          dissolves=f"{TABLE}, {DENSITY}", bottle="A or B"),
    _salt("calcium_chloride", "Calcium chloride dihydrate", "CaCl2.2H2O", "Ca:1 Cl:2 O:2 H:4",
          solubility_g_l=805.0, cold_g_l=724.0,
          dissolves=f"{TABLE}, {DENSITY}",
          bottle="A", hazard="irritant; grows hot while it dissolves"),
    _salt("ammonium_nitrate", "Ammonium nitrate", "NH4NO3", "N:2 H:4 O:3", 1, 1, solubility_g_l=863.0, cold_g_l=771.0,
          dissolves=f"{TABLE}, {DENSITY}",
          bottle="A or B", hazard="strong oxidizer",
          restricted="explosive precursor, its sale is restricted in many countries"),
    _chelate("iron_dtpa", "Iron chelate DTPA, 10 %", 0.10, 100.0),
    _chelate("iron_edta", "Iron chelate EDTA, 13 %", 0.13, 90.0),
    _chelate("iron_eddha", "Iron chelate EDDHA, 6 %", 0.06, 90.0),
    _salt("iron_sulfate", "Iron(II) sulfate heptahydrate", "FeSO4.7H2O", "Fe:1 S:1 O:11 H:14",
          solubility_g_l=468.0, cold_g_l=367.0,
          dissolves=f"{CRC}, {DENSITY}",
          hazard="harmful; its iron soon turns to rust in the bath, a chelate is better", advised=False),
    _salt("manganese_sulfate", "Manganese sulfate monohydrate", "MnSO4.H2O", "Mn:1 S:1 O:5 H:2",
          solubility_g_l=431.0, cold_g_l=418.0,
          dissolves=f"{TABLE}, {NO_DENSITY}", hazard=f"{EYES}; harms organs over time; {WATER_LIFE}"),
    _salt("manganese_chloride", "Manganese chloride tetrahydrate", "MnCl2.4H2O", "Mn:1 Cl:2 O:4 H:8",
          solubility_g_l=991.0, cold_g_l=930.0,
          dissolves=f"{CRC}, {DENSITY}", hazard="toxic if swallowed"),
    _salt("zinc_sulfate", "Zinc sulfate heptahydrate", "ZnSO4.7H2O", "Zn:1 S:1 O:11 H:14",
          solubility_g_l=915.0, cold_g_l=807.0,
          dissolves=f"{CRC}, {DENSITY}",
          hazard=f"{EYES}; {WATER_LIFE}"),
    _salt("boric_acid", "Boric acid", "H3BO3", "H:3 B:1 O:3", solubility_g_l=45.0,
          dissolves=f"{TABLE}, {NO_DENSITY}", hazard=BORON),
    _salt("borax", "Borax decahydrate", "Na2B4O7.10H2O", "Na:2 B:4 O:17 H:20", solubility_g_l=47.0,
          dissolves=f"a maker's table quoted by photographers, 4.7 % at 20 °C, {NO_DENSITY}", hazard=BORON),
    _salt("copper_sulfate", "Copper sulfate pentahydrate", "CuSO4.5H2O", "Cu:1 S:1 O:9 H:10",
          solubility_g_l=312.0, cold_g_l=263.0,
          dissolves=f"{CRC}, {DENSITY}",
          hazard=f"harmful; {WATER_LIFE}"),
    _salt("sodium_molybdate", "Sodium molybdate dihydrate", "Na2MoO4.2H2O", "Na:2 Mo:1 O:6 H:4",
          solubility_g_l=672.0, cold_g_l=669.0,
          dissolves=f"{TABLE}, {DENSITY}"),
)
BY_KEY = {salt.key: salt for salt in SALTS}


@lru_cache(maxsize=64)
def _shares(key: str) -> tuple[tuple[str, float], ...]:
    salt = BY_KEY[key]
    if salt.label:
        return salt.label
    mass = salt.molar_mass
    found = {element: ATOMIC_MASS[element] * count / mass for element, count in salt.atoms
             if element not in ("H", "O", "C")}
    for name, count in ((NO3, salt.nitrate), (NH4, salt.ammonium)):
        if count:
            found[name] = ATOMIC_MASS["N"] * count / mass
    return tuple(found.items())


def shares(key: str) -> dict[str, float]:
    """Mass share of each element in a salt; "N" in all and by form ("N-NO3", "N-NH4")."""
    return dict(_shares(key))


def is_micro(key: str) -> bool:
    """Whether a salt is there for elements that a bath wants in traces."""
    return any(element in MICROS for element in shares(key))


def oxide_share(oxide: str) -> float:
    """Mass share of the element in a label's oxide, such as 0.436 of phosphorus in P2O5."""
    element, atoms, oxygen = OXIDES[oxide]
    return element_from_oxide(oxide=100.0, atomic_mass=ATOMIC_MASS[element], atoms=atoms, oxygen_atoms=oxygen) / 100.0


def default_salts() -> tuple[str, ...]:
    """What a beginner can buy without a licence and make any leafy formula from."""
    return ("calcium_nitrate", "potassium_nitrate", "mkp", "map", "magnesium_sulfate", "iron_dtpa",
            "manganese_sulfate", "zinc_sulfate", "boric_acid", "copper_sulfate", "sodium_molybdate")
