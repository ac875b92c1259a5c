"""The pH of a bath that runs: acid or base by a jug test, or by what holds the pH of the solution itself."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ...data import acids as data
from ...errors import Unanswered
from ...models import recipe
from ...relations import acidity as water_physics
from ...relations import feed as feed_physics
from ...relations import phosphate as physics
from .. import acidity
from .reading import (
    FIRST_SHARE,
    HIGHEST_EC,
    JUDGMENT,
    LEFT_OF_PHOSPHATE,
    LIKELY_PH,
    NEAR_PH,
    STEP_PH,
    SURE_PH,
    co2_atm,
    doubts,
    holds,
    phosphate,
    recipe_of,
    strength_share,
    target_ph,
    temperature,
    volume,
)

if TYPE_CHECKING:
    from ...sheet import Sheet

# Hydrogen ions in a litre of the strongest acid that is sold (sulfuric, 98 %), for a label that says nothing.
STRONGEST_MOL_L = 36.7
RULE = (f"A quarter of it all, and never more than moves the pH by {STEP_PH:g} in a bath that has kept only a tenth of "
        f"its phosphate: {JUDGMENT}.")


@dataclass(frozen=True)
class Solution:
    """What the bath is for its pH: water in m3, temperature in C, carbon dioxide in atm."""

    water_m3: float
    temperature_c: float
    co2: float

    def hydrogen(self, start: float, target: float, phosphate_mmol_l: float) -> dict[str, float]:
        """The arguments of the relation, for phosphate in dilute water."""
        pks = [water_physics.pk_at(pk_25=pk, heat_j_mol=heat, temperature_c=self.temperature_c)
               for pk, heat in zip(physics.PKS_25, physics.HEATS_J_MOL, strict=True)]
        return {"start_ph": start, "target_ph": target, "phosphate_mmol_l": phosphate_mmol_l,
                "given_now": water_physics.hydrogen_given(start, *pks),
                "given_then": water_physics.hydrogen_given(target, *pks), "co2_atm": self.co2,
                "temperature_c": self.temperature_c}

    def pour(self, product: acidity.Pourable, start: float, target: float, phosphate_mmol_l: float) -> float:
        """Acid (or base) in m3 that takes the bath from one pH to another."""
        return self.volume(product, target, physics.running_bath_acid(
            **self.hydrogen(start, target, phosphate_mmol_l)))

    def volume(self, product: acidity.Pourable, target: float, hydrogen_mmol_l: float) -> float:
        """Product in m3 that gives (or, below 0, takes) so much hydrogen at the pH aimed at."""
        each = (water_physics.hydrogen_given(target, *product.pks) if hydrogen_mmol_l >= 0.0 else product.atoms)
        return water_physics.product_volume(water_m3=self.water_m3, amount_mmol_l=abs(hydrogen_mmol_l) / each,
                                            strength_mol_l=product.strength)


def _solution(sheet: Sheet, water_m3: float) -> Solution:
    return Solution(water_m3, temperature(sheet), co2_atm(sheet))


def acid_if_any(sheet: Sheet) -> acidity.Pourable | None:
    """The plan's acid; ``None`` where its strength is missing or cannot be read."""
    try:
        return acidity.acid_at(sheet, temperature(sheet))
    except Unanswered:
        return None


def _strongest(sheet: Sheet) -> acidity.Pourable:
    """The plan's acid at the highest strength that it is sold at, for a ceiling where the label is not known."""
    name = sheet.input_if_any("acidity.acid", str)
    if name not in data.ACIDS:
        return acidity.Pourable(data.OTHER_WORDS, STRONGEST_MOL_L, data.STRONG, "", 0, None, True)
    one = data.ACIDS[name]
    strength = water_physics.strength(mass_share=one.most_share, density_kg_m3=one.density(one.most_share),
                                      molar_mass_g_mol=one.molar_mass)
    return acidity.Pourable(one.words, strength, one.pks, one.element, one.atoms, one.molar_mass, True)


def _jug(sheet: Sheet) -> tuple[float, float] | None:
    """Bath water and acid of the jug test in m3; raises Unanswered for half a test."""
    water, poured = sheet.optional("today.jug_volume"), sheet.optional("today.jug_acid")
    if water is None and poured is None:
        return None
    if water is None or poured is None:
        raise Unanswered("today.jug_volume" if water is None else "today.jug_acid")
    if poured > 0.2 * water:
        sheet.fault("today.jug_acid", "Jug test: acid that brought it there must be less than a fifth of the jug; "
                    "check drops and mL.")
    return water, poured


def dose(sheet: Sheet) -> None:
    """Acid or base for the pH, the first pour of it, and how sure that is."""
    ph, jug = sheet.optional("today.ph"), _jug(sheet)
    if (ph is None and jug is None) or {one.about for one in doubts(sheet)} & {"ph", "ec"}:
        return
    target = target_ph(sheet)
    sheet.put("today.ph_aim", target, note="As you put it in." if sheet.optional("today.ph_target") is not None
              else "The pH you want, under pH; or the middle of what your crops like.")
    if ph is not None and abs(ph - target) <= NEAR_PH:
        sheet.put("today.acid", 0.0, note="The bath is where you want it.")
        sheet.put("today.first_pour", 0.0, note="The bath is where you want it.")
        return
    if jug is not None:
        _by_jug(sheet, jug, ph, target, ph is not None and ph < target)
    elif ph is not None and ph < target:
        _raise(sheet, ph, target)
    elif ph is not None:
        _lower(sheet, ph, target)


def _by_jug(sheet: Sheet, jug: tuple[float, float], ph: float | None, target: float, up: bool) -> None:
    whole = jug[1] * volume(sheet) / jug[0]
    sheet.put("today.product", "the pH-up of your jug test" if up else "the acid of your jug test",
              note="The same bottle, thinned no more and no less than in the test.")
    if up:
        sheet.put("today.acid", 0.0, note="The pH has to go up, which takes no acid.")
    sheet.put("today.base" if up else "today.acid", whole, note="What the jug took, times the water of the bath over "
              "the water of the jug. If you counted drops, 20 of them are taken for a mL: count yours.")
    share = FIRST_SHARE if ph is None else min(FIRST_SHARE, STEP_PH / abs(ph - target))
    _first(sheet, whole * share)


def _first(sheet: Sheet, poured: float) -> None:
    """The first pour, cut down to what is safe in the least water that may be there."""
    typed, most = sheet.optional("today.volume"), holds(sheet)
    if typed is not None and most is not None and typed > most:
        poured *= most / typed
    sheet.put("today.first_pour", poured, note=RULE)


def _lower(sheet: Sheet, ph: float, target: float) -> None:
    amount, product = phosphate(sheet), acid_if_any(sheet)
    if amount is None or product is None or ph > SURE_PH:
        return
    solution = _solution(sheet, volume(sheet))
    sheet.put("today.phosphate", amount, note="Phosphorus of your recipe without acid, over 30.974 g/mol, times the "
              "share of the recipe that the EC shows. Plants eat it first, so there may be less.")
    sheet.put("today.product", product.words, note="The acid chosen under pH.")
    needed = sheet.work("today.hydrogen", physics.running_bath_acid, **solution.hydrogen(ph, target, amount))
    whole = solution.volume(product, target, needed)
    sheet.put("today.acid", whole, relation=water_physics.product_volume, inputs={
        "water_m3": solution.water_m3, "amount_mmol_l": needed / water_physics.hydrogen_given(target, *product.pks),
        "strength_mol_l": product.strength},
        note="Hydrogen ions over what one molecule gives at the pH aimed at. Dilute water is assumed, the careful "
             "side; roots' breath that has not left the water is not counted.")
    few = amount * LEFT_OF_PHOSPHATE
    sheet.put("today.acid_low", solution.pour(product, ph, target, few),
              note="The same sum with a tenth of the phosphate.")
    sheet.put("today.acid_high", solution.volume(product, target, _among_salts(sheet, solution, ph, target, amount)),
              note="The same sum with the activities of the ions, and their pairs with calcium and magnesium.",
              source=physics.PAIR_SOURCE)
    step = max(target, ph - STEP_PH)
    _first(sheet, min(FIRST_SHARE * whole, solution.pour(product, ph, step, few)))


def _among_salts(sheet: Sheet, solution: Solution, ph: float, target: float, amount: float) -> float:
    """Hydrogen ions in mmol/L with the salts of the recipe counted."""
    known = recipe_of(sheet)
    share = strength_share(sheet, known)
    ions = {name: value * share for name, value in recipe.charges(known.fit.reached).items()}
    salts = {"calcium_mmol_l": ions["calcium"], "magnesium_mmol_l": ions["magnesium"], "phosphate_mmol_l": amount,
             "sulfate_mmol_l": ions["sulfate"], "ionic_strength_mol_l": feed_physics.ionic_strength(**ions),
             "temperature_c": solution.temperature_c}
    return physics.running_bath_acid(**{**solution.hydrogen(ph, target, amount),
                                        "given_now": physics.phosphate_given(ph, **salts),
                                        "given_then": physics.phosphate_given(target, **salts)})


def _raise(sheet: Sheet, ph: float, target: float) -> None:
    sheet.put("today.acid", 0.0, note="The pH has to go up, which takes no acid.")
    amount = phosphate(sheet)
    if amount is None:
        return
    product, solution = acidity.base_of(sheet), _solution(sheet, volume(sheet))
    sheet.put("today.product", product.words, note="The pH-up chosen under pH.")
    sheet.put("today.phosphate", amount, note="Phosphorus of your recipe without acid, times the share of the recipe "
              "that the EC shows.")
    needed = sheet.work("today.hydrogen", physics.running_bath_acid, **solution.hydrogen(ph, target, amount))
    whole = solution.volume(product, target, needed)
    sheet.put("today.base", whole, note="Hydrogen ions to take away, over the charges of one molecule. It goes on "
              "rising for a day as carbon dioxide leaves.", source=data.BASES[sheet.text("acidity.base")].source)
    step = min(target, ph + STEP_PH)
    _first(sheet, min(FIRST_SHARE * whole, solution.pour(product, ph, step, amount * LEFT_OF_PHOSPHATE)))


def checks(sheet: Sheet) -> None:
    """Where a reading or a label is in doubt: the most to pour, and why; where the phosphate is not known: the jug."""
    ph, jug = sheet.optional("today.ph"), _jug(sheet)
    if ph is None and jug is None and sheet.optional("today.ec") is None:
        return
    found = [one.words for one in doubts(sheet)]
    lowering = ph is not None and ph > target_ph(sheet) + NEAR_PH
    strengthless = lowering and jug is None and acid_if_any(sheet) is None
    if strengthless:
        found.append("The strength of your acid is not known: put it in under pH, or make the jug test.")
    if found:
        sheet.put("today.ceiling_why", " ".join(found), note="Readings outside what a bath can have.")
        _ceiling(sheet, ph, strengthless)


def _ceiling(sheet: Sheet, ph: float | None, strengthless: bool) -> None:
    """What takes the least water that may be there down by one step to the aim, with next to no phosphate in it."""
    target, typed, most = target_ph(sheet), sheet.optional("today.volume"), holds(sheet)
    first = sheet.result_if_any("today.first_pour")
    if first is not None:
        sheet.put("today.ceiling", first, note=f"The first pour, in the least water that may be there. {RULE}")
        return
    if ph is None or ph <= target + NEAR_PH:
        sheet.put("today.ceiling", 0.0, note="Nothing says that the pH must go down.")
        return
    product = None if strengthless else acid_if_any(sheet)
    sizes = [size for size in (typed, most) if size is not None]
    if not sizes:
        raise Unanswered("today.volume")
    known = phosphate(sheet) if (sheet.optional("today.ec") or 0.0) <= HIGHEST_EC else None
    solution = _solution(sheet, min(sizes))
    start = min(target + STEP_PH, LIKELY_PH[1])
    sheet.put("today.ceiling", solution.pour(product or _strongest(sheet), start, target,
                                             (known or 0.0) * LEFT_OF_PHOSPHATE),
              note=f"From pH {start:g} to {target:g} with a tenth of the phosphate, in the least water that may be "
                   f"there, with the strongest product where the label is not known: {JUDGMENT}.")
