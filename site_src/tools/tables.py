"""The tables of the reference page, printed from the same functions and data that the calculator uses."""

from __future__ import annotations

from dataclasses import dataclass

ALTITUDES_M = (0, 500, 1000, 1500, 2000, 2500, 3000)
FEET_IN_M = 1 / 0.3048


@dataclass(frozen=True)
class Printed:
    """One table as texts: its anchor, title, the words before it, column heads and rows; the first cell heads a row."""

    anchor: str
    title: str
    words: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def oxygen() -> Printed:
    """Oxygen that fresh water holds, 0 to 40 C, from the sea to 3000 m."""
    from calc.relations import atmosphere
    from calc.relations import oxygen as physics
    pressures = [atmosphere.pressure_at_altitude(altitude_m=float(height)) for height in ALTITUDES_M]
    heads = tuple(f"{height:,} m ({height * FEET_IN_M:,.0f} ft), {pressure / 1000:.1f} kPa"
                  for height, pressure in zip(ALTITUDES_M, pressures, strict=True))
    rows = tuple(
        (f"{celsius} °C ({celsius * 9 / 5 + 32:.1f} °F)",
         *(f"{physics.saturation(temperature_c=float(celsius), pressure_pa=pressure, salinity=0.0):.2f}"
           for pressure in pressures)) for celsius in range(41))
    return Printed("oxygen", "Oxygen that fresh water holds, mg/L",
                   f"In balance with air, by altitude. Source: {physics.saturation.relation.source}; pressure by "
                   f"altitude: {atmosphere.pressure_at_altitude.relation.source}. Nutrient solution of 1.6 mS/cm holds "
                   "about half a percent less.", ("Water", *heads), rows)


def every() -> tuple[Printed, ...]:
    """All tables of the reference page, in order."""
    return (oxygen(),)
