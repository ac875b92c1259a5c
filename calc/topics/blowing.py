"""What each air pump really blows at the depth of the stones, and the stones, hoses and valves it takes."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from math import ceil
from typing import TYPE_CHECKING

from .. import units
from ..declare import Row
from ..errors import UnreadableQuantity
from ..geometry import stones as floor_grids
from ..models.curves import LINE, Curve, measured_curve, operating_flow, read_points
from ..relations import air as physics
from ..relations import water as water_physics
from . import scheme
from .owned import in_play, names

if TYPE_CHECKING:
    from ..sheet import Sheet

HAIR = 1e-9
STRAINED = 0.85
CROWDED_M = 0.10
MOST_DRAWN = 2000


def pressure(sheet: Sheet) -> None:
    """What the air has to be pushed against: depth, wet stone and hose."""
    water_depth = sheet["bath.water_depth"]
    depth = sheet.optional("air.depth")
    if depth is None:
        depth = water_depth - sheet["air.stone_height"]
        if depth < 0.0:
            deep, high = sheet.shown("bath.water_depth"), sheet.shown("air.stone_height")
            sheet.fault("air.stone_height", "Height of a stone is more than the water in the bath is deep, so it would "
                        f"stand out of it: enter {deep} or less.",
                        {"bath.water_depth": f"Bath water depth does not cover a stone, which is {high} high: enter "
                                             "that or more, or put in lower stones."})
        note = "The bath's water depth less the height of a stone."
    else:
        note = "As you put it in."
        if depth > water_depth * (1 + 1e-9):
            sheet.fault("air.depth", "Depth of the stones is more than the water in the bath is deep: enter "
                                     f"{sheet.shown('bath.water_depth')} or less.")
    sheet.put("air.stone_depth", depth, note=note)
    density = water_physics.water_density(temperature_c=sheet["water.temperature"])
    head = sheet.work("air.water_pressure", water_physics.hydrostatic_pressure, depth_m=depth, density_kg_m3=density)
    load = hose_load(sheet)
    friction = load(sheet["air.stone_flow"])
    sheet.put("air.hose_pressure", friction, physics.tube_pressure_drop,
              {"flow_m3_s": sheet["air.stone_flow"], **_hose_arguments(sheet)})
    sheet.put("air.back_pressure", head + sheet["air.stone_pressure"] + friction,
              note="Pressure of the water over the stone, plus the wet stone, plus friction in the hose at a stone's "
                   "full flow.")


def _hose_arguments(sheet: Sheet) -> dict[str, float]:
    temperature = sheet["water.temperature"]
    return {"bore_m": sheet["air.hose_bore"], "length_m": sheet["air.hose_length"],
            "density_kg_m3": physics.air_density(temperature_c=temperature,
                                                 pressure_pa=sheet.result("place.air_pressure")),
            "viscosity_pa_s": physics.air_viscosity(temperature_c=temperature)}


def hose_load(sheet: Sheet) -> Callable[[float], float]:
    """Friction in one hose as a function of its flow (m3/s to Pa)."""
    arguments = _hose_arguments(sheet)
    return lambda flow: _drop(flow, **arguments)


def _drop(flow: float, bore_m: float, length_m: float, density_kg_m3: float, viscosity_pa_s: float) -> float:
    if flow <= 0.0 or length_m <= 0.0:
        return 0.0
    return physics.tube_pressure_drop(flow_m3_s=flow, bore_m=bore_m, length_m=length_m, density_kg_m3=density_kg_m3,
                                      viscosity_pa_s=viscosity_pa_s)


@lru_cache(maxsize=1024)
def operate(curve: Curve, standing_pa: float, stone_flow: float, hose: tuple[float, float, float, float],
            ) -> tuple[float, float, int]:
    """One pump with its own stones: (flow in m3/s, pressure in Pa, stones).

    ``standing_pa`` is what depth and wet stone take at any flow; ``hose`` is bore, length, air density and viscosity.
    It gets as many stones, each on its own hose, as keep every stone within ``stone_flow``. Flow is 0, with no stone,
    where the pump's shut-off is not above the standing pressure.
    """
    most = curve.flow_at(standing_pa)
    if most <= 0.0:
        return 0.0, curve.shutoff, 0
    # A hair of slack, so that 20.000000001 L/min through 20 L/min stones is one stone.
    stones = max(1, ceil(most / stone_flow * (1 - 1e-9)))
    flow = operating_flow(curve, lambda q: standing_pa + _drop(q / stones, *hose))
    return flow, curve.push_at(flow), stones


def pump_curve(sheet: Sheet, row: Row) -> Curve:
    """The curve of a row of the pump table; a fault on the table when its points cannot be read."""
    if not row["points"]:
        return Curve(row["shutoff"], row["free_flow"], LINE)
    try:
        return _points_curve(row["points"], sheet.system, row["shutoff"], row["free_flow"])
    except UnreadableQuantity as error:
        sheet.fault("air.pumps", f"Measured points of {row['name']}: the list {str(error).rstrip('.')}.")


@lru_cache(maxsize=256)
def _points_curve(text: str, system: str, shutoff: float, top_flow: float) -> Curve:
    return measured_curve(read_points(text, system, "L/min", "pressure", "kPa"), shutoff, top_flow)


def pumps(sheet: Sheet) -> None:
    """Each pump of the list on its own curve, at the depth of the stones."""
    standing = sheet.result("air.water_pressure") + sheet["air.stone_pressure"]
    hose = tuple(_hose_arguments(sheet).values())
    found, weak = [], []
    for row in in_play(sheet.rows("air.pumps")):
        curve = pump_curve(sheet, row)
        flow, push, stones = operate(curve, standing, sheet["air.stone_flow"], hose)
        if stones == 0:
            weak.append(row)
        found.append({"name": row["name"], "free_flow": row["free_flow"], "delivered": flow, "pressure": push,
                      "stones": stones, "watts": row["power"], "price": row["price"], "owned": row["owned"] or 0,
                      "strained": flow > 0.0 and push > STRAINED * curve.shutoff, "example": row["example"]})
    needed = sheet.shown_as("air.water_pressure", standing)
    if found and len(weak) == len(found):
        sheet.fault("air.depth" if sheet.optional("air.depth") is not None else "air.pumps",
                    f"No pump on the list can push air this deep: depth and stone take {needed}, and every shut-off "
                    "pressure is lower. Hang the stones higher, or put in a stronger pump.",
                    {"air.stone_pressure": "", "bath.water_depth": ""})
    sheet.put("air.pump_flows", found, physics.air_pump_line,
              note="Each pump with its own stones and hoses, where its curve meets depth, stone and friction.")
    if weak:
        sheet.caution("air-pump-too-weak", "warning",
                      f"Air pumps that blow nothing at this depth: {names(weak)}. Depth and stone take {needed}, "
                      "and their shut-off pressure is no higher.", lead="Pumps too weak",
                      brief=f"{len(weak)} on the list blow nothing at this depth: it takes {needed}.")


def stones(sheet: Sheet) -> None:
    """How many stones, hoses, manifolds and check valves the chosen pumps take."""
    running = sheet.result_rows("air.pumps_running")
    if not running:
        return
    wanted = sum(row["quantity"] * row["stones"] for row in running)
    baths, share = sheet.whole("bath.count"), scheme.bath_air_share(sheet)
    by_floor = ceil(sheet.result("water.footprint") / sheet["air.stone_area"] * (1 - HAIR))
    per_bath = max(1, ceil(wanted * share / baths - 1e-9), by_floor)
    reservoir = max(1, ceil(wanted * (1.0 - share) - 1e-9)) if share < 1.0 else 0
    total = per_bath * baths + reservoir
    sheet.put("air.stones_per_bath", per_bath, note="Stones shared out by volume of water, rounded up, and at least "
              "one for each stated area of floor.")
    if scheme.circulates(sheet):
        sheet.put("air.stones_reservoir", reservoir, note="Stones shared out by volume of water, rounded up.")
    sheet.put("air.stones", total, note="Enough that no stone passes more than its flow, in all the water.")
    sheet.put("air.hose_total", total * sheet["air.hose_length"], note="One hose to each stone.")
    quantity = sum(row["quantity"] for row in running)
    sheet.put("air.manifolds", quantity, note="One behind each pump.")
    sheet.put("air.outlets", total, note="One for each stone; the valves even out the flow, since the shallowest "
                                         "stone takes the most.")
    sheet.put("air.check_valves", quantity, note="One behind each pump, before its manifold.")


def grid(sheet: Sheet) -> None:
    """Where the stones of one bath lie: an even grid on its floor, seen from one corner."""
    count = sheet.result("air.stones_per_bath", int)
    if count > MOST_DRAWN:
        many = units.count(count)
        sheet.caution("air-stones-crowded", "warning", f"{many} stones in one bath are more than can be laid out. "
                      "Take stones that pass more air, or check how the rule is read.", lead="Stones crowded",
                      brief=f"{many} stones are more than fit one bath: take stones that pass more air.")
        return
    if sheet.result("water.opening_shape", str) == "round":
        places = floor_grids.round_grid(count, sheet.result("water.floor_length"))
    else:
        places = floor_grids.box_grid(count, sheet.result("water.floor_length"), sheet.result("water.floor_width"))
    sheet.put("air.stone_rows", [{"x": x, "y": y} for x, y in places],
              note="Spread evenly over the floor of the bath, measured from one corner.")
    if count < 2:
        return
    near = floor_grids.nearest(places)
    sheet.put("air.stone_spacing", near, note="Center to center, the closest two.")
    # Exactly a hand apart is not too close, whatever the last bit of a sum says.
    if near < CROWDED_M * (1 - HAIR):
        sheet.caution("air-stones-crowded", "note",
                      f"Air stones stand only {sheet.shown_as('air.stone_spacing', near)} apart: the water will boil "
                      "with bubbles and may splash. Take stones that pass more air, or check how the rule is read.",
                      lead="Stones crowded",
                      brief=f"They stand only {sheet.shown_as('air.stone_spacing', near)} apart: the water may splash.")
