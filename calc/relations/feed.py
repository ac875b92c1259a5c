"""Salts and their elements, what a meter reads in them, and the balances that mend a running bath."""

from __future__ import annotations

from math import pow, sqrt

from .base import MEMORY, PARTLY_FITTED, PRACTICE, STANDARD, relation
from .limits import above, at_least, between
from .phosphate import DEBYE_HUCKEL, PAIRS

# Charge, and limiting conductivity at 25 C in S cm2 per mole of charge.
IONS: dict[str, tuple[int, float]] = {
    "potassium": (1, 73.48), "sodium": (1, 50.08), "ammonium": (1, 73.5), "calcium": (2, 59.47),
    "magnesium": (2, 53.0), "nitrate": (-1, 71.42), "chloride": (-1, 76.31), "sulfate": (-2, 80.0),
    "phosphate": (-1, 36.0), "bicarbonate": (-1, 44.5),
}
STRONGEST_MOL_L = 0.11
PAIR_ROUNDS = 60
ION_SYMBOLS = {
    "potassium": ("c_{K}", "mmol/L", "Potassium"), "sodium": ("c_{Na}", "mmol/L", "Sodium"),
    "ammonium": ("c_{NH_4}", "mmol/L", "Ammonium"), "calcium": ("c_{Ca}", "mmol/L", "Calcium"),
    "magnesium": ("c_{Mg}", "mmol/L", "Magnesium"), "nitrate": ("c_{NO_3}", "mmol/L", "Nitrate"),
    "chloride": ("c_{Cl}", "mmol/L", "Chloride"), "sulfate": ("c_{SO_4}", "mmol/L", "Sulfate"),
    "phosphate": ("c_{H_2PO_4}", "mmol/L", "Phosphate, as dihydrogen phosphate"),
    "bicarbonate": ("c_{HCO_3}", "mmol/L", "Bicarbonate"),
}
BALANCE = "Conservation of mass, with conductivity taken as if it added up"


def unbounded_element(salt_g_l: float, share: float) -> float:
    """Element in mg/L from a salt in g/L, for amounts that a sum has made."""
    return 1000.0 * salt_g_l * share


@relation(
    title="Element brought by a salt", formula=r"c = 1000\,g\,f",
    result=("c", "mg/L", "Element in the solution"),
    symbols={"salt_g_l": ("g", "g/L", "Salt in the solution"), "share": ("f", "", "Mass share of the element")},
    valid="dilute solutions", source="Definition of a mass share", status=STANDARD,
    core=unbounded_element)
def element_from_salt(salt_g_l: float, share: float) -> float:
    """Element in mg/L from a salt in g/L (0 or more) and the element's mass share (0 to 1)."""
    at_least("Salt in the solution", salt_g_l, "g/L")
    between("Mass share of the element", share, 0.0, 1.0)
    return unbounded_element(salt_g_l, share)


@relation(
    title="Element behind a label's oxide", formula=r"w = w_{ox} \frac{n\,A}{n\,A + m\,A_O}",
    result=("w", "%", "Element"),
    symbols={"oxide": ("w_{ox}", "%", "Oxide by the label"), "atomic_mass": ("A", "g/mol", "Element's atomic mass"),
             "atoms": ("n", "", "Atoms of the element in the oxide"),
             "oxygen_atoms": ("m", "", "Atoms of oxygen in the oxide")},
    valid="P2O5, K2O, CaO, MgO, SO3", source="IUPAC standard atomic weights", status=STANDARD)
def element_from_oxide(oxide: float, atomic_mass: float, atoms: float, oxygen_atoms: float) -> float:
    """Element in percent from its oxide in percent (0 to 100)."""
    between("Oxide by the label", oxide, 0.0, 100.0, "%")
    above("Atomic mass", atomic_mass, "g/mol")
    above("Atoms of the element", atoms)
    above("Atoms of oxygen", oxygen_atoms)
    return oxide * atoms * atomic_mass / (atoms * atomic_mass + oxygen_atoms * 15.999)


def strength_of(ions: list[tuple[int, float, float]]) -> float:
    """Ionic strength in mol/L of (charge, limiting conductivity, mmol/L) by ion."""
    return 0.5 * sum(charge * charge * amount for charge, _, amount in ions) / 1000.0


def _each(**ions: float) -> list[tuple[int, float, float]]:
    found = []
    for name, amount in ions.items():
        at_least(f"{name.capitalize()} in the solution", amount, "mmol/L")
        charge, limit = IONS[name]
        found.append((abs(charge), limit, amount))
    return found


@relation(
    title="Ionic strength", formula=r"I = \frac{1}{2} \sum_i \frac{c_i}{1000} z_i^2",
    result=("I", "mol/L", "Ionic strength"), symbols=ION_SYMBOLS, valid="any dilute solution",
    source="Lewis & Randall (1921), definition", status=STANDARD, core=strength_of)
def ionic_strength(*, potassium: float, sodium: float, ammonium: float, calcium: float, magnesium: float,
                   nitrate: float, chloride: float, sulfate: float, phosphate: float, bicarbonate: float) -> float:
    """Ionic strength in mol/L from ions in mmol/L, each 0 or more."""
    ions = _each(potassium=potassium, sodium=sodium, ammonium=ammonium, calcium=calcium, magnesium=magnesium,
                 nitrate=nitrate, chloride=chloride, sulfate=sulfate, phosphate=phosphate, bicarbonate=bicarbonate)
    return strength_of(ions)


def unpaired(calcium: float, magnesium: float, sulfate: float, strength: float) -> tuple[float, float, float]:
    """What of calcium, magnesium and sulfate (mmol/L) is not joined in pairs, which carry no current, at 25 C.

    ``strength`` is the ionic strength in mol/L with all of them apart; it falls as they join, which is followed.
    """
    free, met = (calcium, magnesium, sulfate), -1.0
    for _ in range(PAIR_ROUNDS):
        if abs(free[2] - met) <= 1e-9:
            break
        met = free[2]
        # Each pair takes two ions of charge two out of the sum.
        now = max(strength - 4e-3 * (sulfate - met), 0.0)
        gamma = pow(10.0, -4.0 * DEBYE_HUCKEL * (sqrt(now) / (1.0 + sqrt(now)) - 0.3 * now))
        ca, mg = (1e-3 * pow(10.0, PAIRS[name][0]) * gamma * gamma for name in ("CaSO4", "MgSO4"))
        left = sulfate / (1.0 + ca * free[0] + mg * free[1])
        free = calcium / (1.0 + ca * left), magnesium / (1.0 + mg * left), left
    return free


@relation(
    title="Conductivity at 25 °C",
    formula=r"\kappa = \sum_i |z_i| c_i' \left[\lambda_i - |z_i|^{1.5} (0.2289\,\lambda_i + 30.1) "
            r"\frac{\sqrt{I}}{1 + 1.5 \sqrt{I}}\right] / 1000, \quad "
            r"[MSO_4] = K_M \gamma_2^2 [M][SO_4], \; M = Ca, Mg",
    result=(r"\kappa", "mS/cm", "Conductivity at 25 °C"), symbols=ION_SYMBOLS,
    valid="ionic strength up to 0.11 mol/L for simple salts, 0.05 for full solutions; c' is what is not paired, and "
          "of pairs those of sulfate with calcium and magnesium are counted: solutions are within 1.5 % of PHREEQC, "
          "plain magnesium sulfate 3 to 8 % low",
    source="Debye-Hückel-Onsager law (Onsager 1927), its terms for charges above one and 1.5 in the divisor fitted "
           "here; limiting conductivities of the CRC and Lange handbooks, those of nitrate, chloride, sulfate, "
           "ammonium, phosphate and bicarbonate from memory; pairs as in the data file phreeqc.dat of PHREEQC 3",
    status=PARTLY_FITTED)
def conductivity_25(*, potassium: float, sodium: float, ammonium: float, calcium: float, magnesium: float,
                    nitrate: float, chloride: float, sulfate: float, phosphate: float, bicarbonate: float) -> float:
    """Conductivity in mS/cm at 25 C from ions in mmol/L, each 0 or more; ionic strength up to 0.11 mol/L."""
    ions = _each(potassium=potassium, sodium=sodium, ammonium=ammonium, calcium=calcium, magnesium=magnesium,
                 nitrate=nitrate, chloride=chloride, sulfate=sulfate, phosphate=phosphate, bicarbonate=bicarbonate)
    strength = strength_of(ions)
    if strength > STRONGEST_MOL_L:
        between("Ionic strength", strength, 0.0, STRONGEST_MOL_L, "mol/L")
    calcium, magnesium, sulfate = unpaired(calcium, magnesium, sulfate, strength)
    ions = _each(potassium=potassium, sodium=sodium, ammonium=ammonium, calcium=calcium, magnesium=magnesium,
                 nitrate=nitrate, chloride=chloride, sulfate=sulfate, phosphate=phosphate, bicarbonate=bicarbonate)
    strength = strength_of(ions)
    drag = sqrt(strength) / (1.0 + 1.5 * sqrt(strength))
    return sum(charge * amount * (limit - pow(charge, 1.5) * (0.2289 * limit + 30.1) * drag)
               for charge, limit, amount in ions) / 1000.0


@relation(
    title="Conductivity by the rule of the cations", formula=r"\kappa = 0.095\,C + 0.19",
    result=(r"\kappa", "mS/cm", "Conductivity at 25 °C"),
    symbols={"cations": ("C", "mmol/L", "Charge of all cations")}, valid="solutions of 5 to 50 mmol/L of charge",
    source="Sonneveld and others (1999), quoted from memory", status=PRACTICE)
def conductivity_by_cations(cations: float) -> float:
    """Conductivity in mS/cm at 25 C from the charge of the cations in mmol/L (0 or more)."""
    at_least("Charge of the cations", cations, "mmol/L")
    return 0.095 * cations + 0.19


@relation(
    title="Conductivity brought to 25 °C", formula=r"\kappa_{25} = \frac{\kappa}{1 + 0.02\,(T - 25)}",
    result=(r"\kappa_{25}", "mS/cm", "Conductivity at 25 °C"),
    symbols={"conductivity_ms_cm": (r"\kappa", "mS/cm", "Conductivity as it is"),
             "temperature_c": ("T", "°C", "Temperature of the solution")},
    valid="10 to 35 °C; 1.9 to 2.2 % a degree are in use",
    source=f"usual linear compensation of meters, 2 % a degree ({MEMORY})", status=PRACTICE)
def conductivity_to_25(conductivity_ms_cm: float, temperature_c: float) -> float:
    """Conductivity in mS/cm at 25 C from one measured at 10 to 35 C without compensation."""
    at_least("Conductivity", conductivity_ms_cm, "mS/cm")
    between("Temperature of the solution", temperature_c, 10.0, 35.0, "°C")
    return conductivity_ms_cm / (1.0 + 0.02 * (temperature_c - 25.0))


@relation(
    title="A meter's ppm", formula=r"p = k\,\kappa", result=("p", "ppm", "Reading of the meter"),
    symbols={"conductivity_ms_cm": (r"\kappa", "mS/cm", "Conductivity at 25 °C"),
             "scale": ("k", "ppm per mS/cm", "Scale of the meter")},
    valid="scales of 500, 640 and 700", source=f"scales printed on meters ({MEMORY})", status=PRACTICE)
def meter_ppm(conductivity_ms_cm: float, scale: float) -> float:
    """A meter's ppm from mS/cm by its scale (above 0): a way of writing conductivity, not a weight of nutrients."""
    at_least("Conductivity", conductivity_ms_cm, "mS/cm")
    above("Scale of the meter", scale, "ppm per mS/cm")
    return scale * conductivity_ms_cm


@relation(
    title="Charge balance", formula=r"e = \frac{|C - A|}{(C + A) / 2}",
    result=("e", "", "Imbalance of the charges"),
    symbols={"cations": ("C", "mmol/L", "Charge of all cations"), "anions": ("A", "mmol/L", "Charge of all anions")},
    valid="any solution", source="Electroneutrality", status=STANDARD)
def charge_imbalance(cations: float, anions: float) -> float:
    """Difference of the charges as a share of their mean; both in mmol/L, 0 or more and not both 0."""
    at_least("Charge of the cations", cations, "mmol/L")
    at_least("Charge of the anions", anions, "mmol/L")
    above("Charge of the ions", cations + anions, "mmol/L")
    return abs(cations - anions) / ((cations + anions) / 2.0)


@relation(
    title="Concentrate to add", formula=r"D = V\,\frac{\kappa_w - \kappa}{\kappa_f}\,d",
    result=("D", "mL", "Concentrate to add, of each bottle"),
    symbols={"volume_l": ("V", "L", "Solution in the bath"),
             "reads_ms_cm": (r"\kappa", "mS/cm", "The meter reads"),
             "wanted_ms_cm": (r"\kappa_w", "mS/cm", "Wanted"),
             "full_ms_cm": (r"\kappa_f", "mS/cm", "What a full dose adds"),
             "dose_ml_l": ("d", "mL/L", "Full dose of each bottle")},
    valid="small corrections", source=BALANCE, status=STANDARD)
def concentrate_to_add(volume_l: float, reads_ms_cm: float, wanted_ms_cm: float, full_ms_cm: float,
                       dose_ml_l: float) -> float:
    """Milliliters of each concentrate that lift a bath from one conductivity to a higher one."""
    above("Solution in the bath", volume_l, "L")
    at_least("The meter's reading", reads_ms_cm, "mS/cm")
    at_least("Conductivity wanted", wanted_ms_cm, "mS/cm", reads_ms_cm)
    above("What a full dose adds", full_ms_cm, "mS/cm")
    above("Full dose", dose_ml_l, "mL/L")
    return volume_l * (wanted_ms_cm - reads_ms_cm) / full_ms_cm * dose_ml_l


@relation(
    title="Water to add", formula=r"W = V\,\frac{\kappa - \kappa_w}{\kappa_w - \kappa_0}",
    result=("W", "L", "Water to add"),
    symbols={"volume_l": ("V", "L", "Solution in the bath"), "reads_ms_cm": (r"\kappa", "mS/cm", "The meter reads"),
             "wanted_ms_cm": (r"\kappa_w", "mS/cm", "Wanted"),
             "water_ms_cm": (r"\kappa_0", "mS/cm", "Conductivity of the water")},
    valid="where the water is below what is wanted", source=BALANCE, status=STANDARD)
def water_to_add(volume_l: float, reads_ms_cm: float, wanted_ms_cm: float, water_ms_cm: float) -> float:
    """Litres of water that bring a bath down from one conductivity to a lower one."""
    above("Solution in the bath", volume_l, "L")
    at_least("Conductivity of the water", water_ms_cm, "mS/cm")
    above("Conductivity wanted", wanted_ms_cm, "mS/cm", water_ms_cm)
    at_least("The meter's reading", reads_ms_cm, "mS/cm", wanted_ms_cm)
    return volume_l * (reads_ms_cm - wanted_ms_cm) / (wanted_ms_cm - water_ms_cm)


@relation(
    title="Solution to exchange for water", formula=r"R = V\,\frac{\kappa - \kappa_w}{\kappa - \kappa_0}",
    result=("R", "L", "Solution to take out and exchange for water"),
    symbols={"volume_l": ("V", "L", "Solution in the bath"), "reads_ms_cm": (r"\kappa", "mS/cm", "The meter reads"),
             "wanted_ms_cm": (r"\kappa_w", "mS/cm", "Wanted"),
             "water_ms_cm": (r"\kappa_0", "mS/cm", "Conductivity of the water")},
    valid="where the water is below what is wanted", source=BALANCE, status=STANDARD)
def solution_to_replace(volume_l: float, reads_ms_cm: float, wanted_ms_cm: float, water_ms_cm: float) -> float:
    """Litres to take out of a bath and replace by water, to come down to a lower conductivity at the same level."""
    above("Solution in the bath", volume_l, "L")
    at_least("Conductivity of the water", water_ms_cm, "mS/cm")
    above("Conductivity wanted", wanted_ms_cm, "mS/cm", water_ms_cm)
    at_least("The meter's reading", reads_ms_cm, "mS/cm", wanted_ms_cm)
    return volume_l * (reads_ms_cm - wanted_ms_cm) / (reads_ms_cm - water_ms_cm)
