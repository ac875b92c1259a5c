"""One shopping list and one cut list out of all topics, with spares, sizes as sold and the grower's own prices."""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING

from ..declare import Field, Result, Row, Table, Verdict
from ..figures import count as figure
from . import scheme, worth
from .board.cutting import PLUGS
from .board.pots import WORDS as MEDIA
from .owned import air_duty, is_named, water_duty
from .verdicts.parts import judge

if TYPE_CHECKING:
    from ..sheet import Sheet

NAME = "parts"
TITLE = "Shopping and cutting"
QUESTION = "What do I buy, and what do I cut?"
VERDICT = Verdict("Shopping", {"fits": "All priced.", "open": "The list needs an answer."})

BOARD, POT, STONE, AIR_HOSE, VALVE, MANIFOLD = (
    "Foam sheet", "Net pot", "Air stone", "Air hose", "Check valve for air", "Air manifold")
HOSE, OVERFLOW, STRAINER, CLAMP, CLIP, TAPE = (
    "Water hose", "Overflow pipe and bulkhead", "Overflow strainer", "Hose clamp", "Clip or weight for the stone hose",
    "Foil tape for seams")
WATER_VALVE, HEADER, HEADER_TEE, BRANCH_HOSE, BRANCH_VALVE, RETURN_MAIN = (
    "Valve for the water hose", "Header pipe", "Tee in the header", "Hose for the branches", "Valve for a branch",
    "Return main")
PLUG, LINER, MEDIUM = "Plug for the board", "Liner", "Growing medium"
AIR_PUMP, WATER_PUMP, PROTECTION = "Air pump", "Water pump", "GFCI (RCD) outlet"
FROM_LIST = "from your list of pumps"
INVENTED = "any pump that gives this or a little more; the price is invented until you type yours"
PRICED = (BOARD, POT, STONE, AIR_HOSE, VALVE, MANIFOLD, HOSE, OVERFLOW, STRAINER, CLAMP)

FIELDS = (
    Field("parts.copies", "whole", "Copies of the whole plan", ("1", "1"), 1, 1000,
          help="1: all that is planned here; 2: all of that twice",
          why="one, however many baths it has"),
    Field("parts.spare_share", "ratio", "Spare pots and stones", ("10 %", "10 %"), 0.0, 1.0, "%", "%",
          help="added to net pots and air stones, rounded up", why="stones clog and pots crack; common practice, "
          "no published source"),
    *worth.FIELDS,
)
TABLES = (
    Table("parts.prices", "Your prices", (
        Field("name", "text", "Part"),
        Field("price", "money", "Price each", minimum=0.0, maximum=1e6, optional=True),
    ), rows=tuple({"name": name, "price": ""} for name in PRICED),
        help="leave a price empty and the part is listed without one", why="prices differ; none is assumed"),
    Table("parts.own_lines", "My own lines", (
        Field("name", "text", "Part", help="what else you buy: liner, lumber, screws, growing medium, a tote"),
        Field("count", "whole", "How many", ("1", "1"), 1, 1_000_000, help="for one build"),
        Field("price", "money", "Price each", minimum=0.0, maximum=1e6, optional=True, help="optional"),
    ), help="added to the list as you name them", why="empty: only what the plan asks for"),
    Table("parts.owned", "What I own already", (
        Field("name", "text", "Part", help="as on the list, or how it begins there: Net pot, Hole saw, Seeds"),
        Field("count", "whole", "How many", minimum=0, maximum=1_000_000, optional=True,
              help="empty: all that is needed"),
    ), help="vessels are never listed; pumps and lamps have their own questions",
        why="empty: nothing, until you say so"),
)

RESULTS = (
    Result("parts.shopping", "rows", "Lines on the shopping list"),
    Result("parts.cuts", "rows", "Lines on the cut list"),
    Result("parts.cost", "money", "Cost of all parts with a price"),
    Result("parts.unpriced", "count", "Lines without a price"),
    *worth.RESULTS,
)


class _List:
    """Collects lines; a part that a topic could not size is left out, for its topic already says why."""

    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self.lines: list[Row] = []

    def add(self, item: str, quantity: int, size: str = "", each: float | None = None, note: str = "") -> None:
        """One line for one build; ``quantity`` is a count, and ``size`` says of what."""
        self.add_for_all(item, quantity * self.sheet.whole("parts.copies"), size, each, note)

    def add_for_all(self, item: str, quantity: int, size: str = "", each: float | None = None, note: str = "") -> None:
        """One line for all copies, for things owned are there once, however many copies share them; none for none."""
        if quantity > 0:
            self.lines.append({"item": item, "quantity": quantity, "size": size, "each": each, "note": note})


def _spare(count: float, share: float) -> int:
    return ceil(count * (1 + share) - 1e-9)


def shopping(sheet: Sheet) -> None:
    """The shopping list, for all copies."""
    share, baths = sheet["parts.spare_share"], sheet.whole("bath.count")
    found = _List(sheet)
    _liner(sheet, found, baths)
    _board_lines(sheet, found, baths, share)
    _air_lines(sheet, found, share)
    _water_lines(sheet, found, baths)
    _growing_lines(sheet, found)
    for row in sheet.rows("parts.own_lines"):
        found.add(row["name"].strip(), row["count"], each=row["price"], note="your own line")
    if scheme.has_air(sheet) or (found.sheet.result_if_any("light.lamps", int) or 0) > 0:
        found.add(PROTECTION, 1, "for every plug of the bath",
                  note="fitted by a licensed electrician where local code says")
    prices = {row["name"].strip().lower(): row["price"] for row in sheet.rows("parts.prices")
              if row.get("price") is not None}
    owned = [(row["name"].strip().lower(), row["count"]) for row in sheet.rows("parts.owned")]
    rows, cost, unpriced = [], 0.0, 0
    for line in found.lines:
        each = prices.get(line["item"].lower(), line["each"])
        needed = line["quantity"]
        have = min(_owned(owned, line["item"], needed), needed)
        quantity = needed - have
        total = None if each is None else each * quantity
        unpriced += each is None and quantity > 0
        cost += total or 0.0
        note = f"you own {have:,}; {line['note']}".rstrip("; ") if have else line["note"]
        rows.append({**line, "quantity": quantity, "each": each, "total": total, "owned": have, "note": note})
    sheet.put("parts.shopping", rows, note="Gathered from every topic; times the number to build.")
    invented = " Pump prices in the lists are invented until you type your own." if scheme.has_air(sheet) else ""
    sheet.put("parts.cost", cost, note=f"Only lines that have a price.{invented}")
    sheet.put("parts.unpriced", unpriced, note="Their cost is not in the sum.")
    _idle_prices(sheet, {line["item"].lower() for line in found.lines})
    reservoir = " the reservoir," if scheme.circulates(sheet) else ""
    sheet.caution("parts-not-listed", "note", "Shopping: not on this list are the bath, its stand and liner,"
                  f"{reservoir} plugs for the seeds, goggles, gloves and tools. Sizes of vessels are under "
                  "Water. The sum holds only the lines that have a price.", lead="Not on the list",
                  brief="Bath, stand, liner, seed plugs, goggles, gloves and tools come on top.")


def _idle_prices(sheet: Sheet, listed: set[str]) -> None:
    """Say which prices count for nothing, since no line of the list has their name."""
    idle = [row["name"].strip() for row in sheet.rows("parts.prices")
            if row.get("price") is not None and row["name"].strip().lower() not in listed]
    if not idle:
        return
    named = ", ".join(f"“{name[:40]}”" for name in idle[:3]) + (f" and {len(idle) - 3} more" if len(idle) > 3 else "")
    sheet.caution("price-unused", "note",
                  f"Prices: {named} {'is' if len(idle) == 1 else 'are'} not on this plan's list, so "
                  f"{'its price is' if len(idle) == 1 else 'their prices are'} not in the sum. Write the name as the "
                  "list does, or put it under “My own lines”.", lead="Price not used",
                  brief=f"{named}: not on this list, so not in the sum.")


def _owned(owned: list[tuple[str, int | None]], item: str, needed: float) -> float:
    """How many of a line the reader has: a row without a number owns all that is needed."""
    for name, count in owned:
        if item.lower().startswith(name):
            return needed if count is None else count
    return 0


def copies(sheet: Sheet) -> None:
    """Say what is bought where both a number of baths and a number of copies are over one."""
    copies, baths = sheet["parts.copies"], sheet["bath.count"]
    if copies > 1 and baths > 1:
        apart = f", with {copies} reservoirs" if scheme.circulates(sheet) else ""
        sheet.caution("copies-of-baths", "note",
                      f"Shopping: the lists are for {copies} copies of {baths} baths, {copies * baths} baths in all"
                      f"{apart}. For {baths} baths in all, make the copies 1.", lead="Copies and baths",
                      brief=f"{copies} copies of {baths} baths make {copies * baths} baths in all.")


def _board_lines(sheet: Sheet, found: _List, baths: int, share: float) -> None:
    sheets, sites = found.sheet.result_if_any("board.sheets", int), found.sheet.result_if_any("board.sites", int)
    if sheets is not None:
        thickness = sheet.shown("board.thickness")
        size = " x ".join(sheet.shown_as("board.length", sheet[f"board.sheet_{side}"]) for side in ("length", "width"))
        found.add(BOARD, sheets, f"{size}, {thickness} thick, class {sheet.text('board.foam')}",
                  note="rigid and closed-cell; see the caution on foam and food")
    if sites:
        pot = sheet.shown("board.pot")
        if sheet.text("board.holder") == PLUGS:
            found.add(PLUG, _spare(sites * baths, share), f"{pot} across, all of one make",
                      note="each is pressed straight into its hole")
        else:
            found.add(POT, _spare(sites * baths, share), f"{pot} across, all of one make",
                      note="measure one under its lip before you buy a saw")
        _medium(sheet, found)
        saw = found.sheet.result_if_any("board.hole_diameter")
        if saw is not None:
            found.add("Hole saw", 1, sheet.shown("board.hole_diameter"),
                      note="with a fine tooth or a sharpened rim")
        if (found.sheet.result_if_any("board.count", int) or 1) > 1:
            found.add(TAPE, 1, "one roll", note="keeps light out of the seams")


def _medium(sheet: Sheet, found: _List) -> None:
    """What fills the pots around their plugs, where anything does."""
    if found.sheet.result_if_any("board.medium_total") is not None:
        found.add(MEDIUM, 1, f"{sheet.shown('board.medium_total')} of {MEDIA[sheet.text('board.medium')]}",
                  note="rinse it before use")


def _liner(sheet: Sheet, found: _List, baths: int) -> None:
    """The sheet that lines each bath, where its walls are a frame."""
    if found.sheet.result_if_any("water.liner_length") is not None:
        found.add(LINER, baths, f"{sheet.shown('water.liner_length')} x {sheet.shown('water.liner_width')}",
                  note="sold for fish or drinking water; fold its corners")


def _pump_line(found: _List, item: str, row: Row, for_all: int, flow: str, duty: str, ahead: str = "") -> None:
    """A pump by the name the reader gave it; an example, which no shop has, by what it must give.

    ``ahead`` stands before the words on where the pump and its price come from.
    """
    name = f"{item}: {row['name']}" if is_named(row) else f"{item}, {flow}"
    found.add_for_all(name, for_all, duty, each=row["price"], note=ahead + (INVENTED if row["example"] else FROM_LIST))


def _air_pumps(sheet: Sheet, found: _List) -> None:
    """Air pumps for all copies: each copy takes what it needs of those owned, the largest first, while they last."""
    copies, lacking = sheet.whole("parts.copies"), found.sheet.result_if_any("air.target") or 0.0
    chosen = {row["name"]: row["quantity"] for row in found.sheet.rows_if_any("air.pumps_chosen")}
    for row in sorted(found.sheet.rows_if_any("air.pump_flows"), key=lambda one: -one["delivered"]):
        own = row["owned"] if row["delivered"] > 0.0 else 0
        # With a spare asked for, what is owned all runs in one copy.
        takes = own
        if own and not sheet.yes("air.spare"):
            takes = min(own, ceil(max(lacking, 0.0) / row["delivered"] - 1e-9))
        lacking -= takes * row["delivered"]
        free = sheet.shown_as("air.delivered", row["free_flow"])
        _pump_line(found, AIR_PUMP, row, copies * (takes + chosen.pop(row["name"], 0)) - own,
                   f"{free} on its box", f"each gives {air_duty(sheet, row)} at the stones, or a little more",
                   "a box prints free flow, with nothing to push against; ")


def _air_lines(sheet: Sheet, found: _List, share: float) -> None:
    _air_pumps(sheet, found)
    stones = found.sheet.result_if_any("air.stones", int)
    if stones:
        bore = sheet.shown("air.hose_bore")
        found.add(STONE, _spare(stones, share), f"each passes {sheet.shown('air.stone_flow')}, with a barb for {bore} "
                  "hose", note="with the spares counted in")
        found.add(CLIP, stones, f"for {bore} hose", note="stones float up without one")
        valves = found.sheet.result_if_any("air.check_valves", int)
        if valves:
            found.add(VALVE, valves, "barbs to fit the hose at the pump's outlet",
                      note="keeps water out of the pump when the power fails")
        if stones > 1:
            found.add(MANIFOLD, found.sheet.result_if_any("air.manifolds", int) or 1,
                      f"{figure(stones)} outlets with valves in all, barbs for {bore} hose")
        hose = found.sheet.result_if_any("air.hose_total")
        if hose:
            found.add(AIR_HOSE, 1, f"{sheet.shown('air.hose_total')} in all, {bore} bore inside")


def _water_lines(sheet: Sheet, found: _List, baths: int) -> None:
    if not scheme.pumps_water(sheet):
        return
    for row in [row for row in found.sheet.rows_if_any("circulation.pump_flows") if row.get("runs")]:
        _pump_line(found, WATER_PUMP, row, sheet.whole("parts.copies") - row["owned"],
                   sheet.shown_as("circulation.flow", row["flow"]),
                   f"each gives {water_duty(sheet, row)}, or a little more")
    bore, length = sheet.optional("circulation.hose_bore"), sheet.optional("circulation.hose_length")
    if bore and length:
        found.add(HOSE, 1, f"{sheet.shown('circulation.hose_length')} of "
                  f"{sheet.shown('circulation.hose_bore')} bore inside", note="opaque, so that no algae grow in it")
        inside = sheet.shown("circulation.hose_bore")
        found.add(CLAMP, 2, f"for hose of {inside} bore, to close on its outside")
        found.add(WATER_VALVE, 1, f"full bore, with barbs for {inside} hose",
                  note="to throttle the pump to the flow wanted")
    if baths > 1:
        _fan_lines(sheet, found, baths)
    overflow = found.sheet.result_if_any("circulation.overflow_bore")
    if overflow:
        drains = sheet.input_if_any("circulation.drains", int) or 1
        pipe = sheet.result("circulation.overflow_pipe", str)
        found.add(OVERFLOW, drains * baths, f"{pipe}, at least {sheet.shown_as('circulation.hose_bore', overflow)} "
                  "bore inside; the bulkhead with the same thread or socket",
                  note="buy the fitting first, then the saw that suits it")
        found.add(STRAINER, drains * baths, f"to fit {pipe}", note="a root mat can block a bare pipe")


def _fan_lines(sheet: Sheet, found: _List, baths: int) -> None:
    """Header, branches and return main of several baths."""
    header, branch = (sheet.shown(f"circulation.{name}_bore") for name in ("header", "branch"))
    header_length = found.sheet.result_if_any("circulation.header_length")
    if header_length is not None:
        found.add(HEADER, 1, f"{sheet.shown('circulation.header_length')} of {header} bore",
                  note="opaque; a cap on its far end")
        found.add(HEADER_TEE, baths, f"{header} with a branch of {branch}", note="one for each bath")
        found.add(BRANCH_HOSE, 1, f"{sheet.shown('circulation.branches_length')} of {branch} bore, in {baths} pieces",
                  note="opaque, so that no algae grow in it")
        found.add(CLAMP, 2 * baths, f"to fit {branch}")
        found.add(BRANCH_VALVE, baths, f"to fit {branch}, full bore", note="to give every bath its part of the flow")
    main = found.sheet.result_if_any("circulation.main_pipe", str)
    if main is not None:
        found.add(RETURN_MAIN, 1, f"{sheet.shown('circulation.main_length')} of {main}",
                  note="falls all the way to the reservoir")


def _growing_lines(sheet: Sheet, found: _List) -> None:
    """What light, feed, pH, sowing and the power cut ask for, for one fill and one run of the calendar."""
    # Lamps that are there count first; only those still lacking are bought.
    needed = (found.sheet.result_if_any("light.lamps_needed", int) or 0) * sheet.whole("parts.copies")
    lacking = needed - (sheet.input_if_any("light.have", int) or 0)
    if lacking > 0:
        found.add_for_all("Grow lamp", lacking, f"{sheet.shown('light.lamp_power')}, "
                          f"{sheet.shown('light.lamp_efficacy')} or more, marked for wet places",
                          note="look for µmol/J or µmol/s on its sheet")
    salts = found.sheet.rows_if_any("feed.masses")
    if salts:
        found.add("Fertilizer for the first fill", 1, _fertilizer(sheet, salts),
                  note="how much of each is under Nutrients; packs hold more")
    volume = found.sheet.result_if_any("acidity.volume")
    if volume:
        found.add(f"For pH: {found.sheet.result_if_any('acidity.product', str)}", 1,
                  f"{sheet.shown('acidity.volume')} for the first fill", note="see the cautions under pH")
    found.add("Meters for pH and EC", 1, "with the liquids that check them")
    seeds = found.sheet.result_if_any("schedule.seeds_total", int)
    if seeds:
        found.add("Seeds", seeds, found.sheet.result_if_any("crops.names", str) or "", note="for the whole calendar")
    charge = found.sheet.result_if_any("outage.battery")
    if charge:
        found.add("Backup air pump and battery", 1, f"at least {sheet.shown('outage.battery')} at "
                  f"{sheet.shown('outage.voltage')}, for a pump of {sheet.shown('outage.power')}",
                  note="with a fuse at the battery; see the power cut")


def _fertilizer(sheet: Sheet, rows: list[Row]) -> str:
    """What the first fill takes, all of it: bottles by their volume, what is weighed by its mass."""
    poured = {sheet.shown_as("feed.micro_dose", row["volume"]) for row in rows if row.get("volume")}
    if len(poured) == 1 and all(row.get("volume") for row in rows):
        return f"{len(rows)} bottles for hydroponics, {poured.pop()} of each"
    total = sheet.result_if_any("feed.total_mass")
    return f"{len(rows)} kinds" + (f", {sheet.shown('feed.total_mass')} in all" if total else "")


def cuts(sheet: Sheet) -> None:
    """What to cut and drill, largest first."""
    copies, baths = sheet.whole("parts.copies"), sheet.whole("bath.count")
    rows = []
    groups: dict[tuple[float, float], int] = {}
    for piece in sheet.result_rows("board.pieces"):
        sides = (round(piece["length"], 6), round(piece["width"], 6))
        groups[sides] = groups.get(sides, 0) + 1
    across = sheet.result_if_any("board.diameter")
    if across is not None:
        size = sheet.shown("board.diameter")
        parted = len(sheet.result_rows("board.pieces"))
        rows.append({"item": "Raft disc", "quantity": baths * copies, "size": f"{size} across",
                     "note": "mark the center and two diameters first"
                     + (f"; then part it into {parted} boards along its seams" if parted > 1 else "")})
    else:
        for (long, wide), count in sorted(groups.items(), reverse=True):
            size = " x ".join(sheet.shown_as("board.length", side) for side in (long, wide))
            rows.append({"item": "Raft board", "quantity": count * baths * copies, "size": size,
                         "note": "a knife or hot wire outdoors; catch every crumb"})
    for one in sheet.rows_if_any("board.notch_rows"):
        size = " x ".join(sheet.shown_as("board.length", one[side]) for side in ("width", "depth"))
        rows.append({"item": f"Notch for {one['what']}", "quantity": baths * copies, "size": f"{size} deep",
                     "note": "in the edge; its place is in the raft drawing"})
    holes = sheet.result("board.sites", int) * baths * copies
    saw = sheet.shown("board.hole_diameter")
    rows.append({"item": "Holes in the boards", "quantity": holes, "size": saw,
                 "note": "positions in the raft drawing and its table"})
    sheet.put("parts.cuts", rows, note="From the board and its holes, for all copies.")


STEPS = (shopping, copies, cuts, worth.worth, judge)
