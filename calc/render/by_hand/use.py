"""Sums of water used: what plants drink, days until a top-up, and when the water is to be changed."""

from __future__ import annotations

from ...topics import scheme
from ...topics import use as topic
from .pad import NoSum, Pad, Term
from .water import per_volume, volume

OUNCES_A_GALLON = 128.0


def small(pad: Pad, key: str) -> Term:
    """What one plant drinks, in fluid ounces or millilitres."""
    return pad.read(key, "volume", "fl oz", "mL")


def in_a_large(pad: Pad) -> Term:
    """Fluid ounces in a gallon, or millilitres in a litre."""
    return pad.num(OUNCES_A_GALLON if pad.us else 1000.0)


def _plants(pad: Pad) -> Term:
    return pad.num(pad.value("oxygen.plant_count"))


def by_practice(pad: Pad) -> None:
    halfway = pad.gives("One plant", (small(pad, "crops.water_low") + small(pad, "crops.water_high")) / pad.num(2.0),
                        "fl oz" if pad.us else "mL")
    pad.shows("All plants", halfway * _plants(pad) / in_a_large(pad), "gal", "L")


def per_day(pad: Pad) -> None:
    if pad.text(topic.BASIS) != topic.OWN:
        raise NoSum
    pad.shows("One plant, times the plants", small(pad, "use.litres_per_plant") * _plants(pad) / in_a_large(pad),
              "gal", "L")


def gone(pad: Pad) -> None:
    if pad.text(topic.BASIS) == topic.OWN or pad.value("heat.evaporated") is None:
        raise NoSum
    pad.shows("Drunk, and evaporated", volume(pad, "use.per_day") + volume(pad, "heat.evaporated"), "gal", "L")


def per_plant(pad: Pad) -> None:
    pad.shows("All plants' water, shared", volume(pad, "use.per_day") * in_a_large(pad) / _plants(pad), "fl oz", "mL")


def _most_used(pad: Pad) -> Term:
    return pad.num(1.0) - pad.read("use.least", "ratio", "")


def _circulates(pad: Pad) -> bool:
    return pad.text(scheme.KEY) == scheme.CIRCULATING


def usable(pad: Pad) -> None:
    if not _circulates(pad):
        raise NoSum
    pad.shows("Reservoir, less what must stay", volume(pad, "water.reservoir_volume") * _most_used(pad), "gal", "L")


def fall_per_day(pad: Pad) -> None:
    """A liter on a square metre is a millimetre; a gallon is 231 cubic inches."""
    surface = pad.read("water.surface_area", "area", "ft2", "m2")
    surface = pad.gives("All surfaces", pad.times("bath.count", surface), "ft2" if pad.us else "m2")
    if pad.us:
        pad.shows("Over the surface", volume(pad, "use.gone") * per_volume(pad) / (surface * pad.num(144.0)), "in")
    else:
        pad.shows("Liters on a square meter", volume(pad, "use.gone") / surface, "", "mm")


def days_to_top_up(pad: Pad) -> None:
    pad.shows("Water to use, over a day's", volume(pad, "use.usable") / volume(pad, "use.gone"), "d")


def holiday_reservoir(pad: Pad) -> None:
    used = pad.gives("Used in that time", volume(pad, "use.gone") * pad.read("use.holiday", "time", "d"),
                     "gal" if pad.us else "L")
    pad.shows("And what must stay", used / _most_used(pad), "gal", "L")


def holiday_short(pad: Pad) -> None:
    pad.shows("Wanted, less what is there", volume(pad, "use.holiday_reservoir")
              - volume(pad, "water.reservoir_volume"), "gal", "L")


def _ec(pad: Pad, key: str) -> Term:
    return pad.read(key, "conductivity", "mS/cm")


def _source(pad: Pad) -> Term:
    typed = pad.design.value("use.source_ec") is not None
    return _ec(pad, "use.source_ec" if typed else "feed.water_conductivity")


def topup_ec(pad: Pad) -> None:
    typed = pad.design.value("use.target_ec") is not None
    aim = _ec(pad, "use.target_ec" if typed else "feed.ec")
    nutrients = pad.gives("Nutrients aimed for", aim - _source(pad), "mS/cm")
    pad.shows("Source water, and that share", _source(pad)
              + pad.read("use.topup_strength", "ratio", "") * nutrients, "mS/cm")


def hold_ec(pad: Pad) -> None:
    pad.shows("Source water, and what plants take", _source(pad) + _ec(pad, "use.uptake"), "mS/cm")


def volumes_after(pad: Pad) -> None:
    fills = pad.gives("Water topped up by then", pad.num(pad.value("use.volumes"))
                      * volume(pad, "water.working_volume"), "gal" if pad.us else "L")
    pad.shows("Over a day's", fills / volume(pad, "use.gone"), "d")


def _salt_after(pad: Pad, salt: str) -> None:
    """How far it may rise, over how much a day brings."""
    typed = pad.design.value(f"use.{salt}") is not None
    there = pad.read(f"use.{salt}" if typed else topic.FEED_ANALYSIS[salt], "concentration", "mg/L")
    rise = pad.gives("May rise by", pad.read(f"use.{salt}_limit", "concentration", "mg/L") - there, "mg/L")
    stays = pad.gives("Left behind of it", there - pad.read("use.salt_uptake", "concentration", "mg/L"), "mg/L")
    water = pad.gives("Days to use all the water", volume(pad, "water.working_volume") / volume(pad, "use.gone"))
    pad.shows("Until it is there", water * rise / stays, "d")


def gathered_after(pad: Pad) -> None:
    """How far it may rise, over what stays of each liter topped up."""
    first, most, comes, taken = (pad.num(pad.inputs(f"{name}_mg_l")) for name in ("start", "limit", "incoming",
                                                                                  "uptake"))
    rise = pad.gives("May rise by", most - first, "mg/L")
    stays = pad.gives("Left of each liter", comes - taken, "mg/L")
    water = pad.gives("Days to use all the water", volume(pad, "water.working_volume") / volume(pad, "use.per_day"))
    pad.shows("Until it is there", water * rise / stays, "d")


def sodium_after(pad: Pad) -> None:
    _salt_after(pad, "sodium")


def chloride_after(pad: Pad) -> None:
    _salt_after(pad, "chloride")


def replace_after(pad: Pad) -> None:
    """The sum of whichever comes first; the calendar's own days are no sum."""
    sums = {"Sodium": sodium_after, "Chloride": chloride_after, "Fills topped up": volumes_after}
    reckon = sums.get(pad.text("use.replace_reason"))
    if reckon is None:
        raise NoSum
    reckon(pad)


def bleed(pad: Pad) -> None:
    comes, takes, most = (pad.num(pad.inputs(f"{name}_mg_l")) for name in ("incoming", "uptake", "limit"))
    pad.shows("Left behind, over what may gather", (comes - takes) / (most - comes) * pad.num(100.0), "%")


SUMS = {
    "use.by_practice": by_practice, "use.per_day": per_day, "use.gone": gone,
    "use.per_plant": per_plant, "use.usable": usable,
    "use.fall_per_day": fall_per_day, "use.days_to_top_up": days_to_top_up,
    "use.holiday_reservoir": holiday_reservoir, "use.holiday_short": holiday_short, "use.topup_ec": topup_ec,
    "use.calcium_after": gathered_after, "use.magnesium_after": gathered_after, "use.sulfur_after": gathered_after,
    "use.hold_ec": hold_ec, "use.volumes_after": volumes_after, "use.sodium_after": sodium_after,
    "use.chloride_after": chloride_after, "use.replace_after": replace_after, "use.bleed": bleed,
}
