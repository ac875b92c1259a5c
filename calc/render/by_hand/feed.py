"""Sums of nutrients and acid: salts to weigh, bottles, what a ppm meter shows, doses in proportion, dilution."""

from __future__ import annotations

from ...relations.acidity import CACO3_MG_MEQ
from .air import LITRES_A_GALLON
from .pad import NoSum, Pad, Term
from .water import volume


def litres(pad: Pad, key: str) -> Term:
    """Water in litres for every reader, for salts are weighed by the gram and the litre."""
    found = volume(pad, key)
    return pad.gives("In liters", found * pad.num(LITRES_A_GALLON), "L") if pad.us else found


def total_mass(pad: Pad) -> None:
    batch = litres(pad, "feed.batch")
    held = pad.value("feed.batch") * 1000.0
    parts = [pad.gives(row["salt"].replace(":", ","), pad.num(row["mass"] * 1000.0 / held) * batch, "g")
             for row in pad.rows("feed.masses")]
    pad.shows("All salts", pad.total(parts), "g")


def _over_strength(pad: Pad, key: str) -> None:
    water = litres(pad, "feed.batch")
    pad.shows("Liters, in mL, over the strength", water * pad.num(1000.0) / pad.num(pad.value(key)), "mL")


def micro_dose(pad: Pad) -> None:
    _over_strength(pad, "feed.micro_strength")


def concentrate_each(pad: Pad) -> None:
    _over_strength(pad, "feed.stock_strength")


def stock_size(pad: Pad) -> None:
    if pad.design.value("feed.stock_volume") is not None:
        raise NoSum
    pad.shows("Solution, over the strength", litres(pad, "feed.batch") / pad.num(pad.value("feed.stock_strength")), "L")


def concentrate_dose(pad: Pad) -> None:
    pad.shows("A liter, over the strength", pad.num(1000.0) / pad.num(pad.value("feed.stock_strength")), "mL/L")


def _ec(pad: Pad) -> Term:
    return pad.read("feed.ec", "conductivity", "mS/cm")


def ppm(pad: Pad) -> None:
    pad.shows("mS/cm, times the scale", _ec(pad) * pad.num(pad.inputs("scale")))


def ec_low(pad: Pad) -> None:
    pad.shows("A tenth less", _ec(pad) * pad.num(0.9), "mS/cm")


def ec_high(pad: Pad) -> None:
    pad.shows("A tenth more", _ec(pad) * pad.num(1.1), "mS/cm")


def ec_rule(pad: Pad) -> None:
    pad.shows("By the charge", pad.num(0.095) * pad.read("feed.cations", "molarity", "mmol/L") + pad.num(0.19), "mS/cm")


def alkalinity_charge(pad: Pad) -> None:
    pad.shows("mg/L, over 50.04", pad.read("acidity.alkalinity", "alkalinity", "mg/L") / pad.num(CACO3_MG_MEQ),
              "mmol/L")


def _acid(pad: Pad) -> None:
    """Liters times mmol are mmol in all, and mol/L are mmol/mL."""
    whole = pad.gives("In all", litres(pad, "acidity.water") * pad.num(pad.inputs("amount_mmol_l")), "mmol")
    pad.shows("Over what a mL holds", whole / pad.num(pad.inputs("strength_mol_l")), "mL")


def pure_mass(pad: Pad) -> None:
    pad.shows("mL, times strength and molar mass", pad.read("acidity.volume", "volume", "mL")
              * pad.num(pad.inputs("strength_mol_l")) * pad.num(pad.inputs("molar_mass_g_mol")) / pad.num(1000.0), "g")


def nutrient(pad: Pad) -> None:
    found = pad.num(pad.inputs("amount_mmol_l")) * pad.num(pad.inputs("atomic_mass_g_mol"))
    if pad.inputs("atoms") > 1.0:
        found = found * pad.num(pad.inputs("atoms"))
    pad.shows("mmol, times the atom's mass", found, "mg/L")


def topup_charge(pad: Pad) -> None:
    pad.shows("Alkalinity, times a day's liters", pad.read("acidity.alkalinity_charge", "molarity", "mmol/L")
              * litres(pad, "use.per_day"))


def blend_share(pad: Pad) -> None:
    """What the tap holds too much, over what the pure water holds less; for one aim."""
    aims = [(key, tap) for key, tap in (("acidity.blend_alkalinity", "acidity.alkalinity"),
                                        ("acidity.blend_sodium", "feed.water_na")) if pad.design.value(key) is not None]
    if len(aims) != 1:
        raise NoSum
    key, tap_key = aims[0]
    kind = "alkalinity" if key.endswith("alkalinity") else "concentration"
    tap, aim = pad.read(tap_key, kind, "mg/L"), pad.read(key, kind, "mg/L")
    pure = pad.gives("Pure water holds", pad.read("acidity.pure_left", "ratio", "") * tap, "mg/L")
    pad.shows("Too much, over what pure water lacks", (tap - aim) / (tap - pure) * pad.num(100.0), "%")


def blend_pure(pad: Pad) -> None:
    pad.shows("That share of all the water",
              pad.read("acidity.blend_share", "ratio", "") * volume(pad, "acidity.water"), "gal", "L")


def jug(pad: Pad) -> None:
    """What the jug took, in proportion to the bath."""
    took = pad.read("today.jug_acid", "drops", "mL")
    bath = litres(pad, "today.water")
    pad.shows("As much more as there is more water", took * bath / pad.read("today.jug_volume", "volume", "L"), "mL")


def water_instead(pad: Pad) -> None:
    reads, wanted, plain = (pad.num(pad.inputs(f"{name}_ms_cm")) for name in ("reads", "wanted", "water"))
    pad.shows("Too strong by, over what water thins", volume(pad, "today.water") * (reads - wanted) / (wanted - plain),
              "gal", "L")


def exchange(pad: Pad) -> None:
    reads, wanted, plain = (pad.num(pad.inputs(f"{name}_ms_cm")) for name in ("reads", "wanted", "water"))
    pad.shows("Too strong by, over all above water", volume(pad, "today.water") * (reads - wanted) / (reads - plain),
              "gal", "L")


SUMS = {
    "acidity.blend_share": blend_share, "acidity.blend_pure": blend_pure,
    "feed.total_mass": total_mass, "feed.micro_dose": micro_dose, "feed.concentrate_each": concentrate_each,
    "feed.stock_size": stock_size, "feed.concentrate_dose": concentrate_dose, "feed.ppm500": ppm, "feed.ppm640": ppm,
    "feed.ppm700": ppm, "feed.ec_low": ec_low, "feed.ec_high": ec_high, "feed.ec_rule": ec_rule,
    "acidity.alkalinity_charge": alkalinity_charge, "acidity.volume": _acid, "acidity.volume_in_the_end": _acid,
    "acidity.pure_mass": pure_mass, **{f"acidity.nutrient_{one}": nutrient for one in ("n", "p", "s", "cl", "k")},
    "acidity.topup_charge": topup_charge, "today.acid": jug, "today.base": jug, "today.water_instead": water_instead,
    "today.exchange": exchange,
}
