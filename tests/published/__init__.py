"""Rafts and trials that others built and printed, as plans to solve: each printed figure beside what the plan gives.

``builds.toml`` holds them. A row is one of four: ``result`` names an answer (or ``by`` a reading made of several),
with the range from ``low`` to ``high`` that the printed figure allows and ``why`` it is so wide; ``differs`` beside it
says that the plan's figure lies outside, and why; ``refused`` names the answer that the plan will not work with, and
says why; ``lacks`` stands alone and says what a plan cannot say. ``says`` is the code of a caution that must be there.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

from calc import units
from calc.data.use import PEAK
from calc.plan import Plan
from calc.solve import SPECS, Design, solve

FILE = Path(__file__).resolve().parent / "builds.toml"
WEEKS = 365.25 / 7


@dataclass(frozen=True)
class Row:
    """One printed figure: its words, its text as printed, and how the plan's own is read."""

    quantity: str
    published: str
    unit: str = ""
    result: str = ""
    by: str = ""
    column: str = ""
    of: str = ""
    low: float = 0.0
    high: float = 0.0
    why: str = ""
    differs: str = ""
    lacks: str = ""
    refused: str = ""
    says: str = ""
    plan: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class Build:
    """A raft or a trial: its name, where it was printed, how much of that was read, the plan and the figures."""

    key: str
    name: str
    source: str
    read: str
    plan: dict[str, Any]
    rows: tuple[Row, ...]


def builds() -> list[Build]:
    """All builds, in the order of the file."""
    found = tomllib.loads(FILE.read_text(encoding="utf-8"))["build"]
    return [Build(**{**one, "rows": tuple(Row(**row) for row in one["rows"])}) for one in found]


@lru_cache(maxsize=64)
def _solved(answers: str) -> Design:
    # Keyed by text, for a plan's mapping cannot be.
    return solve(Plan.from_mapping(tomllib.loads(answers)["plan"][0]))


def design(build: Build, row: Row) -> Design:
    """The build's plan, with what this row changes in it, solved."""
    return _solved(f"plan = [{_inline({**build.plan, **row.plan})}]")


def _inline(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f'"{key}" = {_inline(one)}' for key, one in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_inline, value)) + "]"
    return f'"{value}"'


def _days(found: Design) -> float:
    return float((found.value("schedule.first_harvest") - found.value("schedule.start")).days)


def _yearly_harvest(found: Design) -> float:
    return float(found.value("schedule.most_heads") * WEEKS * found.value("crops.fresh_mass")
                 / found.value("water.surface_area"))


def _all_surface(found: Design) -> float:
    return float(units.convert(found.value("water.surface_area") * found.value("bath.count"), "area", "ft2"))


def _water_for_mass(key: str, peak: float) -> Callable[[Design], float]:
    """Litres for the one kilogram of the plan, over its hundred days, from the water of its thirstiest one."""
    return lambda found: float(found.value(key) * 1000.0 * 100.0 / peak)


def _saturation(temperature_c: float) -> Callable[[Design], float]:
    return lambda found: float(next(row["saturation"] for row in found.value("oxygen.saturation_table")
                                    if row["temperature"] == temperature_c))


def _driven(found: Design) -> float:
    return float(found.has("circulation")) + float(found.has("air"))


def _closed(found: Design) -> float:
    return float((found.value("circulation.overflow_closed") or "nan").split()[0])


def _main(found: Design) -> float:
    return float(found.value("circulation.main_pipe").split()[0])


READINGS: dict[str, Callable[[Design], float]] = {
    "days from seed to first harvest": _days,
    "kg harvested from a square meter in a year": _yearly_harvest,
    "pumps and air that a plan has": _driven,
    "nominal size of the return main": _main,
    "nominal size of the overflow, valve closed": _closed,
    "surface of all baths, ft2": _all_surface,
    "liters for a kilogram, likely": _water_for_mass("use.by_mass", PEAK.likely),
    "liters for a kilogram, low": _water_for_mass("use.by_mass_low", PEAK.low),
    "oxygen held at 5 C": _saturation(5.0),
    "oxygen held at 40 C": _saturation(40.0),
}


def got(build: Build, row: Row) -> float | None:
    """What the plan gives for a row, in the row's unit; ``None`` where it gives nothing."""
    found = design(build, row)
    if row.by:
        return READINGS[row.by](found)
    value = found.value(row.result)
    if row.column:
        value = next((one[row.column] for one in value or () if not row.of or row.of in map(str, one.values())), None)
    if value is None:
        return None
    kind = row.column if row.column in units.KINDS else SPECS[row.result].kind
    known = kind in units.KINDS and row.unit in units.KINDS[kind].units
    return float(units.convert(value, kind, row.unit) if known else value)


def within(row: Row, value: float | None) -> bool:
    """Whether the plan's figure lies in the range that the printed one allows."""
    return value is not None and row.low - 1e-9 <= value <= row.high + 1e-9
