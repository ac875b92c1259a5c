"""What the temperature topic shows beside its rows of answers."""

from __future__ import annotations

from ... import units
from ...moments import show_clock
from ...solve import Design
from .. import chart
from ..pieces import rows_table


def extra(design: Design) -> str:
    """What each change would do, and the ways that heat comes and goes."""
    return _changes(design) + _streams(design)


def _unit(design: Design) -> str:
    return "C" if design.system == "metric" else "F"


def day(design: Design, wide: bool) -> str:
    """A day of the water's and the air's temperature; "" without one."""
    rows = design.value("heat.day") or []
    if not rows:
        return ""
    unit = _unit(design)
    series = [chart.Line(words, [(row["hour"], units.convert(row[key], "temperature", unit)) for row in rows])
              for key, words in (("bath", "bath"), ("reservoir", "reservoir"), ("air", "air")) if key in rows[0]]
    said = [f"{words}: {design.shown(low)} to {design.shown(high)}." for words, low, high in (
        ("Bath", "heat.low", "heat.high"), ("Reservoir", "heat.reservoir_low", "heat.reservoir_high"),
        ("Air", "place.day_low", "place.day_high")) if design.value(low) is not None]
    low, high = design.value("heat.band_low"), design.value("heat.band_high")
    band = None
    if low is not None and high is not None:
        band = (units.convert(low, "temperature", unit), units.convert(high, "temperature", unit),
                f"wanted, {design.shown('heat.band_low')} to {design.shown('heat.band_high')}")
    return chart.lines(series, "hour of the day", f"temperature, °{unit}", "A day of the water and the air",
                       said=said, y_least=None, x_words=lambda hour: show_clock(hour, design.system),
                       x_ticks=(0, 6, 12, 18, 24), band=band, wide=wide)


def _difference(design: Design, kelvin: float) -> str:
    # One digit after the point, as far as the steps of the day are true.
    number = f"{units.convert(abs(kelvin), 'temperature_difference', _unit(design)):.1f}"
    if float(number) == 0.0:
        return "no change"
    return f"{number} {_unit(design)} {'warmer' if kelvin > 0 else 'cooler'}"


def _changes(design: Design) -> str:
    rows = [{"change": row["change"], "high": design.shown_as("heat.high", row["high"]),
             "by": _difference(design, row["high_by"]), "low": design.shown_as("heat.low", row["low"]),
             "low_by": _difference(design, row["low_by"])} for row in design.value("heat.what_ifs") or []]
    return rows_table("What each change would do, one at a time, the most help first", [
        ("change", "Change"), ("high", "Bath, high"), ("by", "High moves"), ("low", "Bath, low"),
        ("low_by", "Low moves")], rows) if rows else ""


def _streams(design: Design) -> str:
    rows = [{"way": row["way"], "in": design.shown_as("heat.cooler_energy", max(row["energy"], 0.0)),
             "out": design.shown_as("heat.cooler_energy", max(-row["energy"], 0.0))}
            for row in design.value("heat.streams") or []]
    if not rows:
        return ""
    table = rows_table("Heat into and out of all the water in a day",
                       [("way", "By way of"), ("in", "Comes in"), ("out", "Leaves")], rows)
    return (f'<details class="more" data-keep="heat-streams"><summary>Where the heat comes from and goes</summary>'
            f"{table}</details>")
