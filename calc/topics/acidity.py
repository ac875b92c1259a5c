"""The acid or base that brings water to the pH that roots want, what it brings along, and where the pH goes next."""

from __future__ import annotations

from dataclasses import dataclass
from math import pow
from typing import TYPE_CHECKING

from .. import units
from ..data import acids as data
from ..declare import Choice, Field, Result, Row, Verdict
from ..relations import acidity as physics
from . import blending
from .verdicts.acidity import MUCH_CHLORIDE, MUCH_PHOSPHORUS, judge

if TYPE_CHECKING:
    from ..sheet import Sheet

NAME = "acidity"
TITLE = "pH"
QUESTION = "How much acid brings fresh water to the pH that roots need, and will it stay there?"
VERDICT = Verdict("pH", {"fits": "The pH can be set.", "tight": "The pH has a catch.",
                         "open": "The pH needs an answer."})

PERCENT, MOLAR = "percent", "molar"
ACIDS = tuple(Choice(key, acid.words) for key, acid in data.ACIDS.items())

FIELDS = (
    Field("acidity.alkalinity", "alkalinity", "Alkalinity of your water", ("60 mg/L", "60 mg/L"), 0.0, 600.0,
          "mg/L", "mg/L",
          help="as CaCO3: a water company's report or an aquarium test kit",
          why="an invented, fairly soft tap water; pH alone does not say how much acid it takes, so look yours up"),
    Field("acidity.start_ph", "number", "pH of that water", ("7.5", "7.5"), 4.0, 10.5,
          help="measured in the same water, fresh from the tap", why="an invented, fairly soft tap water"),
    Field("acidity.target_ph", "number", "pH you want", ("5.8", "5.8"), 4.5, 8.5,
          help="5.5 to 6.5 suits a mixed raft",
          why="5.5 to 6.5 is what raft growers keep (Cornell lettuce handbook, from memory, not verified)"),
    Field("acidity.water_volume", "volume", "Water to treat", ("", ""), 1e-4, 1000.0, "gal", "L", optional=True,
          help="leave empty for all the working water"),
    Field("acidity.acid", "choice", "Acid", ("phosphoric", "phosphoric"), choices=(
        *ACIDS, Choice(data.OTHER, data.OTHER_WORDS)),
        help="what the label of your pH-down says it is made of",
        why="dilute phosphoric acid is the mildest of the lasting ones; it brings phosphorus, which plants use"),
    Field("acidity.strength_by", "choice", "Its strength is given as", (PERCENT, PERCENT), choices=(
        Choice(PERCENT, "percent by mass"), Choice(MOLAR, "mol in a liter")),
        help="for another product: mol of hydrogen ions in a liter", why="most labels say percent"),
    Field("acidity.strength_percent", "ratio", "Percent on the label", ("10 %", "10 %"), 1e-4, 1.0, "%", "%",
          when=(("acidity.strength_by", (PERCENT,)),), help="mass of pure acid in the product",
          why="engineering judgment: a dilute product; start no stronger"),
    Field("acidity.density", "density", "Its density, on the label", ("", ""), 900.0, 2000.0, "kg/m3", "kg/m3",
          optional=True, when=(("acidity.strength_by", (PERCENT,)),),
          help="1.05 kg/L is 1050; empty: from a table"),
    Field("acidity.strength_molar", "molarity", "Mol in a liter", ("1 mol/L", "1 mol/L"), 0.1, 20000.0,
          "mol/L", "mol/L",
          when=(("acidity.strength_by", (MOLAR,)),), help="of the acid; or of hydrogen ions for another product",
          why="engineering judgment: a dilute laboratory strength"),
    Field("acidity.base", "choice", "If the pH must go up", ("carbonate", "carbonate"), choices=tuple(
        Choice(key, base.words) for key, base in data.BASES.items()),
        help="only used when the pH you want is above the pH you have",
        why="potassium carbonate is the milder of the two, and lasts longer"),
    Field("acidity.base_percent", "ratio", "pH-up, percent by mass", ("10 %", "10 %"), 1e-4, 0.5, "%", "%",
          help="mass of pure base in the solution", why="engineering judgment: a dilute solution; start no stronger"),
    Field("acidity.air_co2", "number", "Carbon dioxide in air, ppm", ("420", "420"), 200.0, 5000.0,
          help="about 420 outdoors, 600 to 1500 in a closed room", why=data.AIR_CO2_SOURCE),
    Field("acidity.nitrogen_uptake", "mass", "Nitrogen a plant eats a day", ("20 mg", "20 mg"), 0.0, 0.01,
          "mg", "mg", help="only for how the pH drifts as plants eat",
          why="a head of lettuce near harvest: engineering judgment, no source"),
    Field("acidity.ammonium_share", "ratio", "Ammonium, of the nitrogen", ("", ""), 0.0, 1.0,
          "%", "%", help="nitrate is the rest; 5 to 10 % is usual", why="empty: your fertilizer's", optional=True),
    *blending.FIELDS,
)
TABLES = ()

RESULTS = (
    *blending.RESULTS,
    Result("acidity.water_kind", "text", "What your water is like"),
    Result("acidity.alkalinity_charge", "molarity", "Acid that its alkalinity takes, in all"),
    Result("acidity.carbon", "molarity", "All carbonate in the water"),
    Result("acidity.water", "volume", "Water treated, all of it", "gal", "L"),
    Result("acidity.acid_needed", "molarity", "Hydrogen ions to add to a liter"),
    Result("acidity.base_needed", "molarity", "Hydrogen ions to take from a liter"),
    Result("acidity.product", "text", "What to pour"),
    Result("acidity.strength", "molarity", "Its strength", "mol/L", "mol/L"),
    Result("acidity.given", "number", "Hydrogen ions that one molecule gives or takes"),
    Result("acidity.volume", "volume", "First dose, for all the water", "mL", "mL",
           help="poured in halves, with a wait and a measurement between"),
    Result("acidity.pure_mass", "mass", "Pure acid or base in that dose", "g", "g"),
    Result("acidity.doses", "rows", "Doses, one after another"),
    Result("acidity.rebound_ph", "number", "pH after a few days of bubbling, with no more added"),
    Result("acidity.eaten_ph", "number", "pH after microbes have eaten the citric acid"),
    Result("acidity.volume_in_the_end", "volume", "Of that product once all carbon dioxide has left", "mL", "mL"),
    Result("acidity.nutrient_n", "concentration", "Nitrogen that the first dose brings", "mg/L", "mg/L"),
    Result("acidity.nutrient_p", "concentration", "Phosphorus that the first dose brings", "mg/L", "mg/L"),
    Result("acidity.nutrient_s", "concentration", "Sulfur that the first dose brings", "mg/L", "mg/L"),
    Result("acidity.nutrient_cl", "concentration", "Chloride that the first dose brings", "mg/L", "mg/L"),
    Result("acidity.nutrient_k", "concentration", "Potassium that the first dose brings", "mg/L", "mg/L"),
    Result("acidity.titration", "rows", "pH against product poured, just after mixing"),
    Result("acidity.titration_in_air", "rows", "pH against acid poured, once carbon dioxide has left"),
    Result("acidity.topup_charge", "number", "Alkalinity that all the top-up water of a day brings, in meq"),
    Result("acidity.drift_kind", "text", "As plants eat, the pH"),
    Result("acidity.drift", "rows", "Drift in a day, as low, likely and high"),
)
NUTRIENTS = {"N": "n", "P": "p", "S": "s", "Cl": "cl", "K": "k"}
ATMOSPHERE_FIZZY, ATMOSPHERE_IMPOSSIBLE = 0.1, 1.0
# Base that would end so far above the pH wanted was poured against a gas; engineering judgment, no source.
SOUR_BY_GAS = 0.5
DOSE_SHARES = ((0.5, "half"), (0.75, "half of the rest"), (1.0, "the last quarter"))
CHART_STEP, CHART_LOW, CHART_HIGH = 0.1, 4.0, 9.0


@dataclass(frozen=True)
class Water:
    """The source water as charge and carbon, in meq/L and mmol/L, at its temperature and under its air."""

    alkalinity: float
    carbon: float
    start_ph: float
    temperature_c: float
    co2_atm: float


@dataclass(frozen=True)
class Pourable:
    """An acid or base as poured: its words, strength in mol/L, pK at the water's temperature, what it brings."""

    words: str
    strength: float
    pks: tuple[float, float, float]
    element: str
    atoms: int
    molar_mass: float | None
    burns: bool


def _water(sheet: Sheet) -> Water:
    return Water(sheet.result("acidity.alkalinity_charge"), sheet.result("acidity.carbon"), sheet["acidity.start_ph"],
                 sheet["water.temperature"],
                 sheet["acidity.air_co2"] * 1e-6 * sheet.result("place.air_pressure") / physics.ATMOSPHERE_PA)


def tap_water(sheet: Sheet) -> None:
    """Alkalinity as charge, all carbonate, and in words what that means."""
    alkalinity, ph, temperature = sheet["acidity.alkalinity"], sheet["acidity.start_ph"], sheet["water.temperature"]
    charge = sheet.work("acidity.alkalinity_charge", physics.alkalinity_charge, alkalinity_mg_l=alkalinity)
    sheet.caution("acidity-fresh", "note", "pH: these answers are for fresh water, straight from the tap, before its "
                  "first acid. A bath that runs has lost its alkalinity and takes far less: see Today.",
                  lead="Fresh water only",
                  brief="These doses are for tap water before its first acid; for a running bath see Today.")
    word = next(word for least, word in data.WATER_CLASSES if alkalinity >= least)
    means = ("takes little acid, and its pH jumps: use drops" if alkalinity < 60 else
             "takes a fair amount of acid, and its pH climbs back for days")
    sheet.put("acidity.water_kind", f"like {word} water: it {means}", note="By its alkalinity, in the words used for "
              "hardness. A softener takes out hardness and leaves the alkalinity.", source=data.WATER_CLASSES_SOURCE)
    if charge < physics.alkalinity_closed(ph=ph, carbon_mmol_l=0.0, temperature_c=temperature):
        sheet.fault("acidity.start_ph", f"pH of that water: with an alkalinity of only "
                    f"{sheet.shown('acidity.alkalinity')} it cannot be as high as {ph:g}; measure both again, in "
                    "the same water.", {"acidity.alkalinity": ""})
    carbon = physics.total_carbonate(alkalinity_meq_l=charge, ph=ph, temperature_c=temperature)
    gas = carbon_dioxide(carbon, ph, temperature)
    if gas > ATMOSPHERE_IMPOSSIBLE:
        sheet.fault("acidity.start_ph", f"pH of that water: with an alkalinity of "
                    f"{sheet.shown('acidity.alkalinity')} a pH of {ph:g} would be soda water; give the alkalinity "
                    "and the pH of the same water, before any acid.", {"acidity.alkalinity": ""})
    sheet.work("acidity.carbon", physics.total_carbonate, alkalinity_meq_l=charge, ph=ph, temperature_c=temperature)
    if gas > ATMOSPHERE_FIZZY:
        sheet.caution("acidity-fizzy", "note", "pH: this alkalinity and pH together mean water full of carbon dioxide. "
                      "Let it stand or bubble for a day and measure again; it will need more acid than shown.",
                      lead="Fizzy tap water",
                      brief="It is full of carbon dioxide: let it stand a day and measure again.")


def carbon_dioxide(carbon_mmol_l: float, ph: float, temperature_c: float) -> float:
    """Pressure in atm of the carbon dioxide that water with so much carbonate would give off."""
    h = pow(10.0, -ph)
    k1 = pow(10.0, -physics.carbonic_pk1(temperature_c=temperature_c))
    k2 = pow(10.0, -physics.carbonic_pk2(temperature_c=temperature_c))
    share = h * h / (h * h + h * k1 + k1 * k2)
    return carbon_mmol_l * 1e-3 * share / pow(10.0, -physics.carbon_dioxide_pkh(temperature_c=temperature_c))


def _going_up(sheet: Sheet) -> bool:
    return sheet["acidity.target_ph"] > sheet["acidity.start_ph"]


def _share(sheet: Sheet, key: str, product: data.Product) -> float:
    """A share by mass that the product's density table covers, or a fault."""
    share = sheet[key]
    if share > product.most_share + 1e-9:
        sheet.fault(key, f"{product.words}: solutions stronger than {product.most_share * 100:g} % are not in the "
                         "table used here; enter less, or dilute it first.")
    return min(share, product.most_share)


def acid_at(sheet: Sheet, temperature: float) -> Pourable:
    """The chosen acid with its strength in mol/L and its pK in water of this temperature."""
    name = sheet.text("acidity.acid")
    by_percent = sheet.text("acidity.strength_by") == PERCENT
    if name == data.OTHER:
        if by_percent:
            sheet.fault("acidity.strength_by", "Its strength is given as: another product needs mol of hydrogen ions "
                        "in a liter; choose “mol in a liter”, or the acid that its label names.")
        return Pourable(data.OTHER_WORDS, sheet["acidity.strength_molar"] / 1e3, data.STRONG, "", 0, None,
                        sheet["acidity.strength_molar"] > 1e3)
    acid = data.ACIDS[name]
    pk1, pk2, pk3 = (pk if pk == data.NONE else physics.pk_at(pk_25=pk, heat_j_mol=heat, temperature_c=temperature)
                     for pk, heat in zip(acid.pks, acid.heats, strict=True))
    if by_percent:
        share = _share(sheet, "acidity.strength_percent", acid)
        density = sheet.optional("acidity.density") or acid.density(share)
        strength = physics.strength(mass_share=share, density_kg_m3=density, molar_mass_g_mol=acid.molar_mass)
        words = f"{acid.words}, {units.number(share * 100)} % by mass"
    else:
        strength = sheet["acidity.strength_molar"] / 1e3
        share = strength * acid.molar_mass / 1000.0
        words = f"{acid.words}, {units.number(strength)} mol/L"
    return Pourable(words, strength, (pk1, pk2, pk3), acid.element, acid.atoms, acid.molar_mass,
                    share >= acid.burns_from)


def _acid(sheet: Sheet) -> Pourable:
    return acid_at(sheet, sheet["water.temperature"])


def base_of(sheet: Sheet) -> Pourable:
    """The chosen base with its strength in mol/L."""
    base = data.BASES[sheet.text("acidity.base")]
    share = _share(sheet, "acidity.base_percent", base)
    strength = physics.strength(mass_share=share, density_kg_m3=base.density(share), molar_mass_g_mol=base.molar_mass)
    words = f"{base.words}, {units.number(share * 100)} % by mass"
    return Pourable(words, strength, base.pks, base.element, base.atoms,
                    base.molar_mass, share >= base.burns_from)


def _product(sheet: Sheet) -> Pourable:
    return base_of(sheet) if _going_up(sheet) else _acid(sheet)


def amount(water: Water, product: Pourable, ph: float) -> float:
    """Product in mmol for a litre that brings the water to ``ph`` with its carbon dioxide still in it.

    Meant for an acid going down or a base going up; 0 at the water's own pH.
    """
    if ph == water.start_ph:
        return 0.0
    if ph < water.start_ph:
        left = physics.acid_needed(alkalinity_meq_l=water.alkalinity, start_ph=water.start_ph, target_ph=ph,
                                   temperature_c=water.temperature_c)
        return max(left, 0.0) / physics.hydrogen_given(ph, *product.pks)
    if product.atoms == 2:
        return physics.carbonate_needed(alkalinity_meq_l=water.alkalinity, start_ph=water.start_ph, target_ph=ph,
                                        temperature_c=water.temperature_c)
    return -physics.acid_needed(alkalinity_meq_l=water.alkalinity, start_ph=water.start_ph, target_ph=ph,
                                temperature_c=water.temperature_c)


def amount_in_air(water: Water, product: Pourable, ph: float) -> float:
    """Acid in mmol for a litre that holds ``ph`` once carbon dioxide is in balance with the air; below 0: too much."""
    left = water.alkalinity - physics.alkalinity_in_air(ph=ph, co2_atm=water.co2_atm, temperature_c=water.temperature_c)
    return left / physics.hydrogen_given(ph, *product.pks)


def ph_after(water: Water, product: Pourable, mmol_l: float, going_up: bool) -> float:
    """pH just after mixing in so much product, carbon dioxide still in the water."""
    if going_up:
        return physics.ph_closed(
            alkalinity_meq_l=water.alkalinity + mmol_l * product.atoms,
            carbon_mmol_l=water.carbon + (mmol_l if product.atoms == 2 else 0.0), acid_mmol_l=0.0, pk1=data.STRONG[0],
            pk2=data.NONE, pk3=data.NONE, temperature_c=water.temperature_c)
    pk1, pk2, pk3 = product.pks
    return physics.ph_closed(alkalinity_meq_l=water.alkalinity, carbon_mmol_l=water.carbon, acid_mmol_l=mmol_l, pk1=pk1,
                             pk2=pk2, pk3=pk3, temperature_c=water.temperature_c)


def dose(sheet: Sheet) -> None:
    """Acid or base for the water, in mmol of charge and in mL of the product."""
    water, target, up = _water(sheet), sheet["acidity.target_ph"], _going_up(sheet)
    typed = sheet.optional("acidity.water_volume")
    litres = typed if typed is not None else sheet.result("water.working_volume")
    sheet.put("acidity.water", litres, note="As you put it in." if typed is not None else "All the working water.")
    needed = physics.acid_needed(alkalinity_meq_l=water.alkalinity, start_ph=water.start_ph, target_ph=target,
                                 temperature_c=water.temperature_c)
    if up:
        sheet.put("acidity.acid_needed", 0.0, note="The pH has to go up, which takes no acid.")
        sheet.put("acidity.base_needed", -needed, note="Alkalinity at the pH you want less the alkalinity you have, "
                  "with all the carbonate kept in the water.", source=physics.STUMM)
    elif target == water.start_ph:
        sheet.put("acidity.acid_needed", 0.0, note="The water has that pH already.")
        sheet.put("acidity.base_needed", 0.0, note="The water has that pH already.")
    else:
        sheet.work("acidity.acid_needed", physics.acid_needed, alkalinity_meq_l=water.alkalinity,
                   start_ph=water.start_ph, target_ph=target, temperature_c=water.temperature_c)
        sheet.put("acidity.base_needed", 0.0, note="The pH has to go down, which takes no base.")
    product = _product(sheet)
    sheet.put("acidity.product", product.words, note="From what you chose.", source=_product_source(sheet))
    sheet.put("acidity.strength", product.strength * 1e3, note="Percent, density and molar mass; or as you put it in.")
    each = _each(product, target, up)
    sheet.put("acidity.given", each, note="At the pH you want. An acid with several steps gives more as the pH rises.")
    mmol_l = amount(water, product, target)
    volume = sheet.work("acidity.volume", physics.product_volume, water_m3=litres, amount_mmol_l=mmol_l,
                        strength_mol_l=product.strength)
    if product.molar_mass is not None:
        pure = {"volume_m3": volume, "strength_mol_l": product.strength, "molar_mass_g_mol": product.molar_mass}
        sheet.put("acidity.pure_mass", physics.pure_mass(**pure), physics.pure_mass, pure,
                  note="For dry citric acid or potassium carbonate: weigh this much, dissolve it in a jug of water "
                       "first.")
    sheet.put("acidity.doses", [
        {"share": words, "volume": volume * (share - before), "poured": volume * share,
         "ph": ph_after(water, product, mmol_l * share, up)}
        for (share, words), before in zip(DOSE_SHARES, (0.0, 0.5, 0.75), strict=True)] if volume > 0.0 else [],
        note="pH just after mixing, before any carbon dioxide leaves. Stop as soon as the meter shows what you want.")


def _product_source(sheet: Sheet) -> str:
    if _going_up(sheet):
        return data.BASES[sheet.text("acidity.base")].source
    name = sheet.text("acidity.acid")
    return data.ACIDS[name].source if name in data.ACIDS else "as you put it in"


def _each(product: Pourable, ph: float, up: bool) -> float:
    return float(product.atoms) if up else physics.hydrogen_given(ph, *product.pks)


def nutrients(sheet: Sheet) -> None:
    """What the first dose leaves in the water as food, or as chloride."""
    product = _product(sheet)
    mmol_l = sheet.result("acidity.volume") * product.strength * 1e3 / sheet.result("acidity.water")
    for element, letter in NUTRIENTS.items():
        key = f"acidity.nutrient_{letter}"
        if element == product.element:
            sheet.work(key, physics.element_brought, amount_mmol_l=mmol_l, atoms=product.atoms,
                       atomic_mass_g_mol=data.ATOMIC_MASS[element])
        else:
            sheet.put(key, 0.0, note="This product brings none.")

    def say(value: float) -> str:
        return sheet.shown_as("acidity.nutrient_p", value)
    phosphorus, chloride = sheet.result("acidity.nutrient_p"), sheet.result("acidity.nutrient_cl")
    if phosphorus > MUCH_PHOSPHORUS:
        sheet.caution("acidity-phosphorus", "warning",
                      f"Phosphorus: this dose alone brings {say(phosphorus)}, about as much as a lettuce solution "
                      "or more. That is the acid's doing, not your water's: take another acid for a part (Nutrients "
                      "says how much of each), or mix the water with reverse-osmosis water.", lead="Much phosphorus",
                      brief=f"This dose alone brings {say(phosphorus)}: take another acid for a part of it.")
    if chloride > MUCH_CHLORIDE:
        sheet.caution("acidity-chloride", "warning", f"Chloride: this dose brings {say(chloride)}, and plants use "
                      "hardly any. Choose another acid, or mix the water with reverse-osmosis water.",
                      lead="Much chloride",
                      brief=f"This dose brings {say(chloride)}, which plants hardly use: choose another acid.")


def afterwards(sheet: Sheet) -> None:
    """Where the pH settles once carbon dioxide has left or come in, and the acid that takes in the end."""
    water, product, up = _water(sheet), _product(sheet), _going_up(sheet)
    mmol_l = sheet.result("acidity.volume") * product.strength * 1e3 / sheet.result("acidity.water")
    base = mmol_l * product.atoms if up else 0.0
    acid = {"acid_mmol_l": 0.0 if up else mmol_l, "co2_atm": water.co2_atm, "temperature_c": water.temperature_c}
    pk1, pk2, pk3 = data.STRONG if up else product.pks
    settled = sheet.work("acidity.rebound_ph", physics.ph_in_air, alkalinity_meq_l=water.alkalinity + base, pk1=pk1,
                         pk2=pk2, pk3=pk3, **acid)
    target = sheet["acidity.target_ph"]
    if not up and sheet.text("acidity.acid") == "citric":
        sheet.work("acidity.eaten_ph", physics.ph_in_air, alkalinity_meq_l=water.alkalinity, pk1=pk1, pk2=pk2, pk3=pk3,
                   **{**acid, "acid_mmol_l": 0.0})
        sheet.caution("acidity-citric", "note", "Citric acid: microbes eat it within days (from memory, not "
                      "verified), and then the water is as alkaline as before. Good for a first try, not for keeping "
                      "a bath.", lead="Citric acid fades",
                      brief="Microbes eat it within days: good for a first try only.")
    if not up:
        whole = max(amount_in_air(water, product, target), 0.0)
        end = {"water_m3": sheet.result("acidity.water"), "amount_mmol_l": whole, "strength_mol_l": product.strength}
        sheet.put("acidity.volume_in_the_end", physics.product_volume(**end), physics.product_volume, end,
                  note="Alkalinity you have less what is left at the pH you want when carbon dioxide is in balance "
                       "with the air. Nothing is taken off for what plants do.", source=physics.STUMM)
    if up and mmol_l > 0.0 and settled > target + SOUR_BY_GAS:
        _bubble_first(sheet, settled, physics.ph_in_air(alkalinity_meq_l=water.alkalinity, pk1=pk1, pk2=pk2, pk3=pk3,
                                                        **acid))
    elif settled > target + 0.3 and mmol_l > 0.0:
        sheet.caution("acidity-rebound", "note",
                      f"pH: it will not stay. As carbon dioxide leaves, it climbs from {target:.1f} towards "
                      f"{settled:.1f} within hours to days, fastest with strong bubbling. Expect to correct it one "
                      "to three times in the first days; that is not a mistake of yours.", lead="pH drifts back",
                      brief=f"It climbs from {target:.1f} towards {settled:.1f} in hours to days: correct it again.")
    elif settled < target - 0.3 and mmol_l > 0.0:
        sheet.caution("acidity-rebound", "note",
                      f"pH: it will not stay. As carbon dioxide comes in from the air, it sinks from {target:.1f} "
                      f"towards {settled:.1f} within hours to days. Measure again tomorrow before you add more.",
                      lead="pH drifts back",
                      brief=f"It sinks from {target:.1f} towards {settled:.1f} in hours to days: measure again "
                            "tomorrow.")


def _bubble_first(sheet: Sheet, settled: float, bare: float) -> None:
    """Water that is sour by its carbon dioxide: base poured against that is too much as soon as the gas has left."""
    why = ("by its pH and alkalinity, carbon dioxide makes this water sour, and that leaves: bubbling alone brings the "
           f"water to pH {bare:.1f} within hours to days, and with this dose it would climb to {settled:.1f}. Bubble "
           "it for a day and measure again before you pour any")
    # A solution that was bubbled all along is sour by its fertilizer, of which this sum knows nothing.
    else_sour = ("Was it bubbled already, then something else makes it sour: try a jug of it first, then a quarter of "
                 "this dose")
    sheet.caution("acidity-bubble-first", "warning", f"pH-up: {why}. {else_sour}.", lead="Bubble it first",
                  brief=f"Bubbling alone brings it to pH {bare:.1f}; with this dose it would climb to {settled:.1f}.")
    sheet.verdict("tight", f"{why[0].upper()}{why[1:]} pH-up. {else_sour}.", f"pH {bare:.1f} by bubbling",
                  "Bubble it first.")


def chart(sheet: Sheet) -> None:
    """The titration curve: product poured against pH, carbon dioxide still in the water."""
    water, product, up = _water(sheet), _product(sheet), _going_up(sheet)
    litres = sheet.result("acidity.water")
    end = max(CHART_HIGH, sheet["acidity.target_ph"]) if up else CHART_LOW
    steps = max(round(abs(end - water.start_ph) / CHART_STEP), 0)
    levels = [water.start_ph + (end - water.start_ph) * number / steps for number in range(steps + 1)] if steps else []

    def row(mmol_l: float, ph: float) -> Row:
        return {"volume": physics.product_volume(water_m3=litres, amount_mmol_l=mmol_l,
                                                 strength_mol_l=product.strength), "ph": ph}
    sheet.put("acidity.titration", [row(amount(water, product, ph), ph) for ph in levels],
              note="The same sum as the dose, for every tenth of a pH.")
    if not up:
        pk1, pk2, pk3 = product.pks
        bare = physics.ph_in_air(alkalinity_meq_l=water.alkalinity, acid_mmol_l=0.0, pk1=pk1, pk2=pk2, pk3=pk3,
                                 co2_atm=water.co2_atm, temperature_c=water.temperature_c)
        most = max(round((bare - CHART_LOW) / (2 * CHART_STEP)), 1)
        levels = [bare + (CHART_LOW - bare) * number / most for number in range(1, most + 1)]
        sheet.put("acidity.titration_in_air",
                  [row(0.0, bare)] + [row(max(amount_in_air(water, product, ph), 0.0), ph) for ph in levels],
                  note="The sum of the acid in the end, for every fifth of a pH.")


def suits_crops(sheet: Sheet) -> None:
    """Whether the pH aimed for is one that the crops chosen like."""
    low, high = sheet.result_if_any("crops.ph_low"), sheet.result_if_any("crops.ph_high")
    target = sheet["acidity.target_ph"]
    if low is not None and high is not None and not low - 1e-9 <= target <= high + 1e-9:
        sheet.caution("acidity-crops", "warning", f"pH: {target:g} is outside the {low:g} to {high:g} that suits "
                      f"{sheet.result('crops.names', str)}.", lead="pH and crops",
                      brief=f"pH {target:g} is outside the {low:g} to {high:g} that suits your crops.")


def cautions(sheet: Sheet) -> None:
    """What can hurt, at the point of use."""
    if sheet.result("acidity.volume") == 0.0:
        return
    product, up = _product(sheet), _going_up(sheet)
    what = "pH-up" if up else "Acid"
    sheet.caution("acidity-pouring", "danger",
                  f"{what}: goggles and gloves on, tap water near. Pour it into water, never water into it. Never near "
                  "bleach (chlorine gas), never straight into the other one, never into a closed bottle with "
                  "carbonate. Keep it locked, low, in its own labeled bottle, away from children.",
                  lead="Acids and bases",
                  brief="Goggles and gloves; into water, never water into it; never near bleach.", standing=True)
    sheet.caution("acidity-halves", "warning",
                  f"{what}: thin the dose in a jug of bath water, pour half, let the water mix for 15 minutes or more, "
                  "measure, then half of the rest. A reading, not this number, tells when to stop.",
                  lead="Half at a time", brief="Pour half, wait 15 minutes, measure, then half of the rest.")
    if product.burns:
        sheet.caution("acidity-burns", "danger",
                      f"{product.words}: at this strength it burns skin and eyes ({data.BURNS_SOURCE}). Leave it, "
                      "and thinning it, to people trained for it; buy it dilute instead. Local law may restrict it.",
                      lead="Burns skin and eyes", brief="Too strong for beginners: buy it dilute.")
    if not up and sheet.text("acidity.acid") == "nitric":
        sheet.caution("acidity-nitric", "danger", "Nitric acid: it gives off poisonous fumes and feeds fire; keep it "
                      "from sawdust, cloth, paper and metal. Many countries restrict it. Beginners: choose another "
                      "acid.", lead="Nitric acid",
                      brief="Poisonous fumes, and it feeds fire: beginners choose another acid.")
    if not up and sheet.text("acidity.acid") == "sulfuric":
        sheet.caution("acidity-sulfuric", "danger", "Sulfuric acid: it boils and spits when it meets water. Only "
                      "dilute product for beginners; never battery acid, which may carry lead (from memory, not "
                      "verified).", lead="Sulfuric acid",
                      brief="It boils and spits in water: only dilute product, never battery acid.")
    if up and sheet.text("acidity.base") == "hydroxide":
        sheet.caution("acidity-lye", "danger", "Potassium hydroxide: lye blinds; it gets hot as it dissolves. Goggles, "
                      "always. Potassium carbonate does the same work more gently.", lead="Lye blinds",
                      brief="Goggles, always; potassium carbonate does the same more gently.")


STEPS = (tap_water, dose, *blending.STEPS, nutrients, afterwards, chart, suits_crops, cautions, judge)
