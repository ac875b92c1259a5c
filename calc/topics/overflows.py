"""The way back by gravity: overflows of each bath, what else would take the water, and the drain behind them."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from math import ceil
from typing import TYPE_CHECKING

from ..data.fittings import INLET_K, SMOOTH_ELBOWS, SMOOTH_ROUGHNESS_M, Size, hoses, nearest_size, pipes
from ..errors import Unanswered
from ..relations import overflow
from ..relations import water as water_physics
from . import scheme
from .lifting import operate, pump_curve, system_of
from .owned import called, in_play, running

if TYPE_CHECKING:
    from ..declare import Row
    from ..sheet import Sheet

HALVINGS = 60
# Wider than a 2 in or 63 mm pipe: a standpipe that eats a good part of a board.
ABSURD_BORE_M = 0.058
MOST_OVERFLOWS = 40
HAIR = 1e-9


def rise_of(sheet: Sheet) -> float:
    """How far the water may stand above the overflow's rim, in m."""
    rise = sheet.optional("circulation.rise")
    if rise is None:
        rise = sheet["bath.film"]
    if rise <= 0.0:
        sheet.fault("circulation.rise", "Allowed rise at the overflow must be more than 0: water only runs over a "
                                        "rim that it stands above. Enter a value, like 1/2 in or 12 mm.",
                    {"bath.film": ""})
    return float(rise)


def flow_for_each(flow: float, drains: int, blockage: float) -> float:
    """What each overflow of a bath must take of its flow, partly blocked, and with one wholly blocked if it has two."""
    need = flow / drains / (1.0 - blockage)
    # The others must take it all when one is blocked outright.
    return max(need, flow / (drains - 1)) if drains > 1 else need


def smallest_pipe(system: str, need: float, rise: float) -> Size | None:
    """The smallest pipe on the list whose rim takes a flow (m3/s) at a rise (m)."""
    return next((one for one in pipes(system)
                 if overflow.standpipe_flow(rim_bore_m=one.bore_m, head_m=rise) >= need), None)


def how_many(flow: float, each: float, blockage: float) -> int:
    """The fewest overflows, each taking ``each`` (m3/s) clean, for the flow of a bath."""
    count = ceil(flow / (1.0 - blockage) / each - HAIR)
    return count if count <= 1 else max(count, ceil(flow / each - HAIR) + 1)


def choices(sheet: Sheet) -> None:
    """What would take this bath's water: so many overflows of each size, an edge of some length, fewer turnovers."""
    if not scheme.pumps_water(sheet):
        return
    rise, blockage = rise_of(sheet), sheet["circulation.blockage"]
    flow, drains = sheet.result("circulation.flow") / sheet["bath.count"], sheet["circulation.drains"]
    rows = []
    for size in pipes(sheet.system):
        each = overflow.standpipe_flow(rim_bore_m=size.bore_m, head_m=rise)
        count = how_many(flow, each, blockage)
        if count <= MOST_OVERFLOWS:
            rows.append({"pipe": size.name, "bore": size.bore_m, "count": count, "takes": each})
    sheet.put("circulation.overflow_choices", rows, overflow.standpipe_flow,
              note="For one bath: partly blocked by the allowance; the others take it all with one blocked outright.")
    one_metre = overflow.straight_weir_flow(length_m=1.0, head_m=rise)
    sheet.put("circulation.weir_length", flow / (1.0 - blockage) / one_metre, overflow.straight_weir_flow,
              {"length_m": flow / (1.0 - blockage) / one_metre, "head_m": rise},
              note="For the flow of one bath, made larger by the blockage allowance.")
    widest = pipes(sheet.system)[-1]
    each = overflow.standpipe_flow(rim_bore_m=widest.bore_m, head_m=rise)
    most = each * drains * (1.0 - blockage)
    if drains > 1:
        most = min(most, each * (drains - 1))
    sheet.put("circulation.most_turnover", most / sheet.result("water.bath_volume"),
              note=f"{drains} overflow{'' if drains == 1 else 's'} of {widest.name} in each bath, at the allowed rise.")


def way_back(sheet: Sheet) -> None:
    """Overflow of each bath: wide enough at the allowed rise, partly blocked, with one wholly blocked if it has two."""
    if not scheme.pumps_water(sheet):
        sheet.put("circulation.drain_flow", 0.0, note="No water is pumped.")
        sheet.put("circulation.overflow_words", "None needed: no water is pumped.", note="Nothing runs over.")
        return
    rise = rise_of(sheet)
    drains, blockage = sheet.whole("circulation.drains"), sheet["circulation.blockage"]
    flow = sheet.result("circulation.flow") / sheet["bath.count"]
    need = flow_for_each(flow, drains, blockage)
    if drains == 1:
        sheet.caution("second-drain", "warning",
                      "One overflow in a bath: when roots or a leaf block it, the pump empties the reservoir over the "
                      "rim. Fit a second overflow, a little higher, and a strainer on both.", lead="Only one overflow",
                      brief="If it clogs, the pump empties the reservoir over the rim: fit a second one.")
    sheet.put("circulation.drain_flow", need, note="Flow into one bath, shared among its overflows, made larger by the "
                                                   "blockage allowance.")
    _check_rim(sheet, rise)
    size = smallest_pipe(sheet.system, need, rise)
    widest = pipes(sheet.system)[-1]
    if size is None or size.bore_m > ABSURD_BORE_M:
        offers = " ".join(_offers(sheet, flow, rise, size))
        asked = sheet.shown("circulation.drain_flow")
        if size is None:
            taken = sheet.shown_as("circulation.drain_flow",
                                   overflow.standpipe_flow(rim_bore_m=widest.bore_m, head_m=rise))
            text = (f"No overflow on the list is enough: each must take {asked}, and even {widest.name} takes {taken} "
                    f"at a rise of {sheet.show(rise, 'length', 'in', 'mm')}. {offers}")
            sheet.put("circulation.overflow_words", text, note="Each way is worked out at the allowed rise.")
            sheet.caution("overflow-too-small", "danger", f"The water cannot get back. {text}",
                          lead="Overflow too small",
                          brief=f"The water cannot get back: each overflow must take {asked}, and none on the list "
                                "does.")
            raise Unanswered("circulation.drains", "circulation.rise")
        text = f"Large: {size.name}, for each overflow must take {asked}. {offers}"
        sheet.caution("overflow-large", "warning", f"Overflow {text[0].lower()}{text[1:]}", lead="Large overflow",
                      brief=f"It takes {size.name}, for each must take {asked}.")
    else:
        text = f"{drains} of {size.name} in each bath."
    sheet.put("circulation.overflow_words", text, note="Each way is worked out at the allowed rise.")
    sheet.put("circulation.overflow_bore", size.bore_m, overflow.standpipe_flow,
              {"rim_bore_m": size.bore_m, "head_m": rise},
              note="The smallest pipe on the list whose rim takes the flow each overflow must take.",
              source=size.source)
    _throttled(sheet, size, drains, blockage, rise)
    sheet.put("circulation.overflow_pipe", size.name, note="As sold, with its average bore.", source=size.source)
    takes = sheet.work("circulation.overflow_flow", overflow.standpipe_flow, rim_bore_m=size.bore_m, head_m=rise)
    sheet.put("circulation.film_depth", standing_film(size.bore_m, flow / drains, rise), overflow.standpipe_flow,
              {"rim_bore_m": size.bore_m},
              note="The height at which a clean overflow takes its share of the flow.")
    _valve_open(sheet, takes * drains)


def _throttled(sheet: Sheet, size: Size, drains: int, blockage: float, rise: float) -> None:
    """The smaller pipe that would do if the pump's valve were closed until it gives just the flow wanted."""
    wanted = sheet.result("circulation.target_flow")
    if wanted >= sheet.result("circulation.flow"):
        return
    smaller = smallest_pipe(sheet.system, flow_for_each(wanted / sheet["bath.count"], drains, blockage), rise)
    if smaller is not None and smaller.bore_m < size.bore_m - HAIR:
        sheet.put("circulation.overflow_closed", f"{smaller.name}, for {sheet.shown('circulation.target_flow')}; but "
                  "a valve knocked open then lets in more than it takes once partly blocked", source=smaller.source,
                  note="The size above is for the pump with its valve open. Measure the flow after closing it, and put "
                  "that in as the throttled flow.")


def _valve_open(sheet: Sheet, takes: float) -> None:
    """What happens when a throttled valve is knocked open."""
    if sheet.optional("circulation.throttled") is None:
        return
    full = sheet.result("circulation.flow_open") / sheet["bath.count"]
    gives, set_to, clean = (sheet.shown_as("circulation.drain_flow", one) for one in (
        full, sheet.result("circulation.flow") / sheet["bath.count"], takes))
    enough = takes >= full * (1 - HAIR)
    ending = ("enough while it is clean" if enough else
              "not enough: the water rises over the allowed level, and may go over the rim of the bath")
    sheet.caution("valve-open", "warning" if enough else "danger",
                  f"Valve: knocked fully open, it lets {gives} into each bath instead of {set_to}. The overflow there "
                  f"takes {clean} clean, which is {ending}. Fix the valve's handle, or take a smaller pump.",
                  lead="Valve knocked open",
                  brief=f"It then lets {gives} into each bath; the overflow takes {clean} clean.")


def _offers(sheet: Sheet, flow: float, rise: float, size: Size | None) -> list[str]:
    """Sentences with what would do instead; ``flow`` is that of one bath, ``size`` the pipe it asks for now."""
    bath_flow_words = sheet.shown_as("circulation.drain_flow", flow)
    found = [*_smaller_flows(sheet, rise, size)]
    rows = sheet.rows_if_any("circulation.overflow_choices")
    # Of pipes that ask for equally many the smallest; one alone is what is too large now.
    fewest: dict[int, Row] = {}
    for row in rows:
        if row["count"] > 1:
            fewest.setdefault(row["count"], row)
    several = list(fewest.values())
    told = [row for row in several if row["bore"] <= ABSURD_BORE_M][-2:] + [
        row for row in several if row["bore"] > ABSURD_BORE_M][-1:]
    if told:
        counts = ", or ".join(f"{row['count']} of {row['pipe']}" for row in told)
        found.append(f"Several overflows in each bath take {bath_flow_words}: {counts}.")
    edge = sheet.result_if_any("circulation.weir_length")
    if edge is not None:
        end = sheet.result_if_any("water.opening_width")
        room = ""
        if end is not None:
            shown = sheet.shown_as("water.opening_width", end)
            room = f"; the end of your bath is {shown} wide" + (", so it fits" if edge <= end else ", so it takes more "
                                                                 "than one end")
        found.append(f"A level edge with a gutter behind it takes it over a length of "
                     f"{sheet.shown('circulation.weir_length')}{room}.")
    most = sheet.result_if_any("circulation.most_turnover")
    if most is not None and size is None:
        drains = sheet.whole("circulation.drains")
        found.append(f"Or pump less: {drains} of {pipes(sheet.system)[-1].name} in each bath "
                     f"take{'s' if drains == 1 else ''} a turnover of {sheet.shown('circulation.most_turnover')}.")
    return found


def _smaller_flows(sheet: Sheet, rise: float, size: Size | None) -> list[str]:
    """A smaller pump, a smaller pump on a wider hose, and a valve: each with its flow and the pipe it asks for."""
    baths, drains = sheet.whole("bath.count"), sheet.whole("circulation.drains")
    blockage, wanted = sheet["circulation.blockage"], sheet.result("circulation.target_flow")
    now, here = sheet.result("circulation.flow"), running(sheet)

    def pipe_for(flow: float) -> Size | None:
        pipe = smallest_pipe(sheet.system, flow_for_each(flow / baths, drains, blockage), rise)
        better = pipe is not None and (size is None or pipe.bore_m < size.bore_m)
        return pipe if better else None

    def say(flow: float, pipe: Size) -> str:
        return f"{sheet.shown_as('circulation.flow', flow)}, for which {pipe.name} is enough"
    found = []
    rows = sheet.result_rows("circulation.pump_flows")
    smaller = [row for row in rows if wanted <= row["flow"] < now]
    row = min(smaller, key=lambda one: one["flow"], default=None)
    pipe = pipe_for(row["flow"]) if row else None
    if row and pipe:
        found.append(f"A smaller pump{_by_name(row)} gives {say(row['flow'], pipe)}.")
    else:
        found += _on_wider_hose(sheet, here["watts"], now, wanted, pipe_for, say)
    pipe = pipe_for(wanted) if sheet.optional("circulation.throttled") is None and wanted < now else None
    if pipe:
        found.append(f"A valve that throttles the pump to the flow wanted gives {say(wanted, pipe)}; put it in as the "
                     "throttled flow.")
    return found


def _by_name(row: Row) -> str:
    """A smaller pump that the reader has named; an example has no name to ask for."""
    return called({**row, "name": f" ({row['name']})"}, "")


def _on_wider_hose(sheet: Sheet, watts: float, now: float, wanted: float, pipe_for: Callable[[float], Size | None],
                   say: Callable[[float, Size], str]) -> list[str]:
    """The narrowest wider hose on which a pump of fewer watts gives what is wanted, and less than flows now."""
    for hose in hoses(sheet.system):
        if hose.bore_m <= sheet["circulation.hose_bore"] * 1.01:
            continue
        system = system_of(sheet, hose.bore_m)
        for row in sorted(in_play(sheet.rows("circulation.pumps")), key=lambda one: one["power"]):
            flow = operate(pump_curve(sheet, row), system) if row["power"] < watts else 0.0
            pipe = pipe_for(flow) if wanted <= flow < now else None
            if pipe:
                return [f"A smaller pump{_by_name(row)} on a wider hose, {hose.name}, gives {say(flow, pipe)}."]
    return []


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
                      "or keep the water lower.", lead="Water over rim",
                      brief=f"It may rise {sheet.show(above, 'length', 'in', 'mm')}; the rim is "
                            f"{sheet.show(spare, 'length', 'in', 'mm')} away.")


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
    if not scheme.pumps_water(sheet):
        return
    bore = sheet.result("circulation.overflow_bore")
    temperature = sheet["water.temperature"]
    fall, length = sheet["circulation.drain_fall"], sheet["circulation.drain_length"]
    if length < fall * (1 - 1e-9):
        sheet.fault("circulation.drain_length", "Length of the drain is shorter than its fall: enter "
                                                f"{sheet.show(fall, 'length', 'ft', 'm')} or more.",
                    {"circulation.drain_fall": ""})
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
                      "make it shorter, use wider pipe, or fit more overflows.", lead="Drain too small",
                      brief=f"It takes {sheet.shown('circulation.drain_capacity')} and must take "
                            f"{sheet.shown('circulation.drain_flow')}.")
