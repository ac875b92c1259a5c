"""Six short activities at a bath, each with the number that the plan predicts and room for what was measured."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from html import escape

from ... import units
from ...solve import Design

# Lifts to try, as shares of the plan's own, and temperatures to compare, in degrees Celsius.
LIFTS = (0.5, 1.0, 1.5)
WARMTHS = (10.0, 20.0, 30.0)


@dataclass(frozen=True)
class Activity:
    """One activity: what it is called, what to bring, what to do, what to mind, and what the plan predicts."""

    title: str
    bring: str
    steps: tuple[str, ...]
    care: str
    predicts: Callable[[Design], list[tuple[str, str]]]


def _volumes(design: Design) -> list[tuple[str, str]]:
    said = design.shown("water.bath_volume")
    return [("By tape: length x width x depth of the water", said), ("By counting what was poured in", said)]


def _seconds(design: Design) -> list[tuple[str, str]]:
    """The time for a jug that everybody has."""
    flow = design.value("circulation.flow")
    us = design.system != "metric"
    if not flow:
        return []
    jug = units.KINDS["volume"].units["gal" if us else "L"].factor * (1.0 if us else 5.0)
    return [("Flow", design.shown("circulation.flow")),
            ("Seconds for 1 gal" if us else "Seconds for 5 L", f"{jug / flow:.0f} s")]


def flow_at(lift_m: float, curves: Sequence[dict[str, float]]) -> float | None:
    """What the pump moves at another lift: where its head less what the hose takes is that lift; None where nothing.

    ``curves`` are rows of flow, the pump's head and the head asked for at the plan's lift, the first at no flow.
    """
    still = curves[0]["asked"]
    left = [(row["flow"], row["pump"] - (row["asked"] - still) - lift_m) for row in curves]
    for (flow, here), (next_flow, there) in zip(left, left[1:], strict=False):
        if here >= 0.0 > there:
            return flow + (next_flow - flow) * here / (here - there)
    return None


def _curve(design: Design) -> list[tuple[str, str]]:
    lift, curves = design.value("circulation.lift"), design.value("circulation.curves")
    if not isinstance(lift, float) or not curves or lift <= 0.0:
        return []
    rows = []
    for share in LIFTS:
        found = flow_at(share * lift, curves)
        said = design.shown_as("circulation.flow", found) if found else "no flow"
        rows.append((f"Flow at a lift of {design.shown_as('circulation.lift', share * lift)}", said))
    return rows


def _stop(design: Design) -> list[tuple[str, str]]:
    keys = (("Water that runs back", "water.drain_back_volume"), ("Depth left in the bath", "water.depth_after_stop"),
            ("Room left in the reservoir", "outage.room_left"))
    return [(label, design.shown(key)) for label, key in keys if design.value(key) is not None]


def _oxygen(design: Design) -> list[tuple[str, str]]:
    held = {row["temperature"]: row["saturation"] for row in design.value("oxygen.saturation_table") or ()}
    return [(f"Oxygen in fresh water at {_warmth(celsius, design)}",
             design.shown_as("oxygen.saturation", held[celsius])) for celsius in WARMTHS if celsius in held]


def _warmth(celsius: float, design: Design) -> str:
    return f"{celsius:.0f} °C" if design.system == "metric" else f"{celsius * 1.8 + 32:.0f} °F"


def _floats(design: Design) -> list[tuple[str, str]]:
    """What sinks a bare raft, all boards of a bath together: the load that an area carries, times the area."""
    carries, area = design.value("board.capacity"), design.value("board.area")
    if not carries or not area:
        return []
    return [("Weights on the bare raft until it is just awash", design.shown_as("board.spare_load", carries * area)),
            ("With plants and pots at harvest: foam above the water", design.shown("board.freeboard"))]


ACTIVITIES = (
    Activity("Measure a volume two ways", "A tape, a measuring jug or bucket with a mark, paper.",
             ("Measure length, width and depth of the water, and work out the volume.",
              "Fill the bath by jug or bucket, and count.", "Compare the two. Which do you trust more, and why?"),
             "Half a bucket at a time: a full one is heavy. Wipe up what spills.", _volumes),
    Activity("Flow by bucket and watch", "A jug with a mark, a watch, a helper.",
             ("Hold the end of the supply hose over the jug.", "Count the seconds until the water is at the mark.",
              "Do it three times and take the middle one. Work out the flow."),
             "The pump is plugged in by the adult, at an outlet with a GFCI (RCD). Nobody touches plugs with wet "
             "hands, and no hand is in the water while it runs.",
             _seconds),
    Activity("A pump's curve by lifting the hose", "The jug and the watch, a tape, a pole to tie the hose to.",
             ("Tie the end of the hose at a low height over the water of the reservoir. Measure the flow.",
              "Tie it higher, and measure again. Then higher still.", "Draw flow against height."),
             "The adult pulls the plug each time before the hose is tied anew. Water must not run down a cord.",
             _curve),
    Activity("Stop the pump and watch", "A ruler, a marker or tape on the reservoir, a watch.",
             ("Mark the water in bath and reservoir with the pump running.", "The adult unplugs the pump.",
              "Wait until nothing runs any more. Measure how far both levels have moved."),
             "If the reservoir nears its rim, the adult plugs the pump in again at once: it lifts the water back.",
             _stop),
    Activity("Oxygen by temperature", "Three clean jars, ice, warm tap water, a thermometer, an oxygen meter or drops.",
             ("Stir cold, cool and warm water well for ten minutes, so that each takes up what it can.",
              "Measure temperature and oxygen of each.", "Which water would roots like best on a hot day?"),
             "Warm from the tap is enough: no hot water. Test drops can be harmful: goggles and gloves, and the "
             "adult pours.",
             _oxygen),
    Activity("Float a board with weights", "The bare raft, bottles of water of known weight, a ruler.",
             ("Float the raft and measure how much foam is above the water.",
              "Add bottles evenly, and measure after each.", "Stop when the water just reaches the top of the foam."),
             "Open water: an adult stays within reach of small children all the time. Use bottles, not stones.",
             _floats),
)


def html(design: Design) -> str:
    """All activities; one that this plan predicts nothing for says so."""
    return "".join(_article(number, one, design) for number, one in enumerate(ACTIVITIES, 1))


def _article(number: int, one: Activity, design: Design) -> str:
    rows = "".join(f'<tr><th scope="row">{escape(label)}</th><td>{escape(said)}</td><td class="room"></td></tr>'
                   for label, said in one.predicts(design))
    table = (f'<table class="rows"><caption class="visually-hidden">{escape(one.title)}</caption><thead><tr>'
             '<th scope="col">What</th><th scope="col">The plan predicts</th><th scope="col">We measured</th></tr>'
             f"</thead><tbody>{rows}</tbody></table>" if rows
             else "<p>This plan has no number for it: such a bath lacks what is measured here.</p>")
    steps = "".join(f"<li>{escape(step)}</li>" for step in one.steps)
    return (f'<article class="activity"><h3>{number}. {escape(one.title)}</h3><p>Bring: {escape(one.bring)}</p>'
            f'<ol>{steps}</ol><p class="caution"><strong>Take care:</strong> {escape(one.care)}</p>{table}</article>')
