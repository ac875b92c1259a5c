"""Sums of water: what vessels hold, their surface, and what runs back when the pump stops."""

from __future__ import annotations

from ...relations.frame import GRAVITY
from ...topics import scheme
from ...topics import vessel as topic
from .pad import NoSum, Pad, Term

PSI_PA = 6894.757


def length(pad: Pad, key: str) -> Term:
    """A length in the unit that vessels are measured in."""
    return pad.read(key, "length", "in", "cm")


def cubic(pad: Pad) -> str:
    """The space that a cube of the unit of length takes."""
    return "cu in" if pad.us else "cu cm"


def square(pad: Pad) -> str:
    """The area that a square of the unit of length takes."""
    return "sq in" if pad.us else "sq cm"


def in_a_square(pad: Pad) -> Term:
    """Square inches in a square foot, or square centimetres in a square metre."""
    return pad.num(144.0 if pad.us else 10_000.0)


def per_volume(pad: Pad) -> Term:
    """Cubic inches in a gallon, or cubic centimetres in a litre."""
    return pad.num(231.0 if pad.us else 1000.0)


def space(pad: Pad, prefix: str, depth: Term) -> Term:
    """The line for the space of a tank up to a depth; a volume in gallons or litres where it was measured by filling.

    The term that comes back is still to be written down, by the caller who knows what it is for.
    """
    shape = pad.text(f"{prefix}.shape")
    if shape == topic.KNOWN:
        raise NoSum
    full = length(pad, f"{prefix}.depth")
    if shape == "box":
        return length(pad, f"{prefix}.length") * length(pad, f"{prefix}.width") * depth
    if shape == topic.HALF_DRUM:
        return length(pad, f"{prefix}.length") * _segment(pad, length(pad, f"{prefix}.width"), full, depth)
    if shape == topic.OVAL:
        return _oval(pad, length(pad, f"{prefix}.length"), length(pad, f"{prefix}.width")) * depth
    if shape == topic.ROUND:
        across = length(pad, f"{prefix}.diameter")
        return pad.pi() / pad.num(4.0) * across * across * depth
    if shape == topic.TAPERED_ROUND:
        base = length(pad, f"{prefix}.base_diameter")
        top = _at(pad, "Across, at the water", length(pad, f"{prefix}.diameter"), base, depth, full)
        return pad.pi() / pad.num(12.0) * depth * (top * top + top * base + base * base)
    base_long, base_wide = length(pad, f"{prefix}.base_length"), _base_width(pad, prefix)
    long = _at(pad, "Length at the water", length(pad, f"{prefix}.length"), base_long, depth, full)
    wide = _at(pad, "Width at the water", length(pad, f"{prefix}.width"), base_wide, depth, full)
    top = pad.gives("Area at the water", long * wide, square(pad))
    floor = pad.gives("Area at the floor", base_long * base_wide, square(pad))
    middle = pad.gives("Halfway, four times", (long + base_long) * (wide + base_wide), square(pad))
    return (top + floor + middle) / pad.num(6.0) * depth


def _radius(pad: Pad, rim: Term, full: Term) -> Term:
    """Radius of a round bottom from its width and depth: of half a drum, half its width."""
    half = pad.gives("Half the width", rim / pad.num(2.0), "in" if pad.us else "cm")
    if half.value == full.value:
        return half
    return pad.gives("Radius", (half * half + full * full) / (pad.num(2.0) * full), "in" if pad.us else "cm")


def _half_width(pad: Pad, radius: Term, deep: Term) -> Term:
    """Half the width of the water over a round bottom (Pythagoras); at half the drum the radius itself."""
    if deep.value == radius.value:
        return radius
    squared = pad.gives("Half the width at the water, squared", (pad.num(2.0) * radius - deep) * deep, square(pad))
    return pad.root("Half the width at the water", squared, "in" if pad.us else "cm")


def _segment(pad: Pad, rim: Term, full: Term, deep: Term) -> Term:
    """Area of the water's cut over a round bottom: a slice of the circle, less the triangles above the water."""
    radius = _radius(pad, rim, full)
    if deep.value == radius.value:
        return pad.gives("Half a disc", pad.pi() / pad.num(2.0) * radius * radius, square(pad))
    half = _half_width(pad, radius, deep)
    above = pad.gives("From the water up to the middle of the circle", radius - deep, "in" if pad.us else "cm")
    cosine = pad.gives("That, over the radius", above / radius)
    turn = pad.angle("Half the angle of the slice", cosine)
    piece = pad.gives("Slice of the circle", turn / pad.num(180.0) * pad.pi() * radius * radius, square(pad))
    triangles = pad.gives("Triangles above the water", above * half, square(pad))
    return pad.gives("Cut through the water", piece - triangles, square(pad))


def _oval(pad: Pad, long: Term, wide: Term) -> Term:
    """Area of an oval: its straight middle, and two half discs that make one."""
    straight = pad.gives("Straight middle", (long - wide) * wide, square(pad))
    ends = pad.gives("Round ends, one disc", pad.pi() / pad.num(4.0) * wide * wide, square(pad))
    return pad.gives("Area", straight + ends, square(pad))


def _base_width(pad: Pad, prefix: str) -> Term:
    """Width at the floor: as typed, or as much narrower than the rim as the length is."""
    if pad.design.value(f"{prefix}.base_width") is not None:
        return length(pad, f"{prefix}.base_width")
    return pad.gives("Width at the floor", length(pad, f"{prefix}.width")
                     - (length(pad, f"{prefix}.length") - length(pad, f"{prefix}.base_length")),
                     "in" if pad.us else "cm")


def _at(pad: Pad, label: str, rim: Term, base: Term, depth: Term, full: Term) -> Term:
    """Size of a tapered tank at a depth."""
    if depth.value == full.value:
        return rim
    return pad.gives(label, base + (rim - base) * depth / full, "in" if pad.us else "cm")


def _held(pad: Pad, prefix: str, depth_key: str) -> None:
    """What a tank holds up to a depth, as the last line."""
    label = "Gallons" if pad.us else "Liters"
    depth = length(pad, depth_key)
    if pad.text(f"{prefix}.shape") == topic.KNOWN:
        known = pad.read(f"{prefix}.known_volume", "volume", "gal", "L")
        at = pad.design.value(f"{prefix}.known_depth")
        if not at or at == pad.value(depth_key):
            raise NoSum
        pad.shows("In proportion to the depth", known * depth / length(pad, f"{prefix}.known_depth"), "gal", "L")
        return
    found = pad.gives("Space", space(pad, prefix, depth), cubic(pad))
    pad.shows(label, found / per_volume(pad), "gal", "L")


def bath_volume(pad: Pad) -> None:
    _held(pad, "bath", "bath.water_depth")


def reservoir_volume(pad: Pad) -> None:
    _held(pad, "reservoir", "reservoir.water_depth")


def reservoir_capacity(pad: Pad) -> None:
    if pad.text("reservoir.shape") == topic.KNOWN:
        raise NoSum
    _held(pad, "reservoir", "reservoir.depth")


def volume(pad: Pad, key: str) -> Term:
    """An answer or a question, in gallons or litres."""
    return pad.read(key, "volume", "gal", "L")


def all_baths(pad: Pad) -> Term:
    """Water of all baths, still to be written down where there are several."""
    return pad.times("bath.count", volume(pad, "water.bath_volume"))


def working_volume(pad: Pad) -> None:
    found = all_baths(pad)
    if pad.text(scheme.KEY) == scheme.CIRCULATING:
        found = found + volume(pad, "water.reservoir_volume")
    pad.shows("Baths and reservoir" if pad.text(scheme.KEY) == scheme.CIRCULATING else "Baths", found, "gal", "L")


def reservoir_headroom(pad: Pad) -> None:
    pad.shows("To the rim, less what is in", volume(pad, "water.reservoir_capacity")
              - volume(pad, "water.reservoir_volume"), "gal", "L")


def rim_to_water(pad: Pad) -> None:
    pad.shows("Depth, less the water", length(pad, "bath.depth") - length(pad, "bath.water_depth"), "in", "cm")


def _opening(pad: Pad, side: str) -> None:
    shape = pad.text("bath.shape")
    if shape == topic.HALF_DRUM and side == "width":
        _drum_width(pad)
        return
    if shape not in (topic.TAPERED_BOX, topic.TAPERED_ROUND):
        raise NoSum
    if shape == topic.TAPERED_ROUND:
        rim, base = length(pad, "bath.diameter"), length(pad, "bath.base_diameter")
    else:
        rim = length(pad, f"bath.{side}")
        base = _base_width(pad, "bath") if side == "width" else length(pad, "bath.base_length")
    pad.shows("From the floor up", base + (rim - base) * length(pad, "bath.water_depth") / length(pad, "bath.depth"),
              "in", "cm")


def _drum_width(pad: Pad) -> None:
    full, deep = length(pad, "bath.depth"), length(pad, "bath.water_depth")
    half = _half_width(pad, _radius(pad, length(pad, "bath.width"), full), deep)
    pad.shows("Twice that", pad.num(2.0) * half, "in", "cm")


def opening_length(pad: Pad) -> None:
    _opening(pad, "length")


def opening_width(pad: Pad) -> None:
    _opening(pad, "width")


def _outline(pad: Pad, long_key: str, wide_key: str) -> None:
    """An area in square feet or metres from two sizes in inches or centimetres."""
    if pad.text("bath.shape") == topic.OVAL:
        found = _oval(pad, length(pad, "bath.length"), length(pad, "bath.width"))
        pad.shows("Square feet" if pad.us else "Square meters", found / in_a_square(pad), "ft2", "m2")
        return
    if pad.text("bath.shape") == topic.HALF_DRUM and long_key == "water.floor_length":
        long_key, wide_key = "bath.length", "bath.width"
    long, wide = length(pad, long_key), length(pad, wide_key)
    round_bath = pad.text("bath.shape") in (topic.ROUND, topic.TAPERED_ROUND)
    inside = pad.pi() / pad.num(4.0) * long * long if round_bath else long * wide
    found = pad.gives("Area", inside, square(pad))
    pad.shows("Square feet" if pad.us else "Square meters", found / in_a_square(pad), "ft2", "m2")


def surface_area(pad: Pad) -> None:
    _outline(pad, "water.opening_length", "water.opening_width")


def footprint(pad: Pad) -> None:
    _outline(pad, "water.floor_length", "water.floor_width")


def _liner(pad: Pad, side: str) -> None:
    """Down one wall, along the floor, up the other, and over the rim at both ends."""
    two = pad.num(2.0)
    pad.shows("Inside, two walls, and over the rim twice", length(pad, f"bath.{side}") + two * length(pad, "bath.depth")
              + two * length(pad, "bath.liner_overlap"), "in", "cm")


def liner_length(pad: Pad) -> None:
    _liner(pad, "length")


def liner_width(pad: Pad) -> None:
    _liner(pad, "width")


def wall_push(pad: Pad) -> None:
    """Weight of a cube of water, half the depth squared, and the length, in feet or metres."""
    deep = pad.read("bath.water_depth", "length", "ft", "m")
    long = pad.put(pad.inputs("length_m"), "length", "ft", "m")
    pad.shows("Half the density, depth twice, length", pad.num(0.5) * pad.read("water.density", "density", "lb/ft3",
              "kg/m3") * deep * deep * long, "lb", "kg")


def wall_bulge(pad: Pad) -> None:
    """A beam on two supports: how hard the wall is to bend over its free length, and the push on that length."""
    unit = "in" if pad.us else "mm"
    deep, span = pad.read("bath.water_depth", "length", "ft", "m"), pad.inputs("span_m")
    push = pad.gives("Push on the free length", pad.num(0.5) * pad.read("water.density", "density", "lb/ft3", "kg/m3")
                     * deep * deep * pad.put(span, "length", "ft", "m"), "lb" if pad.us else "kg")
    if not pad.us:
        push = pad.gives("As a force", push * pad.num(GRAVITY), "N")
    high, thick = pad.read("bath.depth", "length", unit), pad.read("bath.wall_thickness", "length", unit)
    stiff = pad.gives("Height, thickness three times, over 12", high * thick * thick * thick / pad.num(12.0))
    wood = pad.num(pad.inputs("elasticity_pa") / (PSI_PA if pad.us else 1e6))
    free = pad.put(span, "length", unit)
    bends = pad.gives(f"Push that bends it by 5 {unit}", pad.num(384.0) * wood * stiff / free / free / free,
                      "lb" if pad.us else "N")
    pad.shows("5 pushes, over that", pad.num(5.0) * push / bends, "in", "mm")


def hose_volume(pad: Pad) -> None:
    """Bore and length in inches or centimetres, however they were typed."""
    hoses = [("Hose", "hose_bore", "hose_length")]
    baths = pad.value("bath.count")
    if baths > 1:
        hoses += [("Header", "header_bore", "header_step"), ("Branches", "branch_bore", "branch_length")]
    found = []
    for label, bore_key, length_key in hoses:
        bore, long = length(pad, f"circulation.{bore_key}"), length(pad, f"circulation.{length_key}")
        inside = pad.pi() / pad.num(4.0) * bore * bore * long
        found.append(pad.gives(label, inside if label == "Hose" else inside * pad.whole("bath.count"), cubic(pad)))
    pad.shows("Gallons" if pad.us else "Liters", pad.total(found) / per_volume(pad), "gal", "L")


def drain_back_rim(pad: Pad) -> None:
    """The film over the overflow in every bath, and the hose; walls that slope are reckoned as the whole bath is."""
    if pad.text(scheme.KEY) != scheme.CIRCULATING or pad.text("bath.shape") in (
            topic.TAPERED_BOX, topic.TAPERED_ROUND, topic.HALF_DRUM):
        raise NoSum
    film, depth = pad.value("bath.film"), pad.value("bath.water_depth")
    high = pad.put(min(film, depth), "length", "in", "cm")
    feet = pad.read("water.surface_area", "area", "ft2", "m2") * in_a_square(pad)
    film_water = pad.gives("Film above the overflow", feet * high, cubic(pad))
    each = pad.gives("Of one bath", film_water / per_volume(pad), "gal" if pad.us else "L")
    pad.shows("Film and hose", pad.times("bath.count", each) + volume(pad, "water.hose_volume"), "gal", "L")


def drain_back_volume(pad: Pad) -> None:
    if pad.text("bath.fill") == "floor":
        raise NoSum
    drain_back_rim(pad)


def depth_after_stop(pad: Pad) -> None:
    if pad.text("bath.fill") == "floor" or not pad.value("water.drain_back_volume"):
        raise NoSum
    pad.shows("Water, less the film", length(pad, "bath.water_depth") - length(pad, "bath.film"), "in", "cm")


def target_flow(pad: Pad) -> None:
    """The turnover wanted; the turnover reached is an answer of the same name."""
    if any(pad.design.plan.values.get(f"circulation.{key}") is not None for key in ("wanted_flow", "loading")):
        raise NoSum
    pad.shows("Times an hour", pad.read("circulation.turnover_wanted", "turnover", "/h") * all_baths(pad), "gph",
              "L/h")


def turnover(pad: Pad) -> None:
    pad.shows("Flow, over the water in all baths", pad.read("circulation.flow", "flow", "gph", "L/h") / all_baths(pad),
              "/h")


def velocity(pad: Pad) -> None:
    """Speed in the hose: what passes in a second, over the opening it passes through."""
    bore = length(pad, "circulation.hose_bore")
    opening = pad.gives("Opening of the hose", pad.pi() / pad.num(4.0) * bore * bore, square(pad))
    second = pad.gives("In a second", pad.read("circulation.flow", "flow", "gph", "L/h") * per_volume(pad)
                       / pad.num(3600.0), cubic(pad))
    pad.shows("Speed", second / opening / pad.num(12.0 if pad.us else 100.0), "ft/s", "m/s")


def drain_flow(pad: Pad) -> None:
    """Each overflow's share, made larger by what may be blocked, or all with one of them blocked outright."""
    one = pad.read("circulation.flow", "flow", "gph", "L/h")
    if pad.value("bath.count") > 1:
        one = pad.gives("Into one bath", one / pad.whole("bath.count"), "gph" if pad.us else "L/h")
    drains = pad.value("circulation.drains")
    share = one if drains == 1 else one / pad.whole("circulation.drains")
    open_part = pad.num(1.0) - pad.read("circulation.blockage", "ratio", "")
    if drains > 1 and one.value / (drains - 1) > share.value / open_part.value:
        pad.shows("With one blocked outright", one / (pad.whole("circulation.drains") - pad.num(1.0)), "gph", "L/h")
    else:
        pad.shows("Its share, with part blocked", share / open_part, "gph", "L/h")


SUMS = {
    "water.liner_length": liner_length, "water.liner_width": liner_width, "water.wall_push": wall_push,
    "water.wall_bulge": wall_bulge,
    "water.bath_volume": bath_volume, "water.reservoir_volume": reservoir_volume,
    "water.reservoir_capacity": reservoir_capacity, "water.working_volume": working_volume,
    "water.reservoir_headroom": reservoir_headroom, "water.rim_to_water": rim_to_water,
    "water.opening_length": opening_length, "water.opening_width": opening_width,
    "water.surface_area": surface_area, "water.footprint": footprint, "water.hose_volume": hose_volume,
    "water.drain_back_rim": drain_back_rim, "water.drain_back_volume": drain_back_volume,
    "water.depth_after_stop": depth_after_stop, "circulation.target_flow": target_flow,
    "circulation.turnover": turnover, "circulation.velocity": velocity, "circulation.drain_flow": drain_flow,
}
