"""How the water gets from the reservoir to the bath all day, and how it gets back without spilling."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..data.fittings import HOSE_SPEED_M_S, HOSE_SPEED_SOURCE, SMOOTH_ROUGHNESS_M, hoses
from ..data.pumps import SOURCE as PUMPS_SOURCE
from ..data.pumps import WATER_PUMPS
from ..declare import Choice, Field, Result, Row, Table, Verdict, only_when
from ..figures import number
from ..relations import pipe
from ..relations import pump as pump_physics
from . import manifold, scheme
from .lifting import SCREWED, SMOOTH, operate, pump_curve, system_head, system_of
from .manifold import even, return_main
from .overflows import choices, drain, way_back
from .owned import called, in_play, running, water_duty
from .verdicts.circulation import MUCH_LESS, judge

if TYPE_CHECKING:
    from ..sheet import Sheet

NAME = "circulation"
TITLE = "Circulation"
QUESTION = "Which pump and hose move the water, and how does it run back?"
VERDICT = Verdict("Flow", {"fits": "The water goes round.", "tight": "Flow is tight.",
                           "fails": "The water does not go round.", "open": "Flow needs an answer."})

# The ways in which a flow may be asked for; one of them at a time.
ASKED = {"circulation.turnover": "Turnover wanted", "circulation.wanted_flow": "Flow wanted",
         "circulation.loading": "Flow over the surface"}
INSIDE, WALL = "inside", "wall"
FAR_TOO_MUCH = 3.0
# A pump that works nearer to its shut-off than this gives next to nothing at a little more lift.
STRAINED = 0.85
ONE_INCH_M = 0.025

# A canal's water is to change in 1 to 4 hours. Small baths are let have the quick end, large ones the slow.
RETENTION_SOURCE = ("a canal's water stays 1 to 4 hours: AgriCulture magazine, January 2018, p. 13, after FAO "
                    "Fisheries and Aquaculture Technical Paper 589; that small baths take the quick end is engineering "
                    "judgment")
QUICK, SLOW, SMALL_FLOW_M3_S = 1 / 3600.0, 0.25 / 3600.0, 0.2 / 3600.0
SMALL_SIDE = "once an hour in a small one, once in four hours in a large one"

WHEN = scheme.WITH_RESERVOIR
FIELDS = only_when(WHEN, (
    Field("circulation.turnover", "turnover", "Turnover wanted", ("", ""), 0.0, 0.1, "/h", "/h", optional=True,
          help="times an hour that a bath's water is pumped through; 0: no pump",
          why=f"empty: by the bath's size, {SMALL_SIDE}; {RETENTION_SOURCE}"),
    Field("circulation.wanted_flow", "flow", "Or flow wanted, all baths", ("", ""), 1e-7, 1.0, "gph", "L/h",
          optional=True, help="in the place of a turnover, like 100 gph",
          why="empty: from the turnover"),
    Field("circulation.loading", "surface_flow", "Or flow over the surface", ("", ""), 1e-8, 0.1, "gal/ft2/d",
          "m3/m2/d", optional=True, help="water a day over each area of bath, as trials print it",
          why="empty: from the turnover"),
    Field("circulation.lift", "length", "Lift", ("30 in", "75 cm"), 0.0, 50.0, "in", "cm",
          help="straight up, from the reservoir's LOW water to the hose's end",
          why="an invented example: a bath on a bench, a reservoir on the floor; measure your own"),
    Field("circulation.hose_bore", "length", "Hose bore", ("3/4 in", "19 mm"), 0.002, 0.5, "in", "mm",
          help="inside diameter, from the pump to the bath or to the header",
          why="3/4 in hose suits a small bath: engineering judgment"),
    Field("circulation.hose_length", "length", "Hose length", ("6 ft", "2 m"), 0.01, 500.0, "ft", "m",
          help="from the pump to the bath, or to the header of several", why="an invented example; measure your own"),
    *manifold.FIELDS,
    Field("circulation.elbows", "whole", "Elbows in the hose line", ("2", "2"), 0, 100,
          help="90 degree turns made by a fitting; a hose laid in a wide bend is none",
          why="one at the reservoir's rim, one at the bath's"),
    Field("circulation.elbow_kind", "choice", "Kind of elbows", (SCREWED, SCREWED), choices=(
        Choice(SCREWED, "Screwed or barbed"), Choice(SMOOTH, "Glued pipe"),
    ), help="glued elbows let water through more easily", why="screwed loses more, so this is the safe side"),
    Field("circulation.tees", "whole", "Tees turned through", ("0", "0"), 0, 100,
          help="tees where the water leaves by the side", why="0: one hose to one bath"),
    Field("circulation.pump", "text", "Pump", ("", ""),
          help="a name on the list; empty: the fewest watts that are enough", optional=True,
          why="empty: chosen for you"),
    Field("circulation.throttled", "flow", "Throttled flow, all baths", ("", ""), 1e-7, 1.0, "gph", "L/h",
          help="valve partly closed: count the seconds to fill a bucket",
          optional=True, why="empty: the valve fully open"),
    Field("circulation.rise", "length", "Allowed rise at the overflow", ("", ""), 0.001, 0.5, "in", "mm",
          help="how far the water may stand above the rim of the overflow", optional=True,
          why="empty: the water above the overflow while running, as asked under Water"),
    Field("circulation.blockage", "ratio", "Blockage allowance", ("50 %", "50 %"), 0.0, 0.95, "%", "%",
          help="the share of each overflow that roots and leaves may block",
          why="half: engineering judgment, no source"),
    Field("circulation.drains", "whole", "Overflows in one bath", ("1", "1"), 1, 20,
          help="standpipes or overflow holes", why="one works; a second saves the floor when the first clogs"),
    Field("circulation.overflow_place", "choice", "Where the overflow is", (INSIDE, INSIDE), choices=(
        Choice(INSIDE, "A standpipe inside the bath"),
        Choice(WALL, "A hole in the bath's wall")),
        help="a standpipe needs a notch in the board", why="a standpipe sets the level, and is easy to clean"),
    Field("circulation.drain_fall", "length", "Fall of the drain", ("12 in", "30 cm"), 0.01, 50.0, "in", "cm",
          help="from the overflow's rim down to the reservoir's water",
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
        Field("owned", "whole", "I own", minimum=0, maximum=1000, optional=True, help="how many you already have"),
        Field("points", "text", "Measured points", optional=True,
              help="optional, L/h @ m of head: 1500 @ 0, 900 @ 1, 0 @ 2"),
    ), WATER_PUMPS, help="plate values; with measured points the curve goes through them instead of a parabola",
        why=PUMPS_SOURCE, when=WHEN),
)

RESULTS = (
    Result("circulation.turnover_wanted", "turnover", "Turnover wanted of each bath", "/h", "/h"),
    Result("circulation.target_flow", "flow", "Flow wanted, all baths together", "gph", "L/h"),
    Result("circulation.pump_flows", "rows", "What each pump on the list moves here"),
    Result("circulation.curves", "rows", "The pump's curve beside what the hose asks"),
    Result("circulation.pump_name", "text", "Water pump"),
    Result("circulation.pumps_chosen", "rows", "Water pumps to buy"),
    Result("circulation.owned_words", "text", "Whether the water pump I own suffices"),
    Result("circulation.flow", "flow", "Flow, running, all baths together", "gph", "L/h"),
    Result("circulation.flow_open", "flow", "Flow with the valve fully open, all baths together", "gph", "L/h"),
    Result("circulation.flow_higher", "flow", "Flow at one inch (25 mm) more lift", "gph", "L/h"),
    Result("circulation.head", "length", "Head the pump works against", "ft", "m"),
    Result("circulation.friction", "length", "Of which friction in the hose", "ft", "m"),
    Result("circulation.fitting_loss", "length", "Of which fittings of the hose, its valve open", "ft", "m"),
    Result("circulation.valve_loss", "length", "Of which the valve, as far as it is closed", "ft", "m"),
    Result("circulation.turnover", "turnover", "Turnover of each bath, running", "/h", "/h"),
    Result("circulation.velocity", "speed", "Speed in the hose from the pump", "ft/s", "m/s"),
    Result("circulation.reynolds", "count", "Reynolds number in that hose"),
    Result("circulation.hose_advice", "text", "Hose size"),
    *manifold.RESULTS,
    Result("circulation.power", "power", "Water pump, power", "W", "W"),
    Result("circulation.hydraulic_power", "power", "Of which reaches the water", "W", "W"),
    Result("circulation.drain_flow", "flow", "Flow each overflow must take", "gph", "L/h"),
    Result("circulation.overflow_bore", "length", "Each overflow pipe, bore", "in", "mm"),
    Result("circulation.overflow_pipe", "text", "Each overflow pipe, as sold"),
    Result("circulation.overflow_closed", "text", "Each overflow, if the valve is closed to the flow wanted"),
    Result("circulation.overflow_words", "text", "Overflows"),
    Result("circulation.overflow_choices", "rows", "Overflows of other sizes that take the flow of one bath"),
    Result("circulation.overflow_flow", "flow", "What each overflow takes, clean, at the allowed rise", "gph", "L/h"),
    Result("circulation.film_depth", "length", "Water over each clean overflow, running", "in", "mm", 16),
    Result("circulation.weir_length", "length", "Level edge that would take the flow of one bath instead", "in", "cm",
           8),
    Result("circulation.most_turnover", "turnover", "Most turnovers, with the widest pipe for each overflow", "/h",
           "/h"),
    Result("circulation.drain_capacity", "flow", "What each drain pipe takes, running full", "gph", "L/h"),
)


def target(sheet: Sheet) -> None:
    """What is wanted, as a flow for all baths together and as a turnover of each."""
    bath, count = sheet.result("water.bath_volume"), sheet.whole("bath.count")
    asked = {key: sheet.optional(key) for key in ASKED}
    typed = [key for key, value in asked.items() if value is not None]
    if len(typed) > 1:
        sheet.fault(typed[1], f"{ASKED[typed[1]]}: {ASKED[typed[0]].lower()} is put in as well, and one of them "
                    "decides. Clear the other.", {typed[0]: ""})
    turnover, flow, loading = asked.values()
    if flow is not None:
        sheet.put("circulation.turnover_wanted", flow / (bath * count), note="The flow wanted, over the water in all "
                  "baths.")
        sheet.put("circulation.target_flow", flow, note="As you put it in.")
    elif loading is not None:
        flow = loading * sheet.result("water.surface_area") * count
        sheet.put("circulation.turnover_wanted", flow / (bath * count), note="The flow wanted, over the water in all "
                  "baths.")
        sheet.put("circulation.target_flow", flow, note="The flow over the surface, times the surface of all baths.")
    else:
        if turnover is None:
            turnover = min(QUICK, max(SLOW, SMALL_FLOW_M3_S / bath))
            quick = sheet.shown_as("circulation.target_flow", SMALL_FLOW_M3_S)
            sheet.put("circulation.turnover_wanted", turnover, source=RETENTION_SOURCE,
                      note=f"By the size of the bath: {quick} into each, but at most once an hour and at least once in "
                      "four hours.")
        else:
            sheet.put("circulation.turnover_wanted", turnover, note="As you put it in.")
        sheet.put("circulation.target_flow", turnover * bath * count,
                  note="Turnover wanted, times the water in all baths.")


def pumps(sheet: Sheet) -> None:
    """Each pump of the list on its own curve, through this hose and up this lift, and up one inch more."""
    found = []
    if scheme.pumps_water(sheet):
        here, higher = system_of(sheet), system_of(sheet, more_lift=ONE_INCH_M)
        for row in in_play(sheet.rows("circulation.pumps")):
            curve = pump_curve(sheet, row)
            flow = operate(curve, here)
            head = curve.push_at(flow)
            found.append({"name": row["name"], "flow": flow, "head": head, "shutoff_head": curve.shutoff,
                          "watts": row["power"], "price": row["price"], "owned": row["owned"] or 0,
                          "higher": operate(curve, higher), "example": row["example"],
                          "strained": flow > 0.0 and head > STRAINED * curve.shutoff})
    sheet.put("circulation.pump_flows", found, pump_physics.pump_curve,
              note="Where each pump's curve meets lift, friction and fittings.")


def pump(sheet: Sheet) -> None:
    """The pump: the one named, else one owned that is enough, else the fewest watts that reach the flow wanted."""
    if not scheme.pumps_water(sheet):
        _put_none(sheet)
        return
    rows = sheet.result_rows("circulation.pump_flows")
    wanted = sheet.result("circulation.target_flow")
    name = sheet.optional("circulation.pump", str)
    row, how = (_named(sheet, rows, name), "The pump you named.") if name else _choose(sheet, rows, wanted)
    _put_pump(sheet, row, how)
    _say_owned(sheet, rows, row, wanted)
    _say_flow(sheet, row, wanted)


def _named(sheet: Sheet, rows: list[Row], name: str) -> Row:
    wished = name.strip().lower()
    row = next((row for row in rows if row["name"].lower() == wished), None)
    if row is None:
        known = ", ".join(row["name"] for row in rows)
        gone = any(one["name"].lower() == wished for one in sheet.rows("circulation.pumps"))
        why = " The examples step back once you put in a pump of your own." if gone else ""
        return sheet.fault("circulation.pump",
                           f"Pump must be a name on the list ({known}), or empty to have one chosen.{why}")
    if row["flow"] <= 0.0:
        lift = sheet.show(sheet["circulation.lift"], "length", "ft", "m")
        return sheet.fault("circulation.pump",
                           f"{row['name']} cannot lift the water: its shut-off head is "
                           f"{sheet.show(row['shutoff_head'], 'length', 'ft', 'm')} and the lift is {lift}. "
                           "Choose a stronger pump, or lower the bath.")
    return row


def _choose(sheet: Sheet, rows: list[Row], wanted: float) -> tuple[Row, str]:
    """(row, why): owned before bought, and one near its shut-off only where no other reaches the flow wanted."""
    able = [row for row in rows if row["flow"] > 0.0]
    if not able:
        lift = sheet.show(sheet["circulation.lift"], "length", "ft", "m")
        sheet.fault("circulation.lift", f"No pump on the list can lift water {lift}: every shut-off head is lower. "
                                        "Lower the bath, or put in a stronger pump.")
    sound = [row for row in able if not row["strained"]]
    fewest = "The fewest watts among the pumps {} that reach the flow wanted."
    for among, words in (([row for row in sound if row["owned"]], fewest.format("you own")),
                         (sound, fewest.format("on the list")),
                         ([row for row in able if row["owned"]], fewest.format("you own")),
                         (able, fewest.format("on the list"))):
        enough = [row for row in among if row["flow"] >= wanted]
        if enough:
            # The fewest watts; of equals the cheaper one, then the one that moves more.
            return min(enough, key=lambda one: (one["watts"], one["price"] is None, one["price"] or 0.0,
                                                -one["flow"])), words
    own = [row for row in able if row["owned"]]
    return (max(own or able, key=lambda one: one["flow"]),
            f"No pump on the list reaches the flow wanted; this one{', which you own,' if own else ''} moves the most.")


def _put_none(sheet: Sheet) -> None:
    """No water is pumped: every figure that others build on is 0."""
    wished = sheet.optional("circulation.turnover") == 0.0
    why = "No turnover is wanted." if wished else "No pump is on the list."
    sheet.put("circulation.pump_name", "none", note=why)
    sheet.put("circulation.pumps_chosen", [], note=why)
    for key in ("flow", "flow_open", "turnover", "power", "hydraulic_power"):
        sheet.put(f"circulation.{key}", 0.0, note=why)
    if wished:
        sheet.caution("no-circulation", "note",
                      "No turnover is wanted, so no water is pumped: the reservoir neither feeds the bath nor cools "
                      "it. Where there is none at all, choose that under \"Kind of bath\".", lead="No water pumped",
                      brief="No turnover is wanted: the reservoir neither feeds the bath nor cools it.")
    else:
        sheet.caution("no-water-pump", "warning",
                      "No water pump is on the list, so no water is counted as pumped; "
                      f"{sheet.shown('circulation.target_flow')} would be needed. Put in a pump you can get.",
                      lead="No water pump",
                      brief=f"None is on the list; {sheet.shown('circulation.target_flow')} would be needed.")


def _put_pump(sheet: Sheet, row: Row, how: str) -> None:
    _, bore, length, k_sum, density, viscosity, fan = system = system_of(sheet)
    full, throttled = row["flow"], sheet.optional("circulation.throttled")
    if throttled is not None and throttled > full * (1 + 1e-9):
        sheet.fault("circulation.throttled", f"Throttled flow is more than {called(row, 'the pump')} gives with its "
                    f"valve fully open: enter {sheet.shown_as('circulation.flow', full)} or less, or leave it empty.")
    flow = full if throttled is None else throttled
    head = row["head"]
    if throttled is not None:
        # The valve eats what the pump gives beyond what the hose asks at this flow.
        source = next(one for one in in_play(sheet.rows("circulation.pumps")) if one["name"] == row["name"])
        head = pump_curve(sheet, source).push_at(flow)
    rows = sheet.result_rows("circulation.pump_flows")
    sheet.put("circulation.pump_flows", [{**one, "runs": one is row} for one in rows],
              pump_physics.pump_curve, note="Where each pump's curve meets lift, friction and fittings.")
    sheet.put("circulation.pump_name", called(row, f"a pump that gives {water_duty(sheet, row)}"), note=how)
    sheet.put("circulation.pumps_chosen", [] if row["owned"] else [
        {"name": row["name"], "quantity": 1, "price": row["price"], "example": row["example"], "flow": full,
         "head": row["head"]}], note="You own it." if row["owned"] else how)
    sheet.put("circulation.flow_open", full,
              note="Where the pump's curve meets lift, friction and fittings, all valves open.")
    sheet.put("circulation.flow_higher", row["higher"], note="The same pump and hose, and "
              f"{'25 mm' if sheet.system == 'metric' else 'one inch'} more to climb.")
    sheet.put("circulation.flow", flow, note="As you measured it, throttled." if throttled is not None else
              "Where the pump's curve meets lift, friction and fittings, all valves open.")
    sheet.put("circulation.head", head, note="From the pump's curve at the throttled flow: lift, friction, fittings "
              "and the valve." if throttled is not None else
              "Lift, friction and fittings at that flow; the pump gives just this.")
    if throttled is not None:
        sheet.put("circulation.valve_loss", max(head - system_head(flow, *system), 0.0),
                  note="What the pump gives at this flow, less what lift and hose ask.")
    sheet.put("circulation.power", row["watts"], note="The plate's watts" + (
        ", which a closed valve hardly changes." if throttled is not None else "."))
    speed = sheet.work("circulation.velocity", pipe.velocity, flow_m3_s=flow, bore_m=bore)
    sheet.work("circulation.reynolds", pipe.reynolds, velocity_m_s=speed, bore_m=bore, density_kg_m3=density,
               viscosity_pa_s=viscosity)
    sheet.work("circulation.friction", pipe.friction_head, flow_m3_s=flow, bore_m=bore, length_m=length,
               roughness_m=SMOOTH_ROUGHNESS_M, density_kg_m3=density, viscosity_pa_s=viscosity)
    sheet.work("circulation.fitting_loss", pipe.fitting_head, velocity_m_s=speed, k_sum=k_sum)
    sheet.work("circulation.hydraulic_power", pump_physics.hydraulic_power, flow_m3_s=flow, head_m=head,
               density_kg_m3=density)
    sheet.put("circulation.turnover", flow / (sheet.whole("bath.count") * sheet.result("water.bath_volume")),
              note="Flow, running, divided by the water in all baths.")


def _say_owned(sheet: Sheet, rows: list[Row], row: Row, wanted: float) -> None:
    """Whether a pump that the reader owns is enough, and by how much."""
    own = [one for one in rows if one["owned"]]
    if not own:
        return
    best = row if row["owned"] else max(own, key=lambda one: one["flow"])
    gives, asked = (sheet.shown_as("circulation.flow", one) for one in (best["flow"], wanted))
    times = best["flow"] / wanted
    who = called(best, "the pump")
    share = f"{number(times, 2)} times" if times >= 1.0 else f"{times:.0%} of"
    words = f"What you own is {'' if times >= 1.0 else 'not '}enough: {who} moves {gives}, {share} the {asked} wanted."
    spare = sum(one["owned"] for one in own) - 1
    if row["owned"] and spare:
        words += f" One runs; {spare} more {'is a spare' if spare == 1 else 'are spares'}."
    elif not row["owned"]:
        bought = called(row, f"A pump that gives {water_duty(sheet, row)}")
        words += f" {bought} is on the list to buy."
    sheet.put("circulation.owned_words", words, note="One pump runs; its flow with the valve open, beside the flow "
              "wanted.")


def _say_flow(sheet: Sheet, row: Row, wanted: float) -> None:
    """Too little, far too much, or a flow that one inch more lift takes away."""
    flow, full = sheet.result("circulation.flow"), row["flow"]
    gives, asked, higher = (sheet.shown_as("circulation.flow", one) for one in (flow, wanted, row["higher"]))
    inch, who = "25 mm" if sheet.system == "metric" else "one inch", called(row, "the water pump")
    if flow < full and flow < wanted * (1 - 1e-9):
        sheet.caution("throttled-low", "note", f"The throttled flow, {gives}, is less than the {asked} wanted: open "
                      "the valve, or accept a lower turnover.", lead="Valve too far shut",
                      brief=f"{gives} where {asked} is wanted: open the valve, or take less turnover.")
    elif flow < wanted:
        sheet.caution("pump-too-small", "warning",
                      f"The water pump is too small: {called(row, 'it')} moves {gives}, and {asked} is wanted. "
                      "Take a wider hose, a lower lift, a stronger pump on the list, or accept a lower turnover.",
                      lead="Water pump too small", brief=f"It moves {gives}, and {asked} is wanted.")
    elif flow > FAR_TOO_MUCH * wanted:
        sheet.caution("pump-too-strong", "note",
                      f"{who[:1].upper()}{who[1:]} moves {gives} where {asked} is wanted. Close the valve after "
                      "the pump until it is right, measure, and put that in as the throttled flow; until then the "
                      "overflow is sized for the valve left open.", lead="Pump very strong",
                      brief=f"It moves {gives} where {asked} is wanted: close the valve until it is right.")
    if row["strained"]:
        sheet.caution("water-pump-strained", "warning",
                      f"Near its limit: {who} works within 15 % of its shut-off head. A "
                      "little less water in the reservoir or a little slime in the hose stops it. Take a pump that "
                      "pushes higher, or lower the bath.", lead="Near its top lift",
                      brief="A little less water or a little slime stops it: take a pump that pushes higher.")
    if row["higher"] < MUCH_LESS * full:
        open_flow = sheet.shown_as("circulation.flow", full)
        sheet.caution("lift-touchy", "warning",
                      f"The lift is touchy: {inch} more takes {who} from {open_flow} to {higher}. "
                      "Measure the lift from the lowest water in the reservoir, or take a pump that pushes higher.",
                      lead="Touchy lift",
                      brief=f"{inch.capitalize()} more lift takes it from {open_flow} to {higher}: measure from the "
                            "lowest water.")


def hose(sheet: Sheet) -> None:
    """Hose size: small enough to buy, wide enough that the water is not hurried."""
    if not scheme.pumps_water(sheet):
        return
    flow, speed = sheet.result("circulation.flow"), sheet.result("circulation.velocity")
    sizes = hoses(sheet.system)
    fits = next((size for size in sizes if pipe.velocity(flow_m3_s=flow, bore_m=size.bore_m) <= HOSE_SPEED_M_S), None)
    limit = sheet.shown_as("circulation.velocity", HOSE_SPEED_M_S)
    now = sheet.shown("circulation.velocity")
    if speed > HOSE_SPEED_M_S:
        better = (f"take {fits.name} or wider" if fits
                  else f"take pipe wider than {sizes[-1].name}, or several hoses side by side")
        text = f"Too narrow: the water runs at {now}, and up to {limit} is usual; {better}."
        sheet.caution("hose-speed", "warning", f"Hose {text[0].lower()}{text[1:]}", lead="Hose too narrow",
                      brief=f"The water runs at {now}; up to {limit} is usual.")
    elif fits and fits.bore_m < sheet["circulation.hose_bore"] * 0.99:
        text = f"Wide enough: {now}. At this flow, {fits.name} would stay under {limit} too, with more friction."
    else:
        text = f"Wide enough: {now}, and up to {limit} is usual."
    sheet.put("circulation.hose_advice", text,
              note="The smallest size sold that keeps the water under the usual speed.", source=HOSE_SPEED_SOURCE)


CURVE_POINTS = 16


def curves(sheet: Sheet) -> None:
    """The chosen pump's curve and what lift and hose ask, from no flow to the pump's top flow."""
    if not scheme.pumps_water(sheet):
        return
    name = running(sheet)["name"]
    row = next(row for row in in_play(sheet.rows("circulation.pumps")) if row["name"] == name)
    curve, system = pump_curve(sheet, row), system_of(sheet)
    flows = [curve.top_flow * step / CURVE_POINTS for step in range(CURVE_POINTS + 1)]
    sheet.put("circulation.curves",
              [{"flow": flow, "pump": curve.push_at(flow), "asked": system_head(flow, *system)} for flow in flows],
              note="They meet at the flow and head the pump runs at with the valve fully open.")


STEPS = (target, pumps, pump, curves, hose, even, choices, way_back, drain, return_main, judge)
