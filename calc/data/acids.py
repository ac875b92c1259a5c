"""Acids and bases for water: what they are made of, how strong their bottles are, and when they are dangerous."""

from __future__ import annotations

from dataclasses import dataclass

from ..relations.base import MEMORY

NONE = 99.0
TABLE = "densities at 20 °C as read in The Engineering ToolBox, Density of Aqueous Solutions"
LALIBERTE = "held against Laliberté & Cooper 2004, J. Chem. Eng. Data (thermo 0.6.1)"
REAGENTS = "a laboratory supplier's table whose name was not kept"
TABLE_18 = "densities at 18 °C as read in a table of the physics institute, Cracow University of Technology"
GOLDBERG = ("Goldberg, Kishore & Lennen 2002, J. Phys. Chem. Ref. Data 31:231-370 (values from memory; those of "
            "phosphoric acid agree within 0.02 with the data file of PHREEQC)")
BURNS_SOURCE = f"the share from which European labels (CLP) say that it burns skin, {MEMORY}"


@dataclass(frozen=True)
class Product:
    """An acid or base that is sold: ``pks`` and ``heats`` (J/mol) of its three steps; 99 for a step it has not.

    ``densities`` are (mass share, kg/m3) at 20 C by rising share. ``burns_from`` is the mass share that burns skin.
    """

    words: str
    molar_mass: float
    pks: tuple[float, float, float]
    heats: tuple[float, float, float]
    element: str
    atoms: int
    densities: tuple[tuple[float, float], ...]
    burns_from: float
    source: str

    @property
    def most_share(self) -> float:
        """The strongest solution that the table knows."""
        return self.densities[-1][0]

    def density(self, share: float) -> float:
        """Density in kg/m3 at 20 C of a solution, straight between the table's points, water at nought.

        ``share`` is 0 to ``most_share``; ValueError beyond.
        """
        points = ((0.0, WATER_20_C_KG_M3), *self.densities)
        for (low, thin), (high, thick) in zip(points, points[1:], strict=False):
            if low <= share <= high:
                return thin + (thick - thin) * (share - low) / (high - low)
        raise ValueError(f"no density for a share of {share}")


WATER_20_C_KG_M3 = 998.2
ATOMIC_MASS = {"N": 14.007, "P": 30.973762, "S": 32.06, "Cl": 35.45, "K": 39.0983}
STRONG, NO_HEAT = (-3.0, NONE, NONE), (0.0, 0.0, 0.0)

ACIDS: dict[str, Product] = {
    "phosphoric": Product(
        "Phosphoric acid", 97.994, (2.148, 7.198, 12.35), (-8000.0, 3600.0, 16000.0), "P", 1,
        ((0.01, 1003.8), (0.05, 1025.4), (0.10, 1053.1), (0.20, 1113.5), (0.30, 1180.4), (0.40, 1253.6), (0.50, 1335.0),
         (0.60, 1426.0), (0.70, 1526.0), (0.75, 1579.0), (0.80, 1633.0), (0.85, 1685.0)), 0.25,
        f"{TABLE} up to 40 %; 50 to 80 % {MEMORY[:11]}, {LALIBERTE}, within 0.2 %; "
        f"85 %: {REAGENTS}; pK: {GOLDBERG}"),
    "citric": Product(
        "Citric acid", 192.123, (3.128, 4.761, 6.396), (4070.0, 2230.0, -3380.0), "", 0,
        ((0.01, 1002.2), (0.05, 1018.9), (0.10, 1040.2), (0.20, 1085.8), (0.30, 1134.6)), 1.0,
        f"{TABLE} up to 30 %; pK: {GOLDBERG}"),
    "nitric": Product(
        "Nitric acid", 63.012, STRONG, NO_HEAT, "N", 1,
        ((0.01, 1003.7), (0.05, 1025.7), (0.10, 1054.3), (0.20, 1115.0), (0.30, 1180.1), (0.40, 1246.6), (0.50, 1310.0),
         (0.60, 1366.7), (0.65, 1391.3), (0.70, 1413.0)), 0.05,
        f"{TABLE} up to 40 %; 50 to 65 % {MEMORY[:11]}, {LALIBERTE}, within 0.1 %; "
        f"70 %: {REAGENTS}"),
    "sulfuric": Product(
        "Sulfuric acid", 98.072, (-3.0, 1.988, NONE), (0.0, -16100.0, 0.0), "S", 1,
        ((0.01, 1004.9), (0.05, 1031.8), (0.10, 1066.1), (0.20, 1139.8), (0.30, 1219.1), (0.40, 1302.8), (0.50, 1395.2),
         (0.60, 1498.3), (0.70, 1610.5), (0.80, 1727.2), (0.90, 1814.4), (0.93, 1827.9), (0.95, 1833.7),
         (0.98, 1836.1)), 0.15,
        f"{TABLE} up to 50 and at 70 %; the rest {MEMORY[:11]}, up to 80 % {LALIBERTE}, within "
        "0.25 %; second pK: data file of PHREEQC"),
    "hydrochloric": Product(
        "Hydrochloric acid", 36.458, STRONG, NO_HEAT, "Cl", 1,
        ((0.05, 1023.6), (0.10, 1048.2), (0.20, 1098.9), (0.30, 1150.8), (0.38, 1189.4)), 0.25,
        f"{TABLE_18}; 38 %: straight between its 30 and 40 %; {LALIBERTE}, within 0.2 %"),
}
OTHER = "other"
OTHER_WORDS = "Another product"

# A base takes up hydrogen: ``pks`` do not apply; ``atoms`` of potassium are also its charges.
BASES: dict[str, Product] = {
    "hydroxide": Product(
        "Potassium hydroxide", 56.105, (NONE, NONE, NONE), NO_HEAT, "K", 1,
        ((0.05, 1045.0), (0.10, 1091.0), (0.15, 1139.0), (0.20, 1188.0), (0.25, 1238.0), (0.30, 1290.0), (0.40, 1400.0),
         (0.45, 1456.0)), 0.02, f"{TABLE_18}; 45 %: {REAGENTS}; {LALIBERTE}, within 0.15 %"),
    "carbonate": Product(
        "Potassium carbonate", 138.205, (NONE, NONE, NONE), NO_HEAT, "K", 2,
        ((0.10, 1090.4), (0.20, 1189.8), (0.30, 1297.9), (0.40, 1414.1), (0.50, 1540.4)), 1.0,
        f"densities at 20 °C {MEMORY[:11]}, 20 to 40 % held against CoolProp 8.0.0 (Melinder), within 0.06 %"),
}

# (from mg/L of calcium carbonate, word): the classes that the US Geological Survey uses for hardness.
WATER_CLASSES: tuple[tuple[float, str], ...] = (
    (180.0, "very hard"), (120.0, "hard"), (60.0, "moderately hard"), (0.0, "soft"))
WATER_CLASSES_SOURCE = ("classes of hardness of the US Geological Survey (0 to 60, 61 to 120, 121 to 180, above 180 "
                        f"mg/L; {MEMORY}), used here for alkalinity, which is not quite the same thing")

AIR_CO2_SOURCE = f"outdoor air in the 2020s, about 420 ppm: {MEMORY}; a closed room has 600 to 1500"

# Charges that roots give off for one nitrogen: hydroxide for nitrate (low, likely, high) and hydrogen for ammonium.
HYDROXIDE_PER_NITRATE = (0.1, 0.3, 0.78)
HYDROGEN_PER_AMMONIUM = 1.22
DRIFT_SOURCE = (f"1.22 hydrogen for an ammonium and at most 0.78 hydroxide for a nitrate, after Raven and Smith: "
                f"{MEMORY}; 0.1 and 0.3 are engineering judgment, for plants keep part of the charge as organic acids")
# Phosphate of a usual feed, which holds the pH a little.
FEED_PHOSPHATE_MMOL_L = 1.0
