"""Phosphate in a nutrient solution: how it holds the pH of a running bath, and when it falls out with calcium."""

from __future__ import annotations

from functools import lru_cache
from math import log10, pow, sqrt

from . import limits
from .acidity import PLUMMER, STUMM, TEMPERATURE, alkalinity_in_air, pk_at
from .base import relation

# Steps of phosphoric acid at 25 C and their heats in J/mol, as in the data of acids.
PKS_25 = (2.148, 7.198, 12.35)
HEATS_J_MOL = (-8000.0, 3600.0, 16000.0)
# Pairs of ions: log10 of the constant at 25 C, heat in J/mol.
PAIRS = {"CaHPO4": (2.739, 13807.0), "CaH2PO4": (1.408, 14226.0), "MgHPO4": (2.87, 13807.0),
         "MgH2PO4": (1.513, 14226.0), "CaSO4": (2.25, 5544.0), "MgSO4": (2.37, 19037.0)}
BRUSHITE_PK = 6.62
DEBYE_HUCKEL = 0.509
MOST_ROUNDS, CLOSE = 200, 1e-12
PAIR_SOURCE = ("constants of ion pairs as in the data file phreeqc.dat of PHREEQC 3 (US Geological Survey); activities "
               "by Davies C.W. (1962) Ion Association, Butterworths (book named from memory; the equation is checked "
               "against PHREEQC)")
BRUSHITE_SOURCE = ("solubility product of 10 to the power of -6.62 at 25 °C, from the data file minteq.v4.dat of "
                   f"PHREEQC 3 (-18.995 and 12.375 for the step to hydrogen phosphate); {PAIR_SOURCE}")
SALTS = {"ph": ("pH", "", "pH"), "calcium_mmol_l": ("Ca", "mmol/L", "calcium"),
         "magnesium_mmol_l": ("Mg", "mmol/L", "magnesium"), "phosphate_mmol_l": ("P", "mmol/L", "phosphate"),
         "sulfate_mmol_l": ("S", "mmol/L", "sulfate"), "ionic_strength_mol_l": ("I", "mol/L", "ionic strength"),
         **TEMPERATURE}
VALID = "0 to 40 °C, pH 3 to 10, ionic strength up to 0.1 mol/L"


def _gamma(charge: int, ionic_strength: float) -> float:
    """Activity coefficient of an ion by the Davies equation."""
    root = sqrt(ionic_strength)
    return pow(10.0, -DEBYE_HUCKEL * charge * charge * (root / (1.0 + root) - 0.3 * ionic_strength))


@lru_cache(maxsize=512)
def _shares(ph: float, calcium: float, magnesium: float, phosphate: float, sulfate: float, ionic_strength: float,
            temperature_c: float) -> tuple[float, float, float]:
    """Free calcium and hydrogen phosphate in mol/L, and the hydrogen ions that one phosphate has given."""
    limits.between("pH", ph, 3.0, 10.0)
    for name, amount in (("Calcium", calcium), ("Magnesium", magnesium), ("Phosphate", phosphate),
                         ("Sulfate", sulfate)):
        limits.between(name, amount, 0.0, 100.0, "mmol/L")
    limits.between("Ionic strength", ionic_strength, 0.0, 0.1, "mol/L")
    one, two, three = (_gamma(charge, ionic_strength) for charge in (1, 2, 3))
    h = 10.0 ** -ph
    k1, k2, k3 = (10.0 ** -pk_at(pk_25=pk, heat_j_mol=heat, temperature_c=temperature_c)
                  for pk, heat in zip(PKS_25, HEATS_J_MOL, strict=True))
    # From activity of hydrogen to amounts: each species beside one dihydrogen phosphate.
    acid, hydrogen, bare = h * one / k1, k2 * one / (h * two), k2 * k3 * one / (h * h * three)
    k = {name: 10.0 ** -pk_at(pk_25=-log_k, heat_j_mol=-heat, temperature_c=temperature_c)
         for name, (log_k, heat) in PAIRS.items()}
    with_two, with_one = two * two, two
    ca, mg, s = calcium * 1e-3, magnesium * 1e-3, sulfate * 1e-3
    for _ in range(MOST_ROUNDS):
        before = ca, mg, s
        pairs_two = (k["CaHPO4"] * ca + k["MgHPO4"] * mg) * with_two * hydrogen
        # A pair of charge one for one of charge two and one of charge one: the ones cancel.
        pairs_one = (k["CaH2PO4"] * ca + k["MgH2PO4"] * mg) * with_one
        dihydrogen = phosphate * 1e-3 / (1.0 + acid + hydrogen + bare + pairs_two + pairs_one)
        s = sulfate * 1e-3 / (1.0 + (k["CaSO4"] * ca + k["MgSO4"] * mg) * with_two)
        ca = calcium * 1e-3 / (1.0 + dihydrogen * (k["CaHPO4"] * with_two * hydrogen + k["CaH2PO4"] * with_one)
                               + k["CaSO4"] * s * with_two)
        mg = magnesium * 1e-3 / (1.0 + dihydrogen * (k["MgHPO4"] * with_two * hydrogen + k["MgH2PO4"] * with_one)
                                 + k["MgSO4"] * s * with_two)
        if all(abs(now - then) <= CLOSE for now, then in zip((ca, mg, s), before, strict=True)):
            break
    pairs_two = (k["CaHPO4"] * ca + k["MgHPO4"] * mg) * with_two * hydrogen
    pairs_one = (k["CaH2PO4"] * ca + k["MgH2PO4"] * mg) * with_one
    parts = 1.0 + acid + hydrogen + bare + pairs_two + pairs_one
    given = (1.0 + pairs_one + 2.0 * (hydrogen + pairs_two) + 3.0 * bare) / parts
    return ca, phosphate * 1e-3 * hydrogen / parts, given


@relation(title="Hydrogen that phosphate has given in a nutrient solution",
          formula=r"n = \frac{[H_2PO_4] + 2 [HPO_4] + 3 [PO_4]}{P}, \quad \log_{10} \gamma_z = -0.509 z^2 "
                  r"\left(\frac{\sqrt{I}}{1 + \sqrt{I}} - 0.3 I\right)",
          result=("n", "", "hydrogen ions that one phosphate has given, pairs with calcium and magnesium counted"),
          symbols=SALTS, valid=VALID, source=PAIR_SOURCE)
def phosphate_given(ph: float, calcium_mmol_l: float, magnesium_mmol_l: float, phosphate_mmol_l: float,
                    sulfate_mmol_l: float, ionic_strength_mol_l: float, temperature_c: float) -> float:
    """Hydrogen ions, 0 to 3, that one phosphate has given at a pH among the salts of a nutrient solution."""
    return _shares(ph, calcium_mmol_l, magnesium_mmol_l, phosphate_mmol_l, sulfate_mmol_l, ionic_strength_mol_l,
                   temperature_c)[2]


@relation(title="How near calcium phosphate is to falling out",
          formula=r"SI = \log_{10} \left(\gamma_2^2 [Ca] [HPO_4]\right) + 6.62",
          result=("SI", "", "saturation index of dicalcium phosphate dihydrate; above 0 it can fall out"),
          symbols=SALTS, valid=f"{VALID}; the product of 25 °C at every temperature", source=BRUSHITE_SOURCE)
def dicalcium_phosphate_index(ph: float, calcium_mmol_l: float, magnesium_mmol_l: float, phosphate_mmol_l: float,
                              sulfate_mmol_l: float, ionic_strength_mol_l: float, temperature_c: float) -> float:
    """Saturation index of dicalcium phosphate dihydrate; OutOfRange without calcium or phosphate."""
    limits.above("Calcium", calcium_mmol_l, "mmol/L")
    limits.above("Phosphate", phosphate_mmol_l, "mmol/L")
    calcium, hydrogen, _ = _shares(ph, calcium_mmol_l, magnesium_mmol_l, phosphate_mmol_l, sulfate_mmol_l,
                                   ionic_strength_mol_l, temperature_c)
    return log10(_gamma(2, ionic_strength_mol_l) ** 2 * calcium * hydrogen) + BRUSHITE_PK


@relation(title="Acid for a running bath",
          formula=r"a = A(pH_1) - A(pH_2) + P (n_1 - n_2)",
          result=("a", "mmol/L", "hydrogen ions to add to a liter; below 0: to take away"),
          symbols={"start_ph": ("pH_1", "", "pH now"), "target_ph": ("pH_2", "", "pH wanted"),
                   "phosphate_mmol_l": ("P", "mmol/L", "phosphate in the bath"),
                   "given_now": ("n_1", "", "hydrogen ions that one phosphate has given at the pH now"),
                   "given_then": ("n_2", "", "the same at the pH wanted"),
                   "co2_atm": ("p", "atm", "carbon dioxide in the air"), **TEMPERATURE},
          valid="0 to 40 °C; A is the alkalinity of water settled with the air; a bath whose carbon dioxide is in "
                "balance with the air before and after, whose buffers are carbonate and phosphate",
          source=f"{STUMM}, for water open to the air; constants of {PLUMMER}")
def running_bath_acid(start_ph: float, target_ph: float, phosphate_mmol_l: float, given_now: float, given_then: float,
                      co2_atm: float, temperature_c: float) -> float:
    """Hydrogen ions in mmol/L that bring a bath open to the air from one pH to another; negative: it takes a base."""
    limits.between("Phosphate", phosphate_mmol_l, 0.0, 100.0, "mmol/L")
    limits.between("Hydrogen given now", given_now, 0.0, 3.0)
    limits.between("Hydrogen given then", given_then, 0.0, 3.0)
    return (alkalinity_in_air(ph=start_ph, co2_atm=co2_atm, temperature_c=temperature_c)
            - alkalinity_in_air(ph=target_ph, co2_atm=co2_atm, temperature_c=temperature_c)
            + phosphate_mmol_l * (given_now - given_then))
