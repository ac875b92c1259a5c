"""Mends of circulation: hose, valve, pump, lift, overflows, drain, header and return main."""

from __future__ import annotations

from collections.abc import Iterable
from math import pi
from typing import TYPE_CHECKING

from ..data.fittings import HOSE_SPEED_M_S, INCH_M, hoses, mains
from .trying import Candidate, Said, known, number, result_rows, said, scaled, typed

if TYPE_CHECKING:
    from ..solve import Design

SPEED = Said("circulation.velocity", "the water", "slows", "speeds up")
FLOW = Said("circulation.flow", "the flow")
WANTED = Said("circulation.target_flow", "the flow wanted")
EACH = Said("circulation.drain_flow", "what each overflow must take")
TAKES = Said("circulation.overflow_flow", "what each overflow takes")
DRAIN = Said("circulation.drain_capacity", "what the drain takes")
SPREAD = Said("circulation.branch_spread", "the nearest bath's lead over the farthest", "shrinks", "grows")
MAIN = Said("circulation.main_capacity", "what the return main takes")
POWER = Said("circulation.power", "the pump's power")
# A wider overflow than 2 in (50 mm) is hard to fit; a spread under a twentieth is even enough.
WIDE_M, EVEN = 0.053, 0.05
# Water over the rim of an overflow, as one would allow it: 1/2 to 2 in.
RISES_M = (0.0127, 0.01905, 0.0254, 0.0381, 0.0508)
STRAINED = ("water-pump-strained", "lift-touchy")


def as_sold(name: str) -> str:
    """The bore of a hose as one types it: "1 1/4 in" for a "1-1/4 in hose"."""
    return name.removesuffix(" hose").replace("-", " ")


def wider_hose(design: Design) -> Iterable[Candidate]:
    """The next hoses sold, where the water is hurried or the pump gives too little."""
    found = known(design, "circulation.hose_bore", "circulation.velocity", "circulation.flow",
                  "circulation.target_flow")
    if found is None:
        return
    bore, speed, flow, wanted = found
    hurried = speed > HOSE_SPEED_M_S
    # Where the water cannot get back, more of it helps nobody.
    spills = said(design, "overflow-too-small", "drain-too-small", "main-too-small")
    if spills or not (hurried or flow < wanted or said(design, *STRAINED)):
        return
    # At the flow of now a size must at least be slow enough; a wider one lets more through.
    sizes = [one for one in hoses(design.system) if one.bore_m > bore * 1.01
             and (not hurried or speed * (bore / one.bore_m) ** 2 <= HOSE_SPEED_M_S)]
    for size in sizes[:2]:
        yield Candidate({"circulation.hose_bore": as_sold(size.name)}, f"Take {size.name}",
                        (SPEED, FLOW) if hurried else (FLOW, SPEED))


def wider_hose_and_overflow(design: Design) -> Iterable[Candidate]:
    """A wider hose lets more through: one more overflow takes it back."""
    drains = number(design, "circulation.drains")
    if drains is not None and (number(design, "circulation.velocity") or 0.0) > HOSE_SPEED_M_S:
        for one in wider_hose(design):
            yield Candidate({**one.changes, "circulation.drains": f"{drains + 1:.0f}"},
                            f"{one.act}, and fit one more overflow", one.about)


def half_close(design: Design) -> Iterable[Candidate]:
    """The valve closed until the hose is slow enough, or until the flow wanted is left."""
    found = known(design, "circulation.hose_bore", "circulation.flow", "circulation.target_flow")
    if found is None:
        return
    bore, flow, wanted = found
    at_limit = 0.95 * HOSE_SPEED_M_S * pi / 4.0 * bore ** 2
    key = "circulation.throttled"
    hurried = (number(design, "circulation.velocity") or 0.0) > HOSE_SPEED_M_S
    for aim, up in ((at_limit, False), (wanted * 2.0, True)):
        if wanted <= aim < flow * 0.98 and (hurried or wide_overflow(design)):
            words = typed(design, key, aim, up)
            yield Candidate({key: words}, f"Close the valve until {words} run", (SPEED, FLOW))


def open_valve(design: Design) -> Iterable[Candidate]:
    """The valve fully open again, where it is throttled under what is wanted."""
    flow, wanted = number(design, "circulation.flow"), number(design, "circulation.target_flow")
    if number(design, "circulation.throttled") is not None and flow is not None and wanted is not None \
            and flow < wanted:
        yield Candidate({"circulation.throttled": ""}, "Open the valve", (FLOW, SPEED))


def next_pump(design: Design) -> Iterable[Candidate]:
    """Other pumps of the list that give what is wanted and are not near their limit, the fewest watts first."""
    wanted, now = number(design, "circulation.target_flow"), design.value("circulation.pump_name")
    rows = [row for row in result_rows(design, "circulation.pump_flows")
            if wanted is not None and row["flow"] >= wanted and not row["strained"] and row["name"] != now]
    for row in sorted(rows, key=lambda one: (not one["owned"], one["watts"]))[:3]:
        gives = (f"a pump that gives {design.shown_as('circulation.flow', row['flow'])} at "
                 f"{design.shown_as('circulation.head', row['head'])}" if row["example"] else row["name"])
        yield Candidate({"circulation.pump": row["name"], "circulation.throttled": ""}, f"Take {gives}",
                        (FLOW, SPEED, POWER))


def second_overflow(design: Design) -> Iterable[Candidate]:
    """One or two more overflows in each bath."""
    drains = number(design, "circulation.drains")
    ask = wide_overflow(design) or said(design, "second-drain", "drain-too-small", "valve-open")
    for more in (1, 2) if drains is not None and ask else ():
        count = int(drains or 0) + more
        words = "a second overflow" if count == 2 else f"{count} overflows"
        yield Candidate({"circulation.drains": str(count)}, f"Fit {words} in each bath", (EACH, TAKES))


def wide_overflow(design: Design) -> bool:
    """Whether an overflow takes wider pipe than one likes to fit, or none is wide enough."""
    if not number(design, "circulation.flow"):
        return False
    bore = number(design, "circulation.overflow_bore")
    return bore is None or bore > WIDE_M


def more_rise(design: Design) -> Iterable[Candidate]:
    """A little more water over the rim of the overflow, as far as the bath has room."""
    now = number(design, "circulation.rise") or number(design, "bath.film") or 0.0
    film, spare = number(design, "bath.film") or 0.0, number(design, "water.rim_to_water")
    key = "circulation.rise"
    for wanted in [one for one in RISES_M if one > 1.1 * now] if wide_overflow(design) else ():
        if spare is None or wanted - film < 0.8 * spare:
            words = typed(design, key, wanted, True, 0.125 if design.system == "us" else 1.0)
            yield Candidate({key: words}, f"Let the water stand {words} over the overflow", (TAKES, EACH))


def less_rise(design: Design) -> Iterable[Candidate]:
    """Less rise, where the allowed one comes over the rim."""
    film, spare = number(design, "bath.film"), number(design, "water.rim_to_water")
    rise = number(design, "circulation.rise")
    if film is not None and spare is not None and rise is not None and rise - film >= spare:
        words = typed(design, "circulation.rise", film + 0.5 * spare, False,
                      0.125 if design.system == "us" else 1.0)
        yield Candidate({"circulation.rise": words}, f"Allow {words} of rise only", (TAKES, EACH))


def steeper_drain(design: Design) -> Iterable[Candidate]:
    """More fall, where the drain takes less than each overflow must."""
    found = known(design, "circulation.drain_capacity", "circulation.drain_flow")
    if found and found[0] < found[1]:
        yield from scaled(design, "circulation.drain_length", (0.75, 0.5), "Make the drain {} long", DRAIN)
        yield from scaled(design, "circulation.drain_fall", (1.5, 2.0), "Give the drain {} of fall", DRAIN)


def less_turnover(design: Design) -> Iterable[Candidate]:
    """A turnover that the pump, or the overflow, does reach."""
    found = known(design, "circulation.turnover", "circulation.flow", "circulation.target_flow")
    values = design.plan.values
    aim = design.value("circulation.turnover_wanted")
    short = found is not None and found[1] < found[2]
    otherwise = any(values.get(f"circulation.{key}") is not None for key in ("wanted_flow", "loading"))
    if otherwise or not isinstance(aim, float) or aim <= 0.0 or not (short or wide_overflow(design)):
        return
    factors = [0.75, 0.5]
    if found and found[2] > 0.0 and found[1] < found[2]:
        factors.insert(0, found[1] / found[2])
    for factor in factors:
        words = typed(design, "circulation.turnover", aim * factor, False)
        if not words.startswith("0 "):
            yield Candidate({"circulation.turnover": words}, f"Ask for a turnover of {words}", (WANTED, FLOW))


def lower_lift(design: Design) -> Iterable[Candidate]:
    """The reservoir's water nearer to the bath."""
    flow, wanted = number(design, "circulation.flow"), number(design, "circulation.target_flow")
    higher, full = number(design, "circulation.flow_higher"), number(design, "circulation.flow_open")
    if flow is not None and wanted is not None and (flow < wanted or (higher or 0.0) < 0.8 * (full or 0.0)):
        yield from scaled(design, "circulation.lift", (0.8, 0.6), "Stand the reservoir higher: {} of lift", FLOW)


def header(design: Design) -> Iterable[Candidate]:
    """A wider header, or narrower branches, for several baths."""
    bore, branch = number(design, "circulation.header_bore"), number(design, "circulation.branch_bore")
    if (number(design, "circulation.branch_spread") or 0.0) <= EVEN:
        return
    for size in [one for one in mains(design.system) if one.bore_m > (bore or 0.0) * 1.01][:2] if bore else ():
        words = f"{size.bore_m * 1000.0:g} mm" if design.system == "metric" else f"{size.bore_m / INCH_M:.3f} in"
        yield Candidate({"circulation.header_bore": words}, f"Take {size.name} for the header", (SPREAD, FLOW))
    if branch:
        for size in [one for one in reversed(hoses(design.system)) if one.bore_m < branch * 0.99][:1]:
            yield Candidate({"circulation.branch_bore": as_sold(size.name)}, f"Take {size.name} for the branches",
                            (SPREAD, FLOW))


def return_fall(design: Design) -> Iterable[Candidate]:
    """More fall in the return main, where no pipe sold takes all the water half full."""
    if number(design, "circulation.main_flow") is not None and number(design, "circulation.main_capacity") is None:
        yield from scaled(design, "circulation.main_fall", (1.5, 2.0, 3.0), "Give the return main {} of fall", MAIN)


MENDS = (wider_hose, half_close, wider_hose_and_overflow, open_valve, second_overflow, less_rise, more_rise,
         steeper_drain, next_pump, lower_lift, less_turnover, header, return_fall)
