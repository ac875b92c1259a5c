"""What Home and the page of guides show beyond their words: the picture that is an index, facts, and four vessels."""

from __future__ import annotations

import re
from dataclasses import dataclass
from urllib.parse import quote_plus

from markupsafe import Markup

from . import guides, index_picture
from .index_picture import Mark

# Read before the rest by who has never grown in water: on Home.
LEARN = ("how-a-raft-bath-works", "measure-the-water", "air", "ph-without-fear")
_ONES = ("", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
         "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen")
_TENS = ("twenty", "thirty", "forty", "fifty")
# Where each fact of Home stands in its picture, its figure, and what it is, with the plan's own numbers.
FACTS = (
    ("plants", "{board.sites} plants", "every hole numbered, and a template to drill through"),
    ("water", "{water.bath_volume}, {water.bath_mass}", "what the full bath weighs, and whether the floor carries it"),
    ("air pump", "{air.delivered} of air", "what arrives at the stones, against the {air.target} the roots need"),
    ("supply", "{circulation.flow}", "what the pump really lifts, and whether the hose is wide enough"),
    ("overflow", "{circulation.overflow_pipe} overflow", "what runs back, and what happens when roots block it"),
    ("reservoir", "{water.drain_back_volume} runs back", "when the power goes: this reservoir has room for "
     "{water.reservoir_headroom}"),
)


@dataclass(frozen=True)
class Vessel:
    """One answer to what will hold the water: the plan that it starts, its picture, and what to measure."""

    title: str
    measure: str
    note: str
    plan: tuple[tuple[str, str], ...]
    shapes: str

    @property
    def start(self) -> str:
        """The starting point as a link has it, behind its version."""
        return "&".join(f"{key}={quote_plus(text)}" for key, text in self.plan)

    @property
    def picture(self) -> Markup:
        """A small drawing, which shows the kind of vessel and no size."""
        return Markup(f'<svg viewBox="0 0 200 96" aria-hidden="true" focusable="false">{self.shapes}{_GROUND}</svg>')


_STROKES = "".join(f"M{x} 92l-5 4" for x in range(24, 190, 14))
_GROUND = f'<path class="ink thin" fill="none" d="M12 92H188{_STROKES}"/>'


def _plant(x: float, y: float) -> str:
    return (f'<path class="plant" d="M{x} {y}q-11 -3 -10 -13q9 2 10 13q1 -10 10 -13q1 10 -10 13q-7 -8 0 -18q7 10 0 18"'
            '/>'
            f'<path class="solid" d="M{x - 6} {y}h12l-2 13h-8z"/>'
            f'<path class="root" fill="none" d="M{x - 2} {y + 13}v9M{x + 2} {y + 13}v9"/>')


def _plants(xs: tuple[float, ...], y: float) -> str:
    return "".join(_plant(x, y) for x in xs)


VESSELS = (
    Vessel("A tote, on a stand", "Measure the rim, the floor, the depth", "Reservoir below, pump, overflow",
           (("bath.shape", "tapered box"),),
           '<path class="water" d="M45 38h110l-11 52H56z"/><path class="cut" d="M44 32h112v8H44z"/>' + _plants(
               (72.0, 100.0, 128.0), 32.0) + '<path class="wall" d="M30 22h8l16 69h92l16 -69h8"/>'),
    Vessel("A frame you build, with a liner", "Measure length, width, depth", "Box with straight sides, liner inside",
           (("bath.shape", "box"), ("bath.liner", "frame")),
           '<path class="wood edge" d="M26 22h14v69H26zM160 22h14v69h-14z"/><path class="water" d="M42 38h116v52H42z"/>'
           '<path class="cut" d="M43 32h114v8H43z"/>' + _plants((70.0, 100.0, 130.0), 32.0)
           + '<path class="wall" d="M22 30v-11h20v72h116v-72h20v11"/>'),
    Vessel("A round tub or drum", "Measure one width, or two if it tapers", "Boards cut to the round",
           (("bath.shape", "round"),),
           '<path class="water" d="M46 40v42c20 12 88 12 108 0V40z"/><ellipse class="cut" cx="100" cy="38" rx="52" '
           'ry="12"/>' + "".join(f'<path class="plant" d="M{x} {y}q-9 -2 -9 -11q8 2 9 11q1 -9 9 -11q0 9 -9 11"/>'
                                 for x, y in ((74, 39), (100, 43), (126, 39)))
           + '<path class="wall" d="M44 22v60c20 12 92 12 112 0V22"/>'),
    Vessel("A bucket, with air only", "Measure its width and its water", "No water pump: one plant, one evening",
           (("water.scheme", "aerated"), ("bath.shape", "tapered round"), ("bath.diameter", "12 in"),
            ("bath.base_diameter", "10 in"), ("bath.depth", "14 in"), ("bath.water_depth", "12 in"), ("bath.legs", "0"),
            ("schedule.every", "42")),
           '<path class="water" d="M64 42h52l-5 48H69z"/><path class="cut" d="M62 34h56v8H62z"/>' + _plant(90.0, 34.0)
           + '<path class="wall" d="M52 26h8l8 65h44l8 -65h8"/><path class="air" d="M150 52V22h-36v8l-5 54H92"/>'
           '<path class="solid" d="M82 82h16v6H82z"/><path class="cut" d="M138 52h28v18h-28z"/>'
           '<path class="ink thin" fill="none" d="M144 61h16M152 70v22"/>'
           '<circle class="air" cx="84" cy="74" r="2"/><circle class="air" cx="94" cy="66" r="2.4"/>'),
)


def compared(example) -> list:
    """Three invented plans side by side, for who has none yet: the example, a wider hose, a longer bath."""
    from calc import Plan, solve
    from calc.render.sidebyside import Beside
    wider = solve(Plan({"circulation.hose_bore": "3/4 in", "circulation.turnover": "4"}))
    longer = solve(Plan({"bath.length": "96 in", "place.air_temperature": "97 F", "circulation.hose_bore": "3/4 in",
                         "schedule.heads": "9", "schedule.aim": "sites"}))
    return [Beside("The example", "invented", example), Beside("More flow", "copy of A, invented", wider),
            Beside("A longer bath, hotter place", "invented", longer)]


def facts(design) -> list[tuple[str, str]]:
    """The facts of Home for the example, each its figure and what it is; gallons and pounds in metric too."""
    return [(_both(figure, design), _both(words, design)) for _, figure, words in FACTS]


def _both(words: str, design) -> str:
    """Words with the plan's numbers in them, each that reads otherwise in metric with that behind it."""
    from calc import units
    from calc.solve import SPECS

    def said(found: re.Match[str]) -> str:
        result, shown = SPECS[found[1]], design.shown(found[1])
        if result.us == result.metric:
            return shown
        metric = units.show(design.value(found[1]), result.kind, "metric", result.us, result.metric, result.fraction)
        return f"{shown} ({metric})"
    return re.sub(r"{([\w.]+)}", said, words)


def home(design) -> dict[str, object]:
    """The picture of Home for wide and narrow places, and its facts in the order of their numbers."""
    marks = [Mark(number, part) for number, (part, _, _) in enumerate(FACTS, 1)]
    return {"wide": Markup(index_picture.draw("home", design, marks, True, dims=True)),
            "narrow": Markup(index_picture.draw("home-narrow", design, marks, False, dims=True)),
            "facts": facts(design)}


def in_words(number: int) -> str:
    """A number as a sentence begins with it; in figures from sixty on."""
    if number < len(_ONES):
        return _ONES[number]
    if number >= 20 + 10 * len(_TENS):
        return str(number)
    return _TENS[number // 10 - 2] + (f"-{_ONES[number % 10]}" if number % 10 else "")


def whole(found: list[guides.Guide]) -> str:
    """The numbers of the guides that are about all of the bath, and so have no circle, as the caption says them."""
    numbers = [str(one.order) for one in found if one.at == "whole"]
    if not numbers:
        return ""
    if len(numbers) == 1:
        return f"{numbers[0]} is the whole"
    return f"{', '.join(numbers[:-1])} and {numbers[-1]} are about the whole"


def index(found: list[guides.Guide], design) -> dict[str, object]:
    """What the page of guides shows: the picture with a circle for each guide, and the numbers beside them."""
    from calc.render import living
    from calc.solve import SPECS
    marks = [Mark(one.order, one.at, f"#guide-{one.order}", f"Guide {one.order}: {one.title}") for one in found]
    keys = {one.number for one in found if one.number}
    count = len(found)
    minutes = sorted(one.minutes for one in found)[count // 2]
    return {
        "index_picture": {wide: Markup(index_picture.draw(f"guides-{wide}", design, marks, wide == "wide", lamp=True))
                          for wide in ("wide", "narrow")},
        "whole": whole(found), "minutes": minutes,
        "count_in_words": in_words(count).capitalize(),
        "first_part": sum(one.part == found[0].part for one in found),
        "numbers": {key: Markup(living.html(key, design)) for key in keys},
        "number_labels": {key: SPECS[key].label for key in keys}}
