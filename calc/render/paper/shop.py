"""The shopping list: what to ask for in which shop, how much of it is needed, and the pack that covers it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import ceil

from ... import units
from ...data import packs
from ...declare import Row
from ...figures import count
from ...solve import Design
from ...topics import parts

FOAM, PLUMBING, AIR, ELECTRICAL, GARDEN, SEEDS, OWN = (
    "Home center: foam and vessels", "Home center: plumbing", "Aquarium shop: air", "Electrical",
    "Garden supply: fertilizer and meters", "Seeds and plants", "Your own lines")
SHOPS = (FOAM, PLUMBING, AIR, ELECTRICAL, GARDEN, SEEDS, OWN)


@dataclass(frozen=True)
class Line:
    """One thing to buy.

    ``need`` is in the base unit of ``kind`` ("count", "length", "mass", "volume"), all of it, with what is ``owned``;
    ``ware`` names its pack sizes, "" where it is sold by the piece; ``price`` is that of what is left to buy, as the
    plan has it, or ``None``.
    """

    shop: str
    thing: str
    detail: str
    need: float
    kind: str = "count"
    ware: str = ""
    owned: float = 0.0
    price: float | None = None

    @property
    def missing(self) -> float:
        """How much is left to buy."""
        return max(self.need - self.owned, 0.0)


def pack_of(line: Line, system: str) -> tuple[int, float]:
    """(how many, of what size) to buy: the smallest pack that covers what is missing, or as many of the largest."""
    if line.missing <= 1e-9:
        return 0, 0.0
    sizes = packs.SIZES.get(line.ware, {}).get(system, ())
    if not sizes:
        return ceil(line.missing - 1e-9), 1.0
    size = next((one for one in sizes if one >= line.missing * (1 - 1e-9)), sizes[-1])
    return ceil(line.missing / size - 1e-9), size


def amount(value: float, kind: str, system: str) -> str:
    """How much of something, as a shop or a scale says it."""
    us = system == "us"
    if kind == "count":
        return count(value)
    if kind == "length":
        return units.show(value, "length", system, "ft", "m")
    if kind == "mass":
        return units.show(value, "mass", system, "g" if value < 1 else "kg", "g" if value < 1 else "kg")
    return units.show(value, "volume", system, "mL" if value < 1e-3 or not us else "L", "mL" if value < 1e-3 else "L")


def _size(value: float, kind: str, system: str) -> str:
    """The size of a pack, as it is printed on it."""
    if system == "us" and kind == "mass":
        ounces = value / packs.OUNCE
        said = f"{round(ounces)} oz" if ounces < 15.5 else f"{round(value / packs.POUND)} lb"
        return f"{said} ({amount(value, kind, system)})"
    if system == "us" and kind == "volume":
        ounces = value / packs.FLUID_OUNCE
        said = f"{round(ounces)} fl oz" if ounces < 100 else f"{round(value / packs.GALLON)} gal"
        return f"{said} ({units.show(value, 'volume', 'metric', '', 'mL' if value < 1e-3 else 'L')})"
    return amount(value, kind, system)


def to_buy(line: Line, system: str) -> str:
    """What to put into the basket: 1, pack of 25, 2 of 10 ft; "have" where all of it is owned."""
    many, size = pack_of(line, system)
    if not many:
        return "have"
    if line.kind == "count":
        if line.ware not in packs.WORDS or size == 1:
            return count(many * size)
        word = f"{packs.WORDS[line.ware]} of {count(size)}"
        return word if many == 1 else f"{count(many)} {packs.WORDS[line.ware]}s of {count(size)}"
    said = _size(size, line.kind, system)
    return said if many == 1 else f"{count(many)} of {said}"


def length(design: Design, value: float) -> str:
    """A length in m as this plan's builder writes it: 13 15/16 in, 494 mm."""
    return design.shown_as("board.length", value)


def merged(lists: list[list[Line]]) -> list[Line]:
    """One list out of several: what is the same is summed before it is rounded to packs."""
    found: dict[tuple[str, str, str, str], Line] = {}
    for line in (line for one in lists for line in one):
        key = (line.shop, line.thing, line.detail, line.kind)
        there = found.get(key)
        if there is None:
            found[key] = line
            continue
        prices = [one.price for one in (there, line) if one.price is not None]
        found[key] = replace(there, need=there.need + line.need, owned=there.owned + line.owned,
                             price=sum(prices) if prices else None)
    return sorted(found.values(), key=lambda line: SHOPS.index(line.shop))


def lines(design: Design) -> list[Line]:
    """All that this plan asks for, for all its copies, in the order of the shops."""
    found = _vessels(design)
    for row in design.value("parts.shopping") or []:
        found += _of_row(design, row)
    return merged([found, _nursery(design)])


def _copies(design: Design) -> int:
    return int(design.value("parts.copies") or 1)


def _vessels(design: Design) -> list[Line]:
    """Bath, stand and reservoir, which the sum of parts leaves to the reader, and what protects whoever builds."""
    copies, baths = _copies(design), int(design.value("bath.count") or 1)
    made = []
    volume = design.shown("water.bath_volume")
    if volume:
        made.append(Line(FOAM, "Bath, opaque", _bath_size(design), copies * baths))
    if design.value("bath.legs"):
        made.append(Line(FOAM, "Stand for the bath", f"carries {design.shown('water.bath_mass')}, "
                         f"{design.shown('water.leg_load')} on each leg", copies * baths))
    if design.value("water.scheme") == "circulating":
        holds = design.shown("water.reservoir_capacity")
        made.append(Line(FOAM, "Reservoir, opaque, with a cover", f"holds {holds} to the brim" if holds else "",
                         copies))
    made.append(Line(FOAM, "Goggles, dust mask, gloves", "for saw, salts and acid", copies))
    return made


def _bath_size(design: Design) -> str:
    """The inside of the bath as a builder says it."""
    shape = str(design.value("bath.shape") or "")
    if "round" in shape:
        return f"{design.shown('bath.diameter')} across, {design.shown('bath.depth')} deep inside"
    if "box" in shape:
        sizes = " x ".join(design.shown(f"bath.{side}").removesuffix(" in") if design.system == "us"
                           else design.shown(f"bath.{side}") for side in ("length", "width", "depth"))
        return sizes + (" in inside" if design.system == "us" else " inside")
    return f"holds {design.shown('water.bath_volume')} at its line"


def _nursery(design: Design) -> list[Line]:
    cells = sum(row.get("cells") or 0 for row in design.value("schedule.batches") or [])
    plugs = Line(SEEDS, "Nursery plugs", "one for each cell sown", cells * _copies(design), ware="plugs")
    return [plugs] if cells else []


def _plain(shop: str, ware: str = "") -> Callable[[Design, Row], list[Line]]:
    """A row as it stands, in that shop."""
    return lambda design, row: [_line(row, shop, row["item"], row["size"], ware=ware)]


def _line(row: Row, shop: str, thing: str, detail: str, each: float = 1.0, kind: str = "count", ware: str = "",
          priced: bool = True) -> Line:
    """A line for a row of the plan's list, each of which is so much of something."""
    invented = row["total"] is not None and "invented" in row["note"]
    words = "; ".join(part for part in (detail, "price invented" if invented and priced else "") if part)
    return Line(shop, thing, words, (row["quantity"] + row["owned"]) * each, kind, ware, row["owned"] * each,
                row["total"] if priced else None)


def _pump(shop: str) -> Callable[[Design, Row], list[Line]]:
    """A pump by the name that the reader gave it, or by what it must give, with its duty."""
    def made(_: Design, row: Row) -> list[Line]:
        duty = row["size"].removeprefix("each gives ").removesuffix(", or a little more")
        named = row["item"].partition(": ")
        first, _, asked = row["item"].partition(", ")
        thing = f"{named[0]}, {named[2]}" if named[2] else first
        # What a box prints of an air pump is not what it gives at depth: both are said.
        boxed = f"{asked}; must give " if not named[2] and asked.endswith(" on its box") else ""
        return [_line(row, shop, thing, f"{boxed}{duty} or a little more".replace(" against ", " at "))]
    return made


def _long(shop: str, key: str, ware: str, detail: str) -> Callable[[Design, Row], list[Line]]:
    """A row that is sold by its length."""
    def made(design: Design, row: Row) -> list[Line]:
        long = design.value(key)
        if not long:
            return [_line(row, shop, row["item"], row["size"])]
        return [_line(row, shop, row["item"], detail.format(*(design.shown(one) for one in _BORES.get(key, ()))),
                      long, "length", ware)]
    return made


_BORES = {"air.hose_total": ("air.hose_bore",), "circulation.hose_length": ("circulation.hose_bore",),
          "circulation.header_length": ("circulation.header_bore",),
          "circulation.branches_length": ("circulation.branch_bore",), "circulation.main_length":
          ("circulation.main_pipe",)}


def standpipe_top(design: Design) -> float | None:
    """How far a standpipe's top stands over the bath's floor: the running level less what stands over the pipe."""
    depth, film = design.value("bath.water_depth"), design.value("bath.film")
    if not isinstance(depth, float) or not isinstance(film, float) or depth <= film:
        return None
    return depth - film


def _overflow(design: Design, row: Row) -> list[Line]:
    pipe = design.shown("circulation.overflow_pipe")
    made = [_line(row, PLUMBING, "Bulkhead fitting", f"for {pipe}; saw to fit it")]
    down = standpipe_top(design) if design.value("circulation.overflow_place") == "inside" else 0.0
    drain = design.value("circulation.drain_length") or 0.0
    if (down or 0.0) + drain > 0:
        said = f"{pipe}; standpipe and drain" + ("; priced with the bulkhead" if row["total"] is not None else "")
        made.append(_line(row, PLUMBING, "Pipe", said, (down or 0.0) + drain, "length", "pipe", priced=False))
        made.append(_line(row, PLUMBING, "Elbows", f"for {pipe}", 2, priced=False))
    return made


def _manifold(design: Design, row: Row) -> list[Line]:
    stones = design.value("air.stones")
    return [_line(row, AIR, row["item"], f"{count(stones)} outlets with valves in all, {design.shown('air.hose_bore')} "
                  "barbs")]


def _seams(design: Design, row: Row) -> list[Line]:
    seams = design.value("board.seams") or []
    long = sum(abs(one["x2"] - one["x1"]) + abs(one["y2"] - one["y1"]) for one in seams)
    baths = int(design.value("bath.count") or 1)
    return [_line(row, FOAM, row["item"], "2 in (50 mm) wide" if design.system == "us" else "50 mm wide",
                  long * baths, "length", "tape")]


def _fertilizer(design: Design, row: Row) -> list[Line]:
    made = []
    for at, salt in enumerate(design.value("feed.masses") or []):
        liquid = salt.get("volume")
        said = "for the first fill" + ("; price is for all of it" if row["total"] is not None and not at else "")
        made.append(_line(row, GARDEN, salt["salt"], said, liquid or salt["mass"], "volume" if liquid else "mass",
                          "liquid" if liquid else "salt", priced=not at))
    return made or [_line(row, GARDEN, row["item"], row["size"])]


def _ph(design: Design, row: Row) -> list[Line]:
    volume = design.value("acidity.volume")
    name = row["item"].removeprefix("For pH: ")
    return [_line(row, GARDEN, name, "for pH, first fill", volume or 1, "volume" if volume else "count",
                  "liquid" if volume else "")]


def _meters(design: Design, row: Row) -> list[Line]:
    return [_line(row, GARDEN, "pH meter", "with its check liquids"),
            _line(row, GARDEN, "EC meter", "with its check liquid", priced=False),
            _line(row, GARDEN, "Scale" if any(not one.get("volume") for one in design.value("feed.masses") or [])
                  else "Measuring jug", "reads 0.1 g" if any(not one.get("volume") for one in
                  design.value("feed.masses") or []) else "marked in mL", priced=False),
            _line(row, GARDEN, "Pool strips", "for chlorine, from under 1 mg/L", priced=False)]


def _seed(design: Design, row: Row) -> list[Line]:
    crops: dict[str, int] = {}
    for batch in design.value("schedule.batches") or []:
        crops[batch["name"]] = crops.get(batch["name"], 0) + batch["seeds"]
    made = []
    for at, (name, seeds) in enumerate(crops.items()):
        share = seeds / max(sum(crops.values()), 1)
        line = _line(row, SEEDS, f"{name}, seed", "for the whole calendar", share, ware="seeds", priced=not at)
        made.append(replace(line, need=round(line.need), owned=round(line.owned)))
    return made or [_line(row, SEEDS, row["item"], row["size"], ware="seeds")]


OF_ROW: tuple[tuple[str, Callable[[Design, Row], list[Line]]], ...] = (
    (parts.BOARD, _plain(FOAM)), (parts.POT, _plain(SEEDS, "pots")), (parts.PLUG, _plain(SEEDS, "pots")),
    ("Hole saw", _plain(FOAM)), (parts.TAPE, _seams), (parts.STONE, _plain(AIR, "stones")),
    (parts.CLIP, _plain(AIR, "small")), (parts.VALVE, _plain(AIR)), (parts.MANIFOLD, _manifold),
    (parts.AIR_HOSE, _long(AIR, "air.hose_total", "air hose", "{} bore")), (parts.AIR_PUMP, _pump(AIR)),
    (parts.WATER_PUMP, _pump(PLUMBING)),
    (parts.BRANCH_HOSE, _long(PLUMBING, "circulation.branches_length", "hose", "{} bore, opaque")),
    (parts.HOSE, _long(PLUMBING, "circulation.hose_length", "hose", "{} bore, opaque")),
    (parts.HEADER, _long(PLUMBING, "circulation.header_length", "pipe", "{} bore, opaque, cap at its end")),
    (parts.RETURN_MAIN, _long(PLUMBING, "circulation.main_length", "pipe", "{}")),
    (parts.CLAMP, _plain(PLUMBING, "small")), (parts.OVERFLOW, _overflow),
    ("Fertilizer for the first fill", _fertilizer), ("For pH: ", _ph), ("Meters for pH and EC", _meters),
    ("Seeds", _seed), ("Grow lamp", _plain(ELECTRICAL)), ("Backup air pump", _plain(ELECTRICAL)),
    (parts.PROTECTION, _plain(ELECTRICAL)),
)


def _of_row(design: Design, row: Row) -> list[Line]:
    """What one row of the plan's list asks for in a shop; a row of the reader's own stays as it is written."""
    if row["note"].endswith("your own line"):
        return [_line(row, OWN, row["item"], row["size"])]
    for beginning, made in OF_ROW:
        if row["item"].startswith(beginning):
            return made(design, row)
    return [_line(row, PLUMBING, row["item"], row["size"])]
