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

    @property
    def told_below(self) -> str:
        """The last column, where it is of sentences: told under the table, which on a phone would be a tower."""
        return self.heads[-1] if self.heads[-1] in ("Source", "How sure") else ""

    @property
    def columns(self) -> int:
        """How many columns the table itself has."""
        return len(self.heads) - bool(self.told_below)


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


def _span(cell, factor: float = 1.0, offset: float = 0.0, digits: int = 3) -> str:
    """A cell of the crop table as "low to high", converted."""
    ends = []
    for end in (cell.low, cell.high):
        value = float(f"{end * factor + offset:.{digits}g}")
        ends.append(f"{value:,.0f}" if value >= 10**digits or value == int(value) else f"{value:g}")
    return ends[0] if ends[0] == ends[1] else f"{ends[0]} to {ends[1]}"


def _inches(cell) -> str:
    """A range of lengths as builders write them, to the quarter of an inch."""
    from calc import units
    ends = [units.show(round(end / 0.00635) * 0.00635, "length", "us", us="in", fraction=8).removesuffix(" in")
            for end in (cell.low, cell.high)]
    return ends[0] if ends[0] == ends[1] else f"{ends[0]} to {ends[1]}"


def _fahrenheit(cell) -> str:
    """A range of temperatures in whole degrees."""
    ends = [f"{end * 1.8 + 32:.0f}" for end in (cell.low, cell.high)]
    return ends[0] if ends[0] == ends[1] else f"{ends[0]} to {ends[1]}"


def crops() -> Printed:
    """Every crop of the table with what it wants; where each cell is from shows when the crop is chosen."""
    from calc.data import crops as data
    from calc.data import shares
    rows = []
    for crop in data.CROPS:
        cells = (crop.spacing, crop.nursery, crop.raft, crop.ec, crop.ph, crop.root, crop.dli, crop.mass)
        known = sorted({cell.status for cell in cells})
        rows.append((crop.name, data.FITNESS[crop.fitness.text], _span(crop.spacing, 100),
                     _inches(crop.spacing), _span(crop.nursery), _span(crop.raft), _span(crop.ec),
                     _span(crop.ph), _span(crop.root), _fahrenheit(crop.root), _span(crop.dli),
                     _span(crop.mass, 1000), "; ".join(known)))
    return Printed("crops", "Crops and what they need",
                   "Ranges, since sources and sorts differ. Of all cells of this table and of the words beside them, "
                   f"{shares.said(shares.crop_cells())}. Choose a crop in the planner to see the source of every cell, "
                   "and who says otherwise.",
                   ("Crop", "On a raft", "Spacing, cm", "Spacing, in", "Nursery, days", "On the raft, days",
                    "EC, mS/cm", "pH", "Water, °C", "Water, °F", "Light, mol/m²/d", "Mass, g", "How sure"), tuple(rows))


def targets() -> Printed:
    """The published feed formulas."""
    from calc.data import shares
    from calc.data import targets as data
    elements = ("N", "P", "K", "Ca", "Mg", "S", "Fe", "Mn", "Zn", "B", "Cu", "Mo")
    rows = [(one.name, *(f"{one.mg_l[element]:.3g}" if element in one.mg_l else "" for element in elements),
             f"{one.source} ({one.words})") for one in data.TARGETS if not one.retired]
    return Printed("targets", "Nutrient formulas, mg/L of each element",
                   "An empty cell: the formula names no aim. Of the numbers, "
                   f"{shares.said(shares.formula_elements())}. Compare a formula with its source before a whole season "
                   "rests on it.", ("Formula", *elements, "Source"), tuple(rows))


def salts() -> Printed:
    """The salts, with what is in them."""
    from calc.data import salts as data
    rows = []
    for one in data.SALTS:
        shares = ", ".join(f"{element} {share * 100:.3g} %" for element, share in data.shares(one.key).items()
                           if share > 0 and element not in (data.NO3, data.NH4))
        rows.append((one.name, one.formula, shares, one.bottle,
                     f"{one.solubility_g_l:,.0f}", f"{one.cold_g_l:,.0f}" if one.cold_g_l else "", one.hazard or "",
                     f"{one.source}; {one.dissolves}; {one.status}"))
    return Printed("salts", "Salts and what they hold",
                   "Shares of the mass. Nitrogen is told in all. Goggles and gloves; read the safety data sheet of "
                   "what you buy.",
                   ("Salt", "Formula", "Holds", "Bottle", "Most in a liter at 20 °C, g", "At 10 °C, g", "Hazard",
                    "Source"), tuple(rows))


def every() -> tuple[Printed, ...]:
    """All tables of the reference page, in order."""
    return (oxygen(), crops(), targets(), salts())
