"""The carbonate system of water: which acid or base moves its pH, and where the pH settles in the air."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from math import log10, pow

from ..errors import OutOfRange
from ..numeric.bracket import narrow
from . import limits
from .base import STANDARD, relation

PLUMMER = "Plummer L.N., Busenberg E. (1982) Geochimica et Cosmochimica Acta 46:1011-1040"
STUMM = ("Closed-system carbonate equilibrium with alkalinity as the charge balance, as in Stumm W., Morgan J.J. "
         "(1996) Aquatic Chemistry, 3rd ed., chapter 4 (book named from memory; the algebra is checked against "
         "PHREEQC)")
KELVIN = 273.15
GAS_J_MOL_K, REFERENCE_K = 8.314462618, 298.15
# mg/L as calcium carbonate in one milliequivalent per litre: half of 100.0869 g/mol.
CACO3_MG_MEQ = 50.04345
ATMOSPHERE_PA = 101325.0
NITROGEN_G_MOL = 14.007
LOWEST_PH, HIGHEST_PH = 1.0, 13.0

TEMPERATURE = {"temperature_c": ("t", "°C", "water temperature")}
ALKALINITY = {"alkalinity_meq_l": ("A_0", "meq/L", "alkalinity")}
CARBON = {"carbon_mmol_l": ("C_T", "mmol/L", "all carbonate: carbon dioxide, bicarbonate and carbonate")}
PKS = {"pk1": ("pK_1", "", "first pK of the acid"), "pk2": ("pK_2", "", "second pK; 99 where there is none"),
       "pk3": ("pK_3", "", "third pK; 99 where there is none")}
CLOSED = "0 to 40 °C, dilute water, no air: carbon dioxide neither leaves nor enters; no correction for salts"
FRESH = "0 to 40 °C used here (0 to 90 °C in the paper), fresh water"
_FRACTIONS = r"f = \frac{h K_1 + 2 K_1 K_2}{h^2 + h K_1 + K_1 K_2}, \quad h = 10^{-pH}"


def _kelvin(temperature_c: float) -> float:
    limits.between("Water temperature", temperature_c, 0.0, 40.0, "°C")
    return temperature_c + KELVIN


def _ph(value: float) -> float:
    limits.between("pH", value, LOWEST_PH, HIGHEST_PH)
    return pow(10.0, -value)


@relation(title="First step of carbonic acid",
          formula=r"pK_1 = 356.3094 + 0.06091964\,T - \frac{21834.37}{T} - 126.8339 \log_{10} T + "
                  r"\frac{1684915}{T^2}, \quad T = t + 273.15",
          result=("pK_1", "", "first pK of carbonic acid"), symbols=TEMPERATURE, valid=FRESH, source=PLUMMER)
def carbonic_pk1(temperature_c: float) -> float:
    """First pK of carbonic acid, with all dissolved carbon dioxide counted as the acid."""
    t = _kelvin(temperature_c)
    return 356.3094 + 0.06091964 * t - 21834.37 / t - 126.8339 * log10(t) + 1684915.0 / t**2


@relation(title="Second step of carbonic acid",
          formula=r"pK_2 = 107.8871 + 0.03252849\,T - \frac{5151.79}{T} - 38.92561 \log_{10} T + "
                  r"\frac{563713.9}{T^2}, \quad T = t + 273.15",
          result=("pK_2", "", "second pK of carbonic acid"), symbols=TEMPERATURE, valid=FRESH, source=PLUMMER)
def carbonic_pk2(temperature_c: float) -> float:
    """Second pK of carbonic acid: bicarbonate to carbonate."""
    t = _kelvin(temperature_c)
    return 107.8871 + 0.03252849 * t - 5151.79 / t - 38.92561 * log10(t) + 563713.9 / t**2


@relation(title="Carbon dioxide that water holds",
          formula=r"pK_H = -108.3865 - 0.01985076\,T + \frac{6919.53}{T} + 40.45154 \log_{10} T - "
                  r"\frac{669365}{T^2}, \quad T = t + 273.15",
          result=("pK_H", "", "mol/L of carbon dioxide in water under one atmosphere of it, as -log10"),
          symbols=TEMPERATURE, valid="0 to 40 °C used here (0 to 90 °C in the paper), fresh water", source=PLUMMER)
def carbon_dioxide_pkh(temperature_c: float) -> float:
    """Minus the logarithm of carbon dioxide in mol/L that one atmosphere of it holds in water."""
    t = _kelvin(temperature_c)
    return -108.3865 - 0.01985076 * t + 6919.53 / t + 40.45154 * log10(t) - 669365.0 / t**2


@relation(title="Water's own ions",
          formula=r"pK_w = 283.971 + 0.05069842\,T - \frac{13323}{T} - 102.24447 \log_{10} T + "
                  r"\frac{1119669}{T^2}, \quad T = t + 273.15",
          result=("pK_w", "", "pK of water"), symbols=TEMPERATURE, valid="0 to 40 °C used here, fresh water",
          source="Nordstrom D.K. and others (1990) ACS Symposium Series 416:398-413 (citation from memory, "
                 "coefficients read in open geochemical codes)")
def water_pkw(temperature_c: float) -> float:
    """pK of water: hydrogen and hydroxide ions."""
    t = _kelvin(temperature_c)
    return 283.971 + 0.05069842 * t - 13323.0 / t - 102.24447 * log10(t) + 1119669.0 / t**2


@lru_cache(maxsize=256)
def _constants(temperature_c: float) -> tuple[float, float, float, float]:
    """K1, K2, Kw and KH at a temperature."""
    return (10.0 ** -carbonic_pk1(temperature_c=temperature_c), 10.0 ** -carbonic_pk2(temperature_c=temperature_c),
            10.0 ** -water_pkw(temperature_c=temperature_c), 10.0 ** -carbon_dioxide_pkh(temperature_c=temperature_c))


def _charge_of_carbon(h: float, k1: float, k2: float) -> float:
    """Negative charges on one carbon, between 0 and 2."""
    return (h * k1 + 2.0 * k1 * k2) / (h * h + h * k1 + k1 * k2)


@relation(title="A pK at another temperature",
          formula=r"pK = pK_{25} + \frac{\Delta H}{2.302585 R} \left(\frac{1}{T} - \frac{1}{298.15}\right)",
          result=("pK", "", "pK at the water's temperature"),
          symbols={"pk_25": ("pK_{25}", "", "pK at 25 °C"), "heat_j_mol": (r"\Delta H", "J/mol", "heat of that step"),
                   **TEMPERATURE}, valid="0 to 40 °C; the heat is taken as the same throughout",
          source="van 't Hoff equation (definition of the heat of reaction)", status=STANDARD)
def pk_at(pk_25: float, heat_j_mol: float, temperature_c: float) -> float:
    """pK of a step of an acid at a temperature, from its value at 25 °C and its heat."""
    limits.between("pK at 25 °C", pk_25, -20.0, 100.0)
    limits.between("Heat of a step", heat_j_mol, -1e5, 1e5, "J/mol")
    return pk_25 + heat_j_mol / (GAS_J_MOL_K * 2.302585092994046) * (1.0 / _kelvin(temperature_c) - 1.0 / REFERENCE_K)


@relation(title="Alkalinity as charge", formula=r"A_0 = \frac{A}{50.043}",
          result=("A_0", "meq/L", "hydrogen ions that the water can take up"),
          symbols={"alkalinity_mg_l": ("A", "mg/L", "alkalinity as calcium carbonate")}, valid="any alkalinity",
          source="Half the molar mass of calcium carbonate, 100.087 g/mol", status=STANDARD)
def alkalinity_charge(alkalinity_mg_l: float) -> float:
    """Alkalinity in meq/L from mg/L as calcium carbonate."""
    limits.at_least("Alkalinity", alkalinity_mg_l, "mg/L")
    return alkalinity_mg_l / CACO3_MG_MEQ


@relation(title="Alkalinity at a pH", formula=r"A = C_T f + \frac{K_w}{h} - h, \quad " + _FRACTIONS,
          result=("A", "meq/L", "alkalinity"), symbols={"ph": ("pH", "", "pH"), **CARBON, **TEMPERATURE}, valid=CLOSED,
          source=STUMM)
def alkalinity_closed(ph: float, carbon_mmol_l: float, temperature_c: float) -> float:
    """Alkalinity in meq/L that water with so much carbonate has at a pH."""
    h = _ph(ph)
    limits.at_least("Carbonate", carbon_mmol_l, "mmol/L")
    k1, k2, kw, _ = _constants(temperature_c)
    return carbon_mmol_l * _charge_of_carbon(h, k1, k2) + (kw / h - h) * 1e3


@relation(title="All the carbonate in the water", formula=r"C_T = \frac{A_0 - K_w/h + h}{f}, \quad " + _FRACTIONS,
          result=("C_T", "mmol/L", "carbon dioxide, bicarbonate and carbonate together"),
          symbols={**ALKALINITY, "ph": ("pH", "", "pH"), **TEMPERATURE},
          valid=CLOSED + "; the alkalinity must be at least what the pH itself means", source=STUMM)
def total_carbonate(alkalinity_meq_l: float, ph: float, temperature_c: float) -> float:
    """All carbonate in mmol/L, from alkalinity and pH measured in the same water."""
    h = _ph(ph)
    limits.between("Alkalinity", alkalinity_meq_l, -1.0, 100.0, "meq/L")
    k1, k2, kw, _ = _constants(temperature_c)
    carbon = (alkalinity_meq_l + (h - kw / h) * 1e3) / _charge_of_carbon(h, k1, k2)
    if carbon < 0.0:
        raise OutOfRange("Alkalinity must be more than the pH alone stands for: a water with so little cannot have so "
                         "high a pH.")
    return carbon


@relation(title="Acid from one pH to another", formula=r"a = A_0 - C_T f_2 - \frac{K_w}{h_2} + h_2, \quad "
          r"C_T = \frac{A_0 - K_w/h_1 + h_1}{f_1}, \quad " + _FRACTIONS,
          result=("a", "mmol/L", "hydrogen ions to add to a liter; below 0: to take away"),
          symbols={**ALKALINITY, "start_ph": ("pH_1", "", "pH now"), "target_ph": ("pH_2", "", "pH wanted"),
                   **TEMPERATURE}, valid=CLOSED, source=STUMM)
def acid_needed(alkalinity_meq_l: float, start_ph: float, target_ph: float, temperature_c: float) -> float:
    """Hydrogen ions in mmol/L that bring water from one pH to another; negative where it takes a base."""
    carbon = total_carbonate(alkalinity_meq_l=alkalinity_meq_l, ph=start_ph, temperature_c=temperature_c)
    return alkalinity_meq_l - alkalinity_closed(ph=target_ph, carbon_mmol_l=carbon, temperature_c=temperature_c)


@relation(title="Potassium carbonate to a higher pH",
          formula=r"x = \frac{C_T f_2 + K_w/h_2 - h_2 - A_0}{2 - f_2}",
          result=("x", "mmol/L", "potassium carbonate to add to a liter"),
          symbols={**ALKALINITY, "start_ph": ("pH_1", "", "pH now"), "target_ph": ("pH_2", "", "pH wanted"),
                   **TEMPERATURE}, valid=CLOSED + "; up to pH 10", source=STUMM)
def carbonate_needed(alkalinity_meq_l: float, start_ph: float, target_ph: float, temperature_c: float) -> float:
    """Potassium carbonate in mmol/L that lifts the pH: each brings two charges and one more carbon."""
    limits.between("pH wanted", target_ph, start_ph, 10.0)
    lack = -acid_needed(alkalinity_meq_l=alkalinity_meq_l, start_ph=start_ph, target_ph=target_ph,
                        temperature_c=temperature_c)
    k1, k2, _, _ = _constants(temperature_c)
    return lack / (2.0 - _charge_of_carbon(_ph(target_ph), k1, k2))


@relation(title="Hydrogen that an acid gives", formula=r"n = \frac{r_1 + 2 r_1 r_2 + 3 r_1 r_2 r_3}{1 + r_1 + r_1 "
                                                       r"r_2 + "
          r"r_1 r_2 r_3}, \quad r_i = 10^{pH - pK_i}",
          result=("n", "", "hydrogen ions that one molecule gives"), symbols={"ph": ("pH", "", "pH"), **PKS},
          valid="pH 1 to 13, dilute water", source="Law of mass action for the steps of an acid", status=STANDARD)
def hydrogen_given(ph: float, pk1: float, pk2: float, pk3: float) -> float:
    """How many hydrogen ions one molecule of an acid has given away at a pH, from 0 to 3."""
    _ph(ph)
    for value in (pk1, pk2, pk3):
        limits.between("pK", value, -20.0, 100.0)
    return _given(ph, pk1, pk2, pk3)


def _given(ph: float, pk1: float, pk2: float, pk3: float) -> float:
    one = pow(10.0, ph - pk1)
    two = one * pow(10.0, ph - pk2)
    three = two * pow(10.0, ph - pk3)
    return (one + 2.0 * two + 3.0 * three) / (1.0 + one + two + three)


@relation(title="Strength of a bottle", formula=r"c = \frac{w \rho}{M}",
          result=("c", "mol/L", "acid or base in a liter of product"),
          symbols={"mass_share": ("w", "", "share of the mass that is acid or base"),
                   "density_kg_m3": (r"\rho", "kg/m³", "density of the product"),
                   "molar_mass_g_mol": ("M", "g/mol", "molar mass")}, valid="any solution",
          source="Definition of the mole and of mass share", status=STANDARD)
def strength(mass_share: float, density_kg_m3: float, molar_mass_g_mol: float) -> float:
    """Mol of acid or base in a litre of a product."""
    limits.between("Share of the mass", mass_share, 0.0, 1.0)
    limits.above("Density", density_kg_m3, "kg/m³")
    limits.above("Molar mass", molar_mass_g_mol, "g/mol")
    return mass_share * density_kg_m3 / molar_mass_g_mol


@relation(title="Product for the water", formula=r"V = \frac{V_w \, m}{1000 \, c}",
          result=("V", "m³", "product to add"),
          symbols={"water_m3": ("V_w", "m³", "water"), "amount_mmol_l": ("m", "mmol/L", "acid or base for a liter"),
                   "strength_mol_l": ("c", "mol/L", "acid or base in a liter of product")}, valid="any amount",
          source="Conservation of mass", status=STANDARD)
def product_volume(water_m3: float, amount_mmol_l: float, strength_mol_l: float) -> float:
    """Product in m3 for so much water."""
    limits.at_least("Water", water_m3, "m³")
    limits.at_least("Acid or base for a liter", amount_mmol_l, "mmol/L")
    limits.above("Strength", strength_mol_l, "mol/L")
    return water_m3 * amount_mmol_l / (1000.0 * strength_mol_l)


@relation(title="Pure acid or base in the product", formula=r"m = V \, c \, M",
          result=("m", "kg", "pure acid or base"),
          symbols={"volume_m3": ("V", "m³", "product"),
                   "strength_mol_l": ("c", "mol/L", "acid or base in a liter of it"),
                   "molar_mass_g_mol": ("M", "g/mol", "molar mass")}, valid="any amount",
          source="Definition of the mole", status=STANDARD)
def pure_mass(volume_m3: float, strength_mol_l: float, molar_mass_g_mol: float) -> float:
    """Pure acid or base in kg that so much product holds."""
    limits.at_least("Product", volume_m3, "m³")
    limits.above("Strength", strength_mol_l, "mol/L")
    limits.above("Molar mass", molar_mass_g_mol, "g/mol")
    return volume_m3 * strength_mol_l * molar_mass_g_mol


@relation(title="Nitrogen that plants take up in a day", formula=r"n = \frac{10^6 \, N u}{14.007 \, V}",
          result=("n", "mmol/L", "nitrogen out of each liter in a day"),
          symbols={"plants": ("N", "", "plants"),
                   "uptake_kg_d": ("u", "kg/d", "nitrogen that one plant takes in a day"),
                   "water_l": ("V", "L", "all the water")}, valid="well-mixed water",
          source="Conservation of mass; IUPAC atomic mass of nitrogen, 14.007 g/mol", status=STANDARD)
def nitrogen_taken(plants: float, uptake_kg_d: float, water_l: float) -> float:
    """Nitrogen in mmol that all plants take out of a litre in a day."""
    limits.at_least("Plants", plants)
    limits.at_least("Nitrogen that a plant takes", uptake_kg_d, "kg/d")
    limits.above("Water", water_l, "L")
    return plants * uptake_kg_d * 1e6 / NITROGEN_G_MOL / water_l


@relation(title="Alkalinity that roots give for nitrogen", formula=r"a = n \left[ (1 - s) \, o - s \, h \right]",
          result=("a", "meq/L", "alkalinity gained in a day; below 0: lost"),
          symbols={"nitrogen_mmol_l": ("n", "mmol/L", "nitrogen taken up from a liter"),
                   "ammonium_share": ("s", "0 to 1", "share of it taken as ammonium"),
                   "hydroxide_per_nitrate": ("o", "", "hydroxide given off for a nitrate"),
                   "hydrogen_per_ammonium": ("h", "", "hydrogen given off for an ammonium")},
          valid="the two ratios are the weak point, and differ by plant",
          source="Balance of charge. Ratios after Raven J.A., Smith F.A. (1976) New Phytologist 76:415-431 "
                 "(citation from memory)", status=STANDARD)
def alkalinity_from_roots(nitrogen_mmol_l: float, ammonium_share: float, hydroxide_per_nitrate: float,
                          hydrogen_per_ammonium: float) -> float:
    """Alkalinity in meq/L that taking up nitrogen leaves in the water; negative where ammonium outweighs."""
    limits.at_least("Nitrogen taken up", nitrogen_mmol_l, "mmol/L")
    limits.between("Share taken as ammonium", ammonium_share, 0.0, 1.0)
    limits.between("Hydroxide for a nitrate", hydroxide_per_nitrate, 0.0, 2.0)
    limits.between("Hydrogen for an ammonium", hydrogen_per_ammonium, 0.0, 2.0)
    return nitrogen_mmol_l * ((1.0 - ammonium_share) * hydroxide_per_nitrate - ammonium_share * hydrogen_per_ammonium)


@relation(title="Element that it brings", formula=r"b = m \, k \, M_e", result=("b", "mg/L", "element in the water"),
          symbols={"amount_mmol_l": ("m", "mmol/L", "acid or base in a liter of water"),
                   "atoms": ("k", "", "atoms of the element in one molecule"),
                   "atomic_mass_g_mol": ("M_e", "g/mol", "atomic mass of the element")}, valid="any amount",
          source="Conservation of mass; IUPAC atomic masses", status=STANDARD)
def element_brought(amount_mmol_l: float, atoms: float, atomic_mass_g_mol: float) -> float:
    """Nutrient in mg/L that an acid or a base leaves in the water."""
    limits.at_least("Acid or base for a liter", amount_mmol_l, "mmol/L")
    limits.at_least("Atoms", atoms)
    limits.above("Atomic mass", atomic_mass_g_mol, "g/mol")
    return amount_mmol_l * atoms * atomic_mass_g_mol


def _solved(spare: Callable[[float], float], what: str) -> float:
    """The pH at which a charge balance that falls with pH is nought; OutOfRange outside pH 1 to 13."""
    low, high = spare(LOWEST_PH), spare(HIGHEST_PH)
    if not (low > 0.0 >= high):
        raise OutOfRange(f"{what} is outside pH 1 to 13, where this water chemistry ends.")
    found = narrow(spare, LOWEST_PH, HIGHEST_PH, low, high, 1e-12)
    return 0.5 * (found[0] + found[1])


@relation(title="pH with an acid in it, closed to the air",
          formula=r"C_T f + \frac{K_w}{h} - h = A_0 - m \, n(pH)", result=("pH", "", "pH"),
          symbols={**ALKALINITY, **CARBON, "acid_mmol_l": ("m", "mmol/L", "acid added"), **PKS, **TEMPERATURE},
          valid=CLOSED, source=STUMM)
def ph_closed(alkalinity_meq_l: float, carbon_mmol_l: float, acid_mmol_l: float, pk1: float, pk2: float, pk3: float,
              temperature_c: float) -> float:
    """pH of water after an acid is mixed in, before any carbon dioxide has left."""
    limits.between("Alkalinity", alkalinity_meq_l, -1000.0, 1000.0, "meq/L")
    limits.between("Carbonate", carbon_mmol_l, 0.0, 1000.0, "mmol/L")
    limits.between("Acid", acid_mmol_l, 0.0, 1000.0, "mmol/L")
    hydrogen_given(7.0, pk1, pk2, pk3)
    k1, k2, kw, _ = _constants(temperature_c)

    def spare(ph: float) -> float:
        h = pow(10.0, -ph)
        return (alkalinity_meq_l - acid_mmol_l * _given(ph, pk1, pk2, pk3)
                - carbon_mmol_l * _charge_of_carbon(h, k1, k2) - (kw / h - h) * 1e3)
    return _solved(spare, "The pH")


@relation(title="pH with an acid in it, settled with the air",
          formula=r"1000 K_H p \left(\frac{K_1}{h} + \frac{2 K_1 K_2}{h^2}\right) + \frac{K_w}{h} - h = A_0 - m \, "
                  r"n(pH)",
          result=("pH", "", "pH"),
          symbols={**ALKALINITY, "acid_mmol_l": ("m", "mmol/L", "acid added"), **PKS,
                   "co2_atm": ("p", "atm", "carbon dioxide in the air"), **TEMPERATURE},
          valid="0 to 40 °C, dilute water that has stood or bubbled until no more carbon dioxide leaves or enters, "
                "nothing settles out; no correction for salts", source=f"{STUMM}; constants of {PLUMMER}")
def ph_in_air(alkalinity_meq_l: float, acid_mmol_l: float, pk1: float, pk2: float, pk3: float, co2_atm: float,
              temperature_c: float) -> float:
    """pH of water once its carbon dioxide is in balance with the air."""
    limits.between("Alkalinity", alkalinity_meq_l, -1000.0, 1000.0, "meq/L")
    limits.between("Acid", acid_mmol_l, 0.0, 1000.0, "mmol/L")
    limits.between("Carbon dioxide in the air", co2_atm, 1e-6, 1.0, "atm")
    hydrogen_given(7.0, pk1, pk2, pk3)
    constants = _constants(temperature_c)

    def spare(ph: float) -> float:
        return (alkalinity_meq_l - acid_mmol_l * _given(ph, pk1, pk2, pk3)
                - _in_air(10.0 ** -ph, co2_atm, *constants))
    return _solved(spare, "The pH in the air")


@relation(title="Alkalinity of water settled with the air",
          formula=r"A = 1000 K_H p \left(\frac{K_1}{h} + \frac{2 K_1 K_2}{h^2}\right) + 1000 \left(\frac{K_w}{h} - "
                  r"h\right)",
          result=("A", "meq/L", "alkalinity"),
          symbols={"ph": ("pH", "", "pH"), "co2_atm": ("p", "atm", "carbon dioxide in the air"), **TEMPERATURE},
          valid="0 to 40 °C, dilute water in balance with the air", source=f"{STUMM}; constants of {PLUMMER}")
def alkalinity_in_air(ph: float, co2_atm: float, temperature_c: float) -> float:
    """Alkalinity in meq/L that water has at a pH once its carbon dioxide is in balance with the air."""
    h = _ph(ph)
    limits.between("Carbon dioxide in the air", co2_atm, 1e-6, 1.0, "atm")
    return _in_air(h, co2_atm, *_constants(temperature_c))


def _in_air(h: float, co2_atm: float, k1: float, k2: float, kw: float, kh: float) -> float:
    return 1e3 * (kh * co2_atm * (k1 / h + 2.0 * k1 * k2 / (h * h)) + kw / h - h)
