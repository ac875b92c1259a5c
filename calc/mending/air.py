"""Mends of air: where the stones hang, what is asked for, and what the pumps give."""

from __future__ import annotations

from collections.abc import Iterable
from math import floor
from typing import TYPE_CHECKING

from .trying import Candidate, Said, new_row, number, result_rows, said, scaled, set_to, text, typed

if TYPE_CHECKING:
    from ..solve import Design

NEEDED = Said("air.target", "the air to blow")
GIVEN = Said("air.delivered", "the air delivered")
ALONE = Said("air.delivered_one_dead", "the air left with one pump dead")
DEPTH = Said("air.stone_depth", "the stones' depth")
PUSH = Said("air.back_pressure", "the pressure to push against")
APART = Said("air.stone_spacing", "the distance between stones", "shrinks", "grows")
PUMPS = Said("air.pump_count", "the number of pumps")
OXYGEN = Said("oxygen.bath_hottest", "oxygen in the hottest hour")
# Small pumps turn 5 to 20 % of their power into air: from memory, not verified; a tenth is taken.
WIRE_TO_AIR = 0.10


def higher_stones(design: Design) -> Iterable[Candidate]:
    """Stones nearer to the surface push against less water."""
    depth, water = number(design, "air.stone_depth"), number(design, "bath.water_depth")
    rows, need = result_rows(design, "air.pump_flows"), number(design, "air.target")
    hard = any(row["strained"] or row["delivered"] <= 0.0 for row in rows)
    if not depth or not water or not (hard or (number(design, "air.delivered") or 0.0) < (need or 0.0)):
        return
    for share in (0.8, 0.65, 0.5):
        if number(design, "air.depth") is not None:
            words = typed(design, "air.depth", depth * share, False)
            yield Candidate({"air.depth": words}, f"Hang the stones {words} deep", (PUSH, GIVEN, NEEDED))
        else:
            words = typed(design, "air.stone_height", water - depth * share)
            yield Candidate({"air.stone_height": words}, f"Hang the stones {words} above the floor",
                            (PUSH, GIVEN, NEEDED))


def cheaper_aim(design: Design) -> Iterable[Candidate]:
    """A little less oxygen to keep, where the last bit costs walls of pumps or is out of reach."""
    target = number(design, "oxygen.target")
    most = number(design, "oxygen.saturation_hottest")
    if not target or (text(design, "air.rule") != "oxygen" and not said(design, "oxygen-target-near-limit")):
        return
    aims = [target - 0.5, target - 1.0, target - 1.5]
    if most and target > 0.9 * most:
        aims = [0.9 * most, 0.8 * most, 0.7 * most]
    for aim in aims:
        tenths = floor(aim * 10.0 + 1e-9) / 10.0
        if 4.0 <= tenths < target:
            yield Candidate({"oxygen.target": f"{tenths:g} mg/L"}, f"Ask for {tenths:g} mg/L of oxygen",
                            (NEEDED, GIVEN))


def by_oxygen(design: Design) -> Iterable[Candidate]:
    """The air that the roots need, where a rule of practice asks for more than fits, or for less."""
    yield from set_to(design, "air.rule", "oxygen", "Let the oxygen balance say how much air", NEEDED, GIVEN)


def per_hour(design: Design) -> Iterable[Candidate]:
    """The rule of practice read the other way."""
    if text(design, "air.rule") in ("optimum", "floor") and text(design, "air.reading") != "per hour":
        yield Candidate({"air.reading": "per hour"}, "Read the rule of practice per hour", (NEEDED, GIVEN))
    elif text(design, "air.rule") in ("optimum", "floor"):
        yield Candidate({"air.reading": "per minute"}, "Read the rule of practice per minute", (GIVEN, NEEDED))


def spare_pump(design: Design) -> Iterable[Candidate]:
    """A set of pumps that keeps the oxygen even with its largest pump dead."""
    if design.plan.values.get("air.spare") is False:
        yield Candidate({"air.spare": "yes"}, "Add a pump that takes over when one dies", (ALONE, GIVEN, PUMPS))


def one_more(design: Design) -> Iterable[Candidate]:
    """One more of the pumps that the reader put in."""
    running = {row["name"] for row in result_rows(design, "air.pumps_running")}
    for place, row in enumerate(design.rows("air.pumps"), 1):
        if row.get("name") in running and not row["example"] and row.get("owned"):
            count = int(row["owned"]) + 1
            yield Candidate({f"air.pumps.{place}.owned": str(count)}, f"Run {count} of {row['name']}", (GIVEN, ALONE))


def larger_pump(design: Design) -> Iterable[Candidate]:
    """A pump to ask for in a shop, where none on the list is enough: twice the flow and pressure it must give."""
    need, push = number(design, "air.target"), number(design, "air.back_pressure")
    push = push or number(design, "air.water_pressure")
    if not need or not push:
        return
    watts = max(need * push / WIRE_TO_AIR, 2.0)
    flow, shutoff = typed(design, "air.pumps.1.free_flow", 2.0 * need), typed(design, "air.pumps.1.shutoff", 2.0 * push)
    changes = new_row(design, "air.pumps", {"name": "The pump to ask for", "free_flow": flow, "shutoff": shutoff,
                                            "power": typed(design, "air.pumps.1.power", watts)})
    if changes:
        yield Candidate(changes, f"Ask for an air pump of {flow} free air, shut-off {shutoff}", (GIVEN, PUMPS, NEEDED))


def finer_stones(design: Design) -> Iterable[Candidate]:
    """Finer bubbles bring more oxygen for the same air."""
    kinds = {"bare hose": ("stone", "fine"), "stone": ("fine",)}
    names = {"stone": "air stones", "fine": "fine-bubble stones"}
    for kind in kinds.get(text(design, "oxygen.stones"), ()):
        yield Candidate({"oxygen.stones": kind}, f"Use {names[kind]}", (OXYGEN, NEEDED, GIVEN))


def larger_stones(design: Design) -> Iterable[Candidate]:
    """Fewer, larger stones, where they stand too close."""
    if (number(design, "air.stones_per_bath") or 0) > 1:
        yield from scaled(design, "air.stone_flow", (1.5, 2.0, 3.0), "Take stones that pass {}", APART, PUMPS)


def wider_air_line(design: Design) -> Iterable[Candidate]:
    """A wider air line loses less pressure."""
    lost, push = number(design, "air.hose_pressure"), number(design, "air.back_pressure")
    if lost and push and lost > 0.1 * push:
        yield from scaled(design, "air.hose_bore", (4 / 3, 5 / 3), "Take air line of {} bore", PUSH, GIVEN)


MENDS = (per_hour, by_oxygen, higher_stones, cheaper_aim, finer_stones, spare_pump, wider_air_line, one_more,
         larger_stones, larger_pump)
