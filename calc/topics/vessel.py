"""What holds the water: the questions that give a vessel's shape, and the water in it up to any depth."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..declare import Choice, Field
from ..relations import geometry
from ..relations.base import Related

if TYPE_CHECKING:
    from ..sheet import Sheet

SHAPES = (
    Choice("box", "Box: straight sides"),
    Choice("tapered box", "Tapered box, like a tote"),
    Choice("round", "Round: straight sides"),
    Choice("tapered round", "Tapered round, like a bucket"),
    Choice("half drum", "Half a drum, lying"),
    Choice("oval", "Oval: round ends"),
    Choice("known volume", "Known volume, by filling"),
)
TAPERED_BOX, ROUND, TAPERED_ROUND, KNOWN = "tapered box", "round", "tapered round", "known volume"
HALF_DRUM, OVAL = "half drum", "oval"
MEASURED = "an invented example; measure your own"


def vessel_fields(prefix: str, name: str, sizes: dict[str, tuple[str, str]], shape: str,
                   essential: tuple[str, ...]) -> tuple[Field, ...]:
    """The questions that give a tank's shape; the bath and the reservoir are asked the same ones."""

    boxes = ("box", TAPERED_BOX, HALF_DRUM, OVAL) + ((KNOWN,) if prefix == "bath" else ())
    rounds = (ROUND, TAPERED_ROUND)
    shape_key = prefix + ".shape"

    def length(key: str, label: str, shapes: tuple[str, ...], help_text: str, maximum: float = 60.0) -> Field:
        return Field(f"{prefix}.{key}", "length", f"{name} {label}", sizes[key], 0.01, maximum, "in", "cm",
                     help=help_text, why=MEASURED, when=((shape_key, shapes),) if shapes else (),
                     essential=key in essential)

    return (
        Field(shape_key, "choice", f"{name} shape", (shape, shape), choices=SHAPES, why="the commonest case",
              help="seen from above, and whether its walls slope",
              essential="shape" in essential),
        length("length", "length", boxes, "inside, along the longer side, at the rim"),
        length("width", "width", boxes, "inside, along the shorter side, at the rim"),
        length("base_length", "length at floor", (TAPERED_BOX,), "inside, along the longer side, at the bottom"),
        Field(f"{prefix}.base_width", "length", f"{name} width at floor", sizes["base_width"], 0.01, 60.0, "in",
              "cm", help="inside, shorter side, at the bottom; empty: tapers as the length",
              why="empty: totes taper alike on all sides", when=((shape_key, (TAPERED_BOX,)),), optional=True),
        length("diameter", "diameter", rounds, "inside, at the rim"),
        length("base_diameter", "diameter at floor", (TAPERED_ROUND,), "inside, at the bottom"),
        length("depth", "inside depth", (), "inside, from floor to rim", 5.0),
        length("water_depth", "water depth", (), "from the floor to the water, with the pump running", 5.0),
        Field(f"{prefix}.known_volume", "volume", f"{name} known volume", sizes["known_volume"], 1e-4, 1000.0,
              "gal", "L", help="the water you poured in, counted by the jug or the meter", why=MEASURED,
              when=((shape_key, (KNOWN,)),), essential="known_volume" in essential),
        Field(f"{prefix}.known_depth", "length", f"{name} measured depth", ("", ""), 0.01, 5.0, "in", "cm",
              help="how deep the known volume stood; empty: the water depth", optional=True,
              why="empty: measured at the running level", when=((shape_key, (KNOWN,)),)),
    )


def at_floor(sheet: Sheet, prefix: str, side: str) -> float:
    """Size at the floor in m, no larger than at the rim: a raft that fits the water must also pass the rim."""
    base, rim = sheet[f"{prefix}.base_{side}"], sheet[f"{prefix}.{side}"]
    if base > rim * (1 + 1e-9):
        whose = ", which is our guess" if sheet.guessed(f"{prefix}.base_{side}") else ""
        sheet.fault(f"{prefix}.base_{side}", f"{prefix.capitalize()} {side} at the floor is more than at the rim: "
                    f"measure both inside, and enter {sheet.shown(f'{prefix}.{side}')} or less.",
                    {f"{prefix}.{side}": f"{prefix.capitalize()} {side} is less than the "
                     f"{sheet.shown(f'{prefix}.base_{side}')} at the floor{whose}: measure both inside, and enter that "
                     f"or more, or put in the {side} at the floor as well."})
    return base


def guessed_floor(sheet: Sheet, prefix: str) -> str:
    """What to measure of a tapered vessel whose rim is the reader's own and whose floor is not; "" where nothing is.

    The water hangs on both, and a floor left at the example's size makes a wrong volume look like a measured one.
    """
    side = {TAPERED_BOX: "length", TAPERED_ROUND: "diameter"}.get(sheet.text(prefix + ".shape"), "")
    if not side or sheet.guessed(f"{prefix}.{side}") or not sheet.guessed(f"{prefix}.base_{side}"):
        return ""
    return (f"The {prefix}'s {side} at the floor, {sheet.shown(f'{prefix}.base_{side}')}, is our guess: measure it "
            "inside, at the bottom, and type it.")


def base_width(sheet: Sheet, prefix: str) -> float:
    """Width at the floor of a tapered box: as typed, or tapering as much as the length does."""
    typed = sheet.optional(prefix + ".base_width")
    if typed is not None:
        return at_floor(sheet, prefix, "width")
    width = sheet[prefix + ".width"] - (sheet[prefix + ".length"] - at_floor(sheet, prefix, "length"))
    if width <= 0.0:
        sheet.fault(prefix + ".base_width", "Width at the floor is empty, and with the taper of the length nothing "
                    "would be left of it: measure it and enter it, like 10 in.",
                    {f"{prefix}.width": "", f"{prefix}.base_length": "", f"{prefix}.length": ""})
    return width


def half_drum_depth(sheet: Sheet, prefix: str) -> float:
    """Inside depth of half a drum: no more than half its width, or its walls would close in again."""
    depth, width = sheet[prefix + ".depth"], sheet[prefix + ".width"]
    if depth > width / 2 * (1 + 1e-6):
        half = sheet.shown_as(prefix + ".depth", width / 2)
        sheet.fault(prefix + ".depth", f"{prefix.capitalize()} inside depth is more than half the width, and half a "
                    f"drum is at most as deep as {half}: enter that or less, or choose another shape.",
                    {prefix + ".width": f"{prefix.capitalize()} width is less than twice the depth, "
                     f"{sheet.shown_as(prefix + '.depth', 2 * depth)}: measure it at the rim and enter that or more, "
                     "or choose another shape.", prefix + ".shape": ""})
    return depth


def oval_length(sheet: Sheet, prefix: str) -> float:
    """Length of an oval over all: no less than its width, for its ends are half-round."""
    long, wide = sheet[prefix + ".length"], sheet[prefix + ".width"]
    if long < wide * (1 - 1e-9):
        sheet.fault(prefix + ".length", f"{prefix.capitalize()} length is less than the width: an oval is longer than "
                    f"wide; enter {sheet.shown(prefix + '.width')} or more.", {
                        prefix + ".width": f"{prefix.capitalize()} width is more than the length: an oval is longer "
                        f"than wide; enter {sheet.shown(prefix + '.length')} or less.", prefix + ".shape": ""})
    return long


def volume_to(sheet: Sheet, prefix: str, depth_m: float,
              ) -> tuple[float, Related[..., float] | None, dict[str, float]]:
    """Water in a tank up to a depth: (volume in m3, relation or None, the numbers put in)."""
    shape = sheet.text(prefix + ".shape")
    if depth_m <= 0.0:
        return 0.0, None, {}
    if shape == KNOWN:
        known_depth = sheet.optional(prefix + ".known_depth") or sheet[prefix + ".water_depth"]
        arguments = {"known_volume_m3": sheet[prefix + ".known_volume"], "known_depth_m": known_depth,
                     "depth_m": depth_m}
        return geometry.volume_by_filling(**arguments), geometry.volume_by_filling, arguments
    full = sheet[prefix + ".depth"]
    if shape == "box":
        arguments = {"length_m": sheet[prefix + ".length"], "width_m": sheet[prefix + ".width"], "depth_m": depth_m}
        return geometry.box_volume(**arguments), geometry.box_volume, arguments
    if shape == HALF_DRUM:
        arguments = {"length_m": sheet[prefix + ".length"], "rim_width_m": sheet[prefix + ".width"],
                     "full_depth_m": half_drum_depth(sheet, prefix), "depth_m": depth_m}
        return geometry.half_drum_volume(**arguments), geometry.half_drum_volume, arguments
    if shape == OVAL:
        arguments = {"length_m": oval_length(sheet, prefix), "width_m": sheet[prefix + ".width"], "depth_m": depth_m}
        return geometry.oval_volume(**arguments), geometry.oval_volume, arguments
    if shape == TAPERED_BOX:
        sizes = {"length": (sheet[prefix + ".length"], at_floor(sheet, prefix, "length")),
                 "width": (sheet[prefix + ".width"], base_width(sheet, prefix))}
        arguments = {"depth_m": depth_m}
        for side, (top, base) in sizes.items():
            arguments[f"top_{side}_m"] = geometry.size_at_depth(
                top_m=top, base_m=base, full_depth_m=full, depth_m=depth_m)
            arguments[f"base_{side}_m"] = base
        return geometry.tapered_box_volume(**arguments), geometry.tapered_box_volume, arguments
    if shape == ROUND:
        arguments = {"diameter_m": sheet[prefix + ".diameter"], "depth_m": depth_m}
        return geometry.cylinder_volume(**arguments), geometry.cylinder_volume, arguments
    top, base = sheet[prefix + ".diameter"], at_floor(sheet, prefix, "diameter")
    arguments = {"top_diameter_m": geometry.size_at_depth(top_m=top, base_m=base, full_depth_m=full, depth_m=depth_m),
                 "base_diameter_m": base, "depth_m": depth_m}
    return geometry.frustum_volume(**arguments), geometry.frustum_volume, arguments


def check_depth(sheet: Sheet, prefix: str, name: str) -> float:
    """The water depth, once it is known to be no deeper than the tank."""
    depth, water_depth = sheet[prefix + ".depth"], sheet[prefix + ".water_depth"]
    if water_depth > depth * (1 + 1e-9):
        limit = sheet.shown(prefix + ".depth")
        sheet.fault(prefix + ".water_depth",
                    f"{name} water depth is more than its inside depth: enter {limit} or less.",
                    {prefix + ".depth": f"{name} inside depth is less than the water in it is deep: enter "
                     f"{sheet.shown(prefix + '.water_depth')} or more, or a smaller water depth."})
    return water_depth


