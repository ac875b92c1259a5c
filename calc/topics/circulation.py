"""How the water gets from the reservoir to the bath all day, and how it gets back without spilling."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from ..data.fittings import (
    EXIT_K,
    HOSE_SPEED_M_S,
    HOSE_SPEED_SOURCE,
    HOSES,
    INLET_K,
    PVC_PIPES,
    SCREWED_ELBOWS,
    SMOOTH_ELBOWS,
    SMOOTH_ROUGHNESS_M,
    TEES,
    nearest_size,
)
from ..data.pumps import SOURCE as PUMPS_SOURCE
from ..data.pumps import WATER_PUMPS
from ..declare import Choice, Field, Result, Row, Table, only_when
from ..errors import Unanswered, UnreadableQuantity
from ..models.curves import QUADRATIC, Curve, measured_curve, operating_flow, read_points
from ..relations import overflow, pipe
from ..relations import pump as pump_physics
from ..relations import water as water_physics
from . import scheme

if TYPE_CHECKING:
    from ..sheet import Sheet

NAME = "circulation"
TITLE = "Circulation"
QUESTION = "Which pump and hose move the water, and how does it run back?"

SCREWED, SMOOTH = "screwed", "smooth"
INSIDE, WALL = "inside", "wall"
FAR_TOO_MUCH = 3.0
HALVINGS = 60

WHEN = scheme.WITH_RESERVOIR
FIELDS = only_when(WHEN, (
    Field("circulation.turnover", "turnover", "Turnover wanted", ("1 /h", "1 /h"), 1e-7, 0.1, "/h", "/h",
          help="how many times an hour the water of the baths is pumped through",
          why="0.5 to 2 bath volumes an hour is ample for mixing: engineering judgement, no source"),
    Field("circulation.lift", "length", "Lift", ("30 in", "75 cm"), 0.0, 50.0, "in", "cm",
          help="straight up, from the reservoir's LOW water level to the end of the hose at the bath",
          why="an invented example: a bath on a bench, a reservoir on the floor; measure your own"),
    Field("circulation.hose_bore", "length", "Hose bore", ("3/4 in", "19 mm"), 0.002, 0.5, "in", "mm",
          help="inside diameter of the hose from the pump to the bath", why="3/4 in hose suits a small bath"),
    Field("circulation.hose_length", "length", "Hose length", ("6 ft", "2 m"), 0.01, 500.0, "ft", "m",
          help="from the pump to the bath", why="an invented example; measure your own"),
    Field("circulation.elbows", "whole", "Elbows in the hose line", ("2", "2"), 0, 100,
          help="90 degree turns made by a fitting; a hose laid in a wide bend is none",
          why="one at the reservoir's rim, one at the bath's"),
    Field("circulation.elbow_kind", "choice", "Kind of elbows", (SCREWED, SCREWED), choices=(
        Choice(SCREWED, "Screwed or barbed"), Choice(SMOOTH, "Glued pipe"),
    ), help="glued elbows let water through more easily", why="screwed loses more, so this is the safe side"),
    Field("circulation.tees", "whole", "Tees turned through", ("0", "0"), 0, 100,
          help="tees where the water leaves by the side", why="0: one hose to one bath"),
    Field("circulation.pump", "text", "Pump", ("", ""),
          help="the name of a pump on the list; empty: the one with the fewest watts that is enough", optional=True,
          why="empty: chosen for you"),
    Field("circulation.rise", "length", "Allowed rise over the overflow", ("", ""), 0.001, 0.5, "in", "mm",
          help="how far the water may stand above the rim of the overflow", optional=True,
          why="empty: the water above the overflow while running, as asked under Water"),
    Field("circulation.blockage", "ratio", "Blockage allowance", ("50 %", "50 %"), 0.0, 0.95, "%", "%",
          help="the share of each overflow that roots and leaves may block",
          why="half: engineering judgement, no source"),
    Field("circulation.drains", "whole", "Overflows in one bath", ("1", "1"), 1, 20,
          help="standpipes or overflow holes", why="one works; a second saves the floor when the first clogs"),
    Field("circulation.overflow_place", "choice", "Where the overflow is", (INSIDE, INSIDE), choices=(
        Choice(INSIDE, "A standpipe inside the bath, past the edge of the board"),
        Choice(WALL, "A hole in the wall, clear of the board")),
        help="a standpipe needs a notch in the board", why="a standpipe sets the level, and is easy to clean"),
    Field("circulation.drain_fall", "length", "Fall of the drain", ("12 in", "30 cm"), 0.01, 50.0, "in", "cm",
          help="from the rim of the overflow down to the reservoir's water, or to the drain's end if that is higher",
          why="an invented example; measure your own"),
    Field("circulation.drain_length", "length", "Length of the drain", ("4 ft", "1.2 m"), 0.01, 500.0, "ft", "m",
          help="pipe from the overflow to the reservoir", why="an invented example; measure your own"),
))

TABLES = (
    Table("circulation.pumps", "Water pumps I can get", (
        Field("name", "text", "Pump", help="any name"),
        Field("shutoff_head", "length", "Shut-off head", ("5 ft", "1.5 m"), 0.01, 200.0, "ft", "m",
              help="the height at which no more water comes; a plate may call it maximum head"),
        Field("top_flow", "flow", "Top flow", ("200 gph", "800 L/h"), 1e-7, 1.0, "gph", "L/h",
              help="the flow on the plate, with no height to climb"),
        Field("power", "power", "Power", ("10 W", "10 W"), 0.01, 100000.0, "W", "W", help="from the plug"),
        Field("price", "money", "Price", minimum=0.0, maximum=1e6, optional=True, help="optional"),
        Field("points", "text", "Measured points", optional=True,
              help="optional, L/h @ m of head: 1500 @ 0, 900 @ 1, 0 @ 2"),
    ), WATER_PUMPS, help="plate values; with measured points the curve goes through them instead of a parabola",
        why=PUMPS_SOURCE, when=WHEN),
)

RESULTS = (
    Result("circulation.target_flow", "flow", "Flow wanted", "gph", "L/h"),
    Result("circulation.pump_flows", "rows", "What each pump on the list moves here"),
    Result("circulation.curves", "rows", "The pump's curve beside what the hose asks"),
    Result("circulation.pump_name", "text", "Water pump"),
    Result("circulation.flow", "flow", "Flow, running", "gph", "L/h"),
    Result("circulation.head", "length", "Head the pump works against", "ft", "m"),
    Result("circulation.friction", "length", "Of which friction in the hose", "ft", "m"),
    Result("circulation.fitting_loss", "length", "Of which fittings", "ft", "m"),
    Result("circulation.turnover", "turnover", "Turnover, running", "/h", "/h"),
    Result("circulation.velocity", "speed", "Speed in the hose", "ft/s", "m/s"),
    Result("circulation.reynolds", "count", "Reynolds number in the hose"),
    Result("circulation.hose_advice", "text", "Hose size"),
    Result("circulation.power", "power", "Water pump, power", "W", "W"),
    Result("circulation.hydraulic_power", "power", "Of which reaches the water", "W", "W"),
    Result("circulation.drain_flow", "flow", "Flow each overflow must take", "gph", "L/h"),
    Result("circulation.overflow_bore", "length", "Overflow pipe, bore", "in", "mm"),
    Result("circulation.overflow_pipe", "text", "Overflow pipe, as sold"),
    Result("circulation.overflow_flow", "flow", "What that overflow takes, clean, at the allowed rise", "gph", "L/h"),
    Result("circulation.film_depth", "length", "Water over a clean overflow, running", "in", "mm"),
    Result("circulation.drain_capacity", "flow", "What the drain pipe takes, running full", "gph", "L/h"),
)


def target(sheet: Sheet) -> None:
    """Turnover wanted, as a flow for all baths together."""
    baths = sheet.whole("bath.count") * sheet.result("water.bath_volume")
    sheet.put("circulation.target_flow", sheet["circulation.turnover"] * baths,
              note="Turnover wanted, times the water in all baths.")


def system_head(flow: float, lift_m: float, bore_m: float, length_m: float, k_sum: float, density: float,
                viscosity: float) -> float:
    """Head in m that a flow (m3/s) through the hose asks for: lift, friction and fittings."""
    if flow <= 0.0:
        return lift_m
    friction = pipe.friction_head(flow_m3_s=flow, bore_m=bore_m, length_m=length_m, roughness_m=SMOOTH_ROUGHNESS_M,
                                  density_kg_m3=density, viscosity_pa_s=viscosity)
    speed = pipe.velocity(flow_m3_s=flow, bore_m=bore_m)
    return lift_m + friction + pipe.fitting_head(velocity_m_s=speed, k_sum=k_sum)


@lru_cache(maxsize=1024)
def operate(curve: Curve, system: tuple[float, ...]) -> float:
    """Flow in m3/s where a pump's curve meets the system; 0 when its shut-off is not above the lift.

    ``system`` holds the arguments of ``system_head`` after the flow.
    """
    return operating_flow(curve, lambda flow: system_head(flow, *system))


def _system(sheet: Sheet) -> tuple[float, ...]:
    temperature = sheet["water.temperature"]
    return (sheet["circulation.lift"], sheet["circulation.hose_bore"], sheet["circulation.hose_length"], _k_sum(sheet),
            water_physics.water_density(temperature_c=temperature),
            water_physics.water_viscosity(temperature_c=temperature))


def _k_sum(sheet: Sheet) -> float:
    table = SCREWED_ELBOWS if sheet.text("circulation.elbow_kind") == SCREWED else SMOOTH_ELBOWS
    bore = sheet["circulation.hose_bore"]
    return (sheet.whole("circulation.elbows") * nearest_size(bore, table).k
            + sheet.whole("circulation.tees") * nearest_size(bore, TEES).k + EXIT_K)


def pump_curve(sheet: Sheet, row: Row) -> Curve:
    """The curve of a row of the pump table; a fault on the table when its points cannot be read."""
    if not row["points"]:
        return Curve(row["shutoff_head"], row["top_flow"], QUADRATIC)
    try:
        return _points_curve(row["points"], sheet.system, row["shutoff_head"], row["top_flow"])
    except UnreadableQuantity as error:
        sheet.fault("circulation.pumps",
                    f"Measured points of {row['name']}: the list {str(error).rstrip('.')}.")


@lru_cache(maxsize=256)
def _points_curve(text: str, system: str, shutoff: float, top_flow: float) -> Curve:
    return measured_curve(read_points(text, system, "L/h", "length", "m"), shutoff, top_flow)


def pumps(sheet: Sheet) -> None:
    """Each pump of the list on its own curve, through this hose and up this lift."""
    rows = sheet.rows("circulation.pumps")
    if not rows:
        sheet.fault("circulation.pumps", "The list of water pumps is empty: put in at least one pump you can get.")
    system = _system(sheet)
    found = []
    for row in rows:
        curve = pump_curve(sheet, row)
        flow = operate(curve, system)
        found.append({"name": row["name"], "flow": flow, "head": curve.push_at(flow), "shutoff_head": curve.shutoff,
                      "watts": row["power"], "price": row["price"]})
    sheet.put("circulation.pump_flows", found, pump_physics.pump_curve,
              note="Where each pump's curve meets lift, friction and fittings.")


def pump(sheet: Sheet) -> None:
    """The pump: the one named, or the fewest watts that reach the flow wanted."""
    rows = sheet.result_rows("circulation.pump_flows")
    wanted = sheet.result("circulation.target_flow")
    name = sheet.optional("circulation.pump", str)
    lift = sheet.show(sheet["circulation.lift"], "length", "ft", "m")
    if name:
        row = next((row for row in rows if row["name"].lower() == name.strip().lower()), None)
        if row is None:
            known = ", ".join(row["name"] for row in rows)
            sheet.fault("circulation.pump", f"Pump must be a name on the list ({known}), or empty to have one chosen.")
        if row["flow"] <= 0.0:
            sheet.fault("circulation.pump",
                        f"{row['name']} cannot lift the water: its shut-off head is "
                        f"{sheet.show(row['shutoff_head'], 'length', 'ft', 'm')} and the lift is {lift}. "
                        "Choose a stronger pump, or lower the bath.")
        how = "The pump you named."
    else:
        able = [row for row in rows if row["flow"] > 0.0]
        if not able:
            sheet.fault("circulation.lift", f"No pump on the list can lift water {lift}: every shut-off head is lower. "
                                            "Lower the bath, or put in a stronger pump.")
        enough = [row for row in able if row["flow"] >= wanted]
        # The fewest watts; of equals the cheaper one, then the one that moves more.
        row = (min(enough, key=lambda one: (one["watts"], one["price"] is None, one["price"] or 0.0, -one["flow"]))
               if enough else max(able, key=lambda one: one["flow"]))
        how = ("The fewest watts among the pumps on the list that reach the flow wanted." if enough
               else "No pump on the list reaches the flow wanted; this one moves the most.")
    _put_pump(sheet, row, wanted, how)


def _put_pump(sheet: Sheet, row: Row, wanted: float, how: str) -> None:
    flow = row["flow"]
    _, bore, length, k_sum, density, viscosity = _system(sheet)
    sheet.put("circulation.pump_name", row["name"], note=how)
    sheet.put("circulation.flow", flow,
              note="Where the pump's curve meets lift, friction and fittings, all valves open.")
    sheet.put("circulation.head", row["head"],
              note="Lift, friction and fittings at that flow; the pump gives just this.")
    sheet.put("circulation.power", row["watts"], note="The plate's watts.")
    speed = sheet.work("circulation.velocity", pipe.velocity, flow_m3_s=flow, bore_m=bore)
    sheet.work("circulation.reynolds", pipe.reynolds, velocity_m_s=speed, bore_m=bore, density_kg_m3=density,
               viscosity_pa_s=viscosity)
    sheet.work("circulation.friction", pipe.friction_head, flow_m3_s=flow, bore_m=bore, length_m=length,
               roughness_m=SMOOTH_ROUGHNESS_M, density_kg_m3=density, viscosity_pa_s=viscosity)
    sheet.work("circulation.fitting_loss", pipe.fitting_head, velocity_m_s=speed, k_sum=k_sum)
    sheet.work("circulation.hydraulic_power", pump_physics.hydraulic_power, flow_m3_s=flow, head_m=row["head"],
               density_kg_m3=density)
    sheet.put("circulation.turnover", flow / (sheet.whole("bath.count") * sheet.result("water.bath_volume")),
              note="Flow, running, divided by the water in all baths.")
    gives, asked = (sheet.shown_as("circulation.flow", one) for one in (flow, wanted))
    if flow < wanted:
        sheet.caution("pump-too-small", "warning",
                      f"The water pump is too small: {row['name']} moves {gives} and {asked} is wanted. Take a wider "
                      "hose, a lower lift, a stronger pump on the list, or accept a lower turnover.")
    elif flow > FAR_TOO_MUCH * wanted:
        sheet.caution("pump-too-strong", "note",
                      f"{row['name']} moves {gives} where {asked} is wanted. Fit a valve after the pump and half close "
                      "it; the overflow is sized for the valve left open.")


def hose(sheet: Sheet) -> None:
    """Hose size: small enough to buy, wide enough that the water is not hurried."""
    flow, speed = sheet.result("circulation.flow"), sheet.result("circulation.velocity")
    fits = next((size for size in HOSES if pipe.velocity(flow_m3_s=flow, bore_m=size.bore_m) <= HOSE_SPEED_M_S), None)
    limit = sheet.shown_as("circulation.velocity", HOSE_SPEED_M_S)
    now = sheet.shown("circulation.velocity")
    if speed > HOSE_SPEED_M_S:
        better = (f"take {fits.name} or wider" if fits
                  else f"take pipe wider than {HOSES[-1].name}, or several hoses side by side")
        text = f"Too narrow: the water runs at {now}, and up to {limit} is usual; {better}."
        sheet.caution("hose-speed", "warning", f"Hose {text[0].lower()}{text[1:]}")
    elif fits and fits.bore_m < sheet["circulation.hose_bore"] * 0.99:
        text = f"Wide enough: {now}. At this flow, {fits.name} would stay under {limit} too, with more friction."
    else:
        text = f"Wide enough: {now}, and up to {limit} is usual."
    sheet.put("circulation.hose_advice", text,
              note="The smallest size sold that keeps the water under the usual speed.", source=HOSE_SPEED_SOURCE)


def way_back(sheet: Sheet) -> None:
    """Overflow of each bath: wide enough at the allowed rise, partly blocked, with one wholly blocked if it has two."""
    rise = sheet.optional("circulation.rise")
    if rise is None:
        rise = sheet["bath.film"]
    if rise <= 0.0:
        sheet.fault("circulation.rise", "Allowed rise over the overflow must be more than 0: water only runs over a "
                                        "rim that it stands above. Enter a value, like 1/2 in or 12 mm.")
    drains = sheet.whole("circulation.drains")
    flow = sheet.result("circulation.flow") / sheet.whole("bath.count")
    share = flow / drains
    need = share / (1.0 - sheet["circulation.blockage"])
    if drains > 1:
        # The others must take it all when one is blocked outright.
        need = max(need, flow / (drains - 1))
    else:
        sheet.caution("second-drain", "warning",
                      "One overflow in a bath: when roots or a leaf block it, the pump empties the reservoir over the "
                      "rim. Fit a second overflow, a little higher, and a strainer on both.")
    sheet.put("circulation.drain_flow", need, note="Flow into one bath, shared among its overflows, made larger by the "
                                                   "blockage allowance.")
    _check_rim(sheet, rise)
    size = next((one for one in PVC_PIPES
                 if overflow.standpipe_flow(rim_bore_m=one.bore_m, head_m=rise) >= need), None)
    if size is None:
        most = overflow.standpipe_flow(rim_bore_m=PVC_PIPES[-1].bore_m, head_m=rise)
        asked, taken = (sheet.shown_as("circulation.drain_flow", one) for one in (need, most))
        sheet.caution("overflow-too-small", "danger",
                      f"The water cannot get back: each overflow must take {asked}, and even {PVC_PIPES[-1].name} "
                      f"takes {taken} at a rise of {sheet.show(rise, 'length', 'in', 'mm')}. Fit more overflows, "
                      "allow more rise, or pump less.")
        raise Unanswered("circulation.drains", "circulation.rise")
    sheet.put("circulation.overflow_bore", size.bore_m, overflow.standpipe_flow,
              {"rim_bore_m": size.bore_m, "head_m": rise},
              note="The smallest pipe on the list whose rim takes the flow each overflow must take.",
              source=size.source)
    sheet.put("circulation.overflow_pipe", size.name, note="As sold, with its average bore.", source=size.source)
    sheet.work("circulation.overflow_flow", overflow.standpipe_flow, rim_bore_m=size.bore_m, head_m=rise)
    sheet.put("circulation.film_depth", standing_film(size.bore_m, share, rise), overflow.standpipe_flow,
              {"rim_bore_m": size.bore_m},
              note="The height at which a clean overflow takes its share of the flow.")


def _check_rim(sheet: Sheet, rise: float) -> None:
    """Say so when the allowed rise comes near the rim of the bath."""
    try:
        spare = sheet.result("water.rim_to_water")
    except Unanswered:
        return
    # The water depth was measured with the pump running, so the film is in it; only more than that stands higher.
    above = rise - sheet["bath.film"]
    if above >= spare:
        sheet.caution("rise-over-rim", "danger",
                      f"Spill: the allowed rise lifts the water {sheet.show(above, 'length', 'in', 'mm')} above its "
                      f"running level, and the rim is {sheet.show(spare, 'length', 'in', 'mm')} away. Allow less rise, "
                      "or keep the water lower.")


@lru_cache(maxsize=256)
def standing_film(bore_m: float, flow: float, most_m: float) -> float:
    """Height in m, up to ``most_m``, at which a round rim of this bore takes the flow (m3/s); found by halving."""
    low, high = 0.0, most_m
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        if middle > 0.0 and overflow.standpipe_flow(rim_bore_m=bore_m, head_m=middle) >= flow:
            high = middle
        else:
            low = middle
    return high


def drain(sheet: Sheet) -> None:
    """The drain pipe behind the overflow: whether gravity carries the water down it."""
    bore = sheet.result("circulation.overflow_bore")
    temperature = sheet["water.temperature"]
    fall, length = sheet["circulation.drain_fall"], sheet["circulation.drain_length"]
    if length < fall * (1 - 1e-9):
        sheet.fault("circulation.drain_length", "Length of the drain is shorter than its fall: enter "
                                                f"{sheet.show(fall, 'length', 'ft', 'm')} or more.")
    elbows = 2 * nearest_size(bore, SMOOTH_ELBOWS).k
    capacity = sheet.work(
        "circulation.drain_capacity", overflow.gravity_drain_flow, fall_m=fall, bore_m=bore, length_m=length,
        k_sum=INLET_K + elbows, roughness_m=SMOOTH_ROUGHNESS_M,
        density_kg_m3=water_physics.water_density(temperature_c=temperature),
        viscosity_pa_s=water_physics.water_viscosity(temperature_c=temperature))
    need = sheet.result("circulation.drain_flow")
    if capacity < need:
        sheet.caution("drain-too-small", "danger",
                      f"The drain is too small: it takes {sheet.shown('circulation.drain_capacity')} running full, "
                      f"and each overflow must take {sheet.shown('circulation.drain_flow')}. Give it more fall, "
                      "make it shorter, use wider pipe, or fit more overflows.")


CURVE_POINTS = 16


def curves(sheet: Sheet) -> None:
    """The chosen pump's curve and what lift and hose ask, from no flow to the pump's top flow."""
    name = sheet.result("circulation.pump_name", str)
    row = next(row for row in sheet.rows("circulation.pumps") if row["name"] == name)
    curve, system = pump_curve(sheet, row), _system(sheet)
    flows = [curve.top_flow * step / CURVE_POINTS for step in range(CURVE_POINTS + 1)]
    sheet.put("circulation.curves",
              [{"flow": flow, "pump": curve.push_at(flow), "asked": system_head(flow, *system)} for flow in flows],
              note="They meet at the flow and head the pump runs at.")


STEPS = (target, pumps, pump, curves, hose, way_back, drain)
