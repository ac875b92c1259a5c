"""The numbers that decide, each on a ruler between what is needed and what is too much, from the reader's own plan."""

from __future__ import annotations

from .. import units
from ..data.fittings import HOSE_SPEED_M_S
from ..solve import SPECS, Design
from .ruler import Mark, wooden


class _Reading:
    """Numbers of one result's kind, in the unit it is shown in."""

    def __init__(self, design: Design, key: str):
        spec = SPECS[key]
        self.design, self.kind = design, spec.kind
        self.unit = spec.metric if design.system == "metric" else spec.us

    def of(self, key: str) -> float | None:
        """The number of a result or an input, ``None`` where there is none."""
        value = self.design.value(key)
        return None if not isinstance(value, (int, float)) else self.number(value)

    def number(self, value: float) -> float:
        """A value in base units as a number in the unit shown."""
        return units.convert(value, self.kind, self.unit) if self.unit else value

    def mark(self, key: str, words: str, kind: str = "need") -> list[Mark]:
        """A pointer for a result or an input; none where it has no value."""
        value = self.of(key)
        return [] if value is None else [Mark(words, value, kind)]


def air(design: Design, wide: bool) -> str:
    """Air that the roots take, with margin, beside what arrives at the stones and what the plates say."""
    read = _Reading(design, "air.target")
    arrives, wanted = read.of("air.delivered"), read.of("air.target")
    if arrives is None or wanted is None:
        return ""
    kind = "yours" if arrives >= wanted * (1 - 1e-9) else "no"
    marks = [*(read.mark("air.oxygen_likely", "roots") if design.value("air.rule") == "oxygen" else []),
             Mark("with margin" if wide else "need", wanted), Mark("arrives", arrives, kind)]
    plates = {row["name"]: row.get("free_flow") for row in design.rows("air.pumps")}
    running = design.value("air.pumps_running") or []
    flows = [(plates.get(row["name"]) or 0.0) * row["quantity"] for row in running]
    if flows and all(flows):
        marks.append(Mark("plate" if len(flows) == 1 and running[0]["quantity"] == 1 else "plates", read.number(
            sum(flows))))
    return wooden("air-ruler" + _form(wide), "Air", read.unit, marks, wide, good=(wanted, None))


def hose(design: Design, wide: bool) -> str:
    """How fast the water runs in the hose from the pump, beside what is usual."""
    read = _Reading(design, "circulation.velocity")
    speed, usual = read.of("circulation.velocity"), read.number(HOSE_SPEED_M_S)
    if speed is None or not speed:
        return ""
    bore = design.shown("circulation.hose_bore")
    kind = "yours" if speed <= usual * (1 + 1e-9) else "tight"
    marks = [Mark("usual to", usual), Mark(f"{bore} hose:" if wide else f"{bore}:", speed, kind)]
    return wooden("hose-ruler" + _form(wide), "Water in the hose", read.unit, marks, wide, good=(None, usual))


def oxygen(design: Design, wide: bool) -> str:
    """Oxygen in the bath in the hottest hour, beside the aim and what the water can hold."""
    read = _Reading(design, "oxygen.bath_hottest")
    found, aim = read.of("oxygen.bath_hottest"), read.of("oxygen.target")
    if found is None or aim is None:
        return ""
    marks = [*read.mark("oxygen.bath_hottest_low", "1 in 20"), Mark("aim", aim),
             Mark("likely", found, "yours" if found >= aim * (1 - 1e-9) else "no"),
             *read.mark("oxygen.saturation_hottest", "water can hold" if wide else "can hold")]
    return wooden("oxygen-ruler" + _form(wide), "Oxygen in the hottest hour", read.unit, marks, wide, good=(aim, None))


def light(design: Design, wide: bool) -> str:
    """The light of a day at the plants, beside what they want."""
    read = _Reading(design, "light.dli_target")
    found, aim = read.of("light.dli"), read.of("light.dli_target")
    if aim is None:
        return ""
    low, high = read.of("crops.dli_low"), read.of("crops.dli_high")
    own = design.value("light.target") is not None or low is None or high is None
    marks = [Mark("aim", aim)]
    if found is not None:
        good = found >= (aim if own or low is None else low) * (1 - 1e-9)
        marks.append(Mark("yours", found, "yours" if good else "no"))
        if read.of("light.dli_lamps") and read.of("light.dli_sun"):
            marks += read.mark("light.dli_sun", "sun alone")
    return wooden("light-ruler" + _form(wide), "Light of a day", read.unit, marks, wide,
                  good=(aim, None) if own else (low, high))


def floor(design: Design, wide: bool) -> str:
    """The load under a full bath, beside what the floor is built for; nothing where it stands on the ground."""
    read = _Reading(design, "water.floor_pressure")
    load, built = read.of("water.floor_pressure"), read.of("water.floor_allowance")
    if load is None or built is None or design.value("bath.stands_on") == "ground":
        return ""
    kind = "yours" if load <= built * (1 + 1e-9) else "tight"
    marks = [Mark("floor built for" if wide else "built for", built), Mark("full bath", load, kind)]
    return wooden("floor-ruler" + _form(wide), "Load on the floor", read.unit, marks, wide, good=(None, built))


def conductivity(design: Design, wide: bool) -> str:
    """EC of the water, of the first fill, and what suits the crops."""
    read = _Reading(design, "feed.ec")
    ec, low, high = read.of("feed.ec"), read.of("crops.ec_low"), read.of("crops.ec_high")
    if ec is None:
        return ""
    fits = low is None or high is None or 0.9 * low <= ec <= 1.1 * high
    marks = [*read.mark("feed.water_conductivity", "tap"), Mark("first fill", ec, "yours" if fits else "tight")]
    return wooden("ec-ruler" + _form(wide), "EC", read.unit, marks, wide,
                  good=(low, high) if low is not None and high is not None else None)


def acidity(design: Design, wide: bool) -> str:
    """pH of the water, the aim, and what it climbs to; green is what suits the crops."""
    start, aim = design.value("acidity.start_ph"), design.value("acidity.target_ph")
    if start is None or aim is None:
        return ""
    marks = [Mark("tap", start, shown=f"{start:.1f}"), Mark("aim", aim, "yours", f"{aim:.1f}")]
    later = design.value("acidity.rebound_ph")
    if later is not None and later - aim >= 0.05:
        marks.append(Mark("climbs to" if wide else "later", later, shown=f"{later:.1f}"))
    low, high = design.value("crops.ph_low"), design.value("crops.ph_high")
    return wooden("ph-ruler" + _form(wide), "pH", "", marks, wide, least=min(4.0, start, aim),
                  good=(low, high) if low is not None and high is not None else None)


def _form(wide: bool) -> str:
    return "" if wide else "-narrow"
