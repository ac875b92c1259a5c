"""The bath that is kept: its plan solved once, the band of each reading, and how much water stands at a level."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from .. import units
from ..declare import Field
from ..errors import OutOfRange, Unanswered
from ..figures import number
from ..plan import Plan
from ..relations import oxygen as oxygen_physics
from ..sheet import Sheet
from ..solve import SPECS, Design, Memory
from ..topics import scheme
from ..topics.vessel import volume_to
from .entries import OF_KIND, READING, unit_for

# What leaf crops are kept at where a plan does not tell: the crop table's lettuce.
USUAL: Mapping[str, tuple[float, float]] = {"ph": (5.5, 6.5), "temperature": (15.0, 25.0), "ec": (1.2, 1.8)}
LEAST_OXYGEN = 5.0
# So much of the water that may be used is gone: time to top up (engineering judgment, no source).
GONE_SHARE = 0.2
ORDER = ("ph", "temperature", "level", "ec", "oxygen")


@dataclass(frozen=True)
class Band:
    """From where to where a reading is as it should be, in base units, and why."""

    low: float
    high: float
    why: str

    def word(self, value: float) -> str:
        """high, low, or in its band."""
        return "high" if value > self.high + 1e-9 else "low" if value < self.low - 1e-9 else "in"

    def beyond(self, value: float) -> float:
        """How far a value lies outside; nothing inside."""
        return max(value - self.high, self.low - value, 0.0)


class Bath:
    """A plan and what it says of the bath that runs by it. ``memory`` is one that solved a plan like it."""

    def __init__(self, plan: Plan, memory: Memory | None = None):
        self.plan = plan
        self.memory = memory or Memory()

    @property
    def system(self) -> str:
        """The reader's system of units."""
        return self.plan.system

    @cached_property
    def design(self) -> Design:
        """The plan solved, without any reading of today."""
        return self.memory.solve(Plan(self.plan.lasting()))

    @cached_property
    def sheet(self) -> Sheet:
        """What the plan's own questions are read from."""
        return Sheet(self.plan, SPECS)

    def with_readings(self, typed: Mapping[str, str]) -> Design:
        """The plan solved with readings of one day, as texts of the topic that dose by them."""
        return self.memory.copy().solve(Plan({**self.plan.lasting(), **typed}))

    def number(self, key: str) -> float | None:
        """A result or an input of the plan, ``None`` where there is none."""
        found = self.design.value(key)
        return float(found) if isinstance(found, (int, float)) and not isinstance(found, bool) else None

    def field(self, name: str) -> Field:
        """What is asked of a reading."""
        return OF_KIND[READING][name]

    def show(self, name: str, value: float) -> str:
        """A reading's value as the reader sees it."""
        one = self.field(name)
        return units.show(value, one.kind, self.system, one.us, one.metric)

    def figure(self, name: str, value: float) -> str:
        """The same without its unit."""
        one = self.field(name)
        unit = unit_for(one, self.system)
        amount = units.convert(value, one.kind, unit) if unit else value
        return number(round(amount, 1) if one.kind in ("temperature", "length") else amount, 3)

    def apart(self, name: str, difference: float) -> str:
        """A difference of two values of one reading, in its unit, without the unit's name."""
        one = self.field(name)
        unit = unit_for(one, self.system)
        amount = difference / units.KINDS[one.kind].units[unit].factor if unit else difference
        return number(round(amount, 1 if name in ("ph", "temperature", "level", "oxygen") else 2), 3)

    @cached_property
    def circulates(self) -> bool:
        """Whether there is a reservoir."""
        return scheme.circulates(self.sheet)

    @cached_property
    def still(self) -> bool:
        """Whether roots breathe in the gap that the falling water leaves: it is never filled up to the board again."""
        return self.sheet.text(scheme.KEY) == scheme.STILL

    @property
    def vessel(self) -> str:
        """The vessel whose level is read."""
        return "reservoir" if self.circulates else "bath"

    @cached_property
    def mark(self) -> float | None:
        """Depth in m of the vessel whose level is read, when it is topped up."""
        return self.sheet.input_if_any(f"{self.vessel}.water_depth")

    def water_at(self, depth_m: float) -> float | None:
        """Water in m3 of that vessel (of all baths where there is no reservoir) up to a depth."""
        try:
            one = volume_to(self.sheet, self.vessel, depth_m)[0]
            return one if self.circulates else one * self.sheet.whole("bath.count")
        except (Unanswered, OutOfRange):
            return None

    def water_read(self, depth_m: float) -> float | None:
        """The same for a level that was read; ``None`` for one that the vessel cannot show: a slip that was kept."""
        rim = self.sheet.input_if_any(f"{self.vessel}.depth")
        return None if depth_m < 0.0 or (rim is not None and depth_m > rim * 1.001) else self.water_at(depth_m)

    def poured(self, numbers: Mapping[str, float]) -> float:
        """Water in m3 that a reading says was added; nothing for more than all there is: a slip that was kept."""
        added = numbers.get("added", 0.0)
        return 0.0 if self.working is not None and added > self.working * 1.05 else added

    @cached_property
    def working(self) -> float | None:
        """All the working water in m3."""
        return self.number("water.working_volume")

    def missing(self, depth_m: float) -> float | None:
        """Water in m3 between a level and the mark; nothing at the mark or over it."""
        full, there = (self.water_at(self.mark) if self.mark else None), self.water_at(depth_m)
        return None if full is None or there is None else max(full - there, 0.0)

    def saturation(self, temperature_c: float, ec_ms_cm: float | None = None) -> float | None:
        """Oxygen in mg/L that the water holds at a temperature under this place's air."""
        pressure = self.number("place.air_pressure")
        if pressure is None:
            return None
        try:
            salinity = oxygen_physics.salinity_from_conductivity(
                conductivity_ms_cm=1.5 if ec_ms_cm is None else ec_ms_cm)
            return oxygen_physics.saturation(temperature_c=temperature_c, pressure_pa=pressure, salinity=salinity)
        except OutOfRange:
            return None

    def band_at(self, name: str, temperature_c: float | None) -> Band | None:
        """The band of a reading taken in water of this temperature: oxygen goes up to what such water holds."""
        band = self.bands.get(name)
        holds = self.saturation(temperature_c) if name == "oxygen" and temperature_c is not None else None
        if band is None or holds is None or holds <= band.low:
            return band
        return replace(band, high=holds, why="from the oxygen to keep up to what water this warm holds")

    def _level_band(self) -> Band | None:
        mark = self.mark
        if mark is None:
            return None
        if self.circulates:
            least = self.sheet.input_if_any("use.least")
            lowest = mark * (0.3 if least is None else least)
        else:
            lowest = mark - (self.sheet.input_if_any("use.fall") or 0.05)
        if self.still:
            return Band(lowest, mark * 1.02, "as far as your plan lets it fall: the gap of air is the roots'")
        return Band(mark - GONE_SHARE * (mark - lowest), mark * 1.02,
                    "a fifth of what may be used below the mark, up to the mark")

    @cached_property
    def bands(self) -> dict[str, Band]:
        """The band of each reading, by its name; none where the plan cannot say."""
        found: dict[str, Band] = {}
        names = str(self.design.value("crops.names") or "leaf crops")
        for name, keys, why in (
                ("ph", (("crops.ph_low", "crops.ph_high"),), f"what suits {names}"),
                ("temperature", (("heat.band_low", "heat.band_high"), ("crops.root_low", "crops.root_high")),
                 f"the water that {names} grow in"),
                ("ec", (("crops.ec_low", "crops.ec_high"),), f"what suits {names}")):
            pair = next(((low, high) for low, high in ((self.number(a), self.number(b)) for a, b in keys)
                         if low is not None and high is not None and low < high), None)
            low, high = pair or USUAL[name]
            found[name] = Band(low, high, why if pair else "the crop table's lettuce; the plan does not tell")
        water = self.number("water.temperature")
        # Colder water holds more: what the plan's warmer water could not hold is no high reading yet.
        full = self.saturation(min(20.0 if water is None else water, found["temperature"].low))
        aim = self.number("oxygen.target")
        least = LEAST_OXYGEN if aim is None else aim
        if full is not None and least < full:
            found["oxygen"] = Band(least, full, "from the oxygen to keep up to what water at the cold end of its band "
                                                "holds")
        level = self._level_band()
        if level is not None:
            found["level"] = level
        return {name: found[name] for name in ORDER if name in found}
