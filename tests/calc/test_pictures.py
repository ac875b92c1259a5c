"""Whatever is planned, no two words of a picture touch, nothing is cut and no lettering is small: many random plans."""

import sys
import xml.etree.ElementTree as ElementTree
from random import Random

import pytest

from calc.plan import FIELDS, Plan
from calc.render import pictures, stone_plan
from calc.solve import Memory, solve
from tests.calc.boxes import SVG, faults_of

DRAWS = [draw for draws in pictures.OF_STEP.values() for draw in draws] + [stone_plan.stone_plan]
PLANS, CHUNKS, EACH = 2000, 8, 3
# While coverage is measured every line costs more; the lines are the same with fewer plans.
MEASURED = "coverage" in sys.modules and sys.modules["coverage"].Coverage.current() is not None


def inches(draw, low, high):
    """A length as people type it: whole, in sixteenths, or in feet and inches."""
    value = draw.uniform(low, high)
    sixteenths = round(value * 16)
    whole, rest = divmod(sixteenths, 16)
    fraction = f"{whole} {rest}/16 in" if rest and whole else f"{max(whole, 1)} in"
    return draw.choice([f"{max(round(value), 1)} in", fraction, f"{value * 2.54:.1f} cm"])


BATHS = [choice.value for choice in FIELDS["bath.shape"].choices]
CHANGES = {
    "units": lambda draw: {"units": draw.choice(["us", "metric"])},
    "scheme": lambda draw: {"water.scheme": draw.choice(["circulating"] * 3 + ["aerated", "still"])},
    "bath": lambda draw: {
        "bath.shape": draw.choice(BATHS), "bath.liner": draw.choice(["none", "frame"]),
        "bath.wall_thickness": inches(draw, 0.5, 3), "bath.wall_span": draw.choice(["", inches(draw, 10, 60)]),
        "bath.length": inches(draw, *draw.choice([(8, 30), (24, 96), (96, 2300)])),
        "bath.width": inches(draw, *draw.choice([(8, 30), (20, 60)])), "bath.base_length": inches(draw, 7, 30),
        "bath.base_width": draw.choice(["", inches(draw, 6, 20)]), "bath.diameter": inches(draw, 9, 60),
        "bath.base_diameter": inches(draw, 7, 20)},
    # Depths that half a drum of that width can have.
    "half drum": lambda draw: {"bath.shape": "half drum", "bath.length": inches(draw, 20, 96),
                               "bath.width": inches(draw, 22, 60), "bath.depth": inches(draw, 6, 11),
                               "bath.water_depth": inches(draw, 3, 6)},
    "oval": lambda draw: {"bath.shape": "oval", "bath.length": inches(draw, 40, 120),
                          "bath.width": inches(draw, 10, 40)},
    "depth": lambda draw: {"bath.depth": inches(draw, 3, draw.choice([16, 60])),
                           "bath.water_depth": inches(draw, 2, 14)},
    "reservoir": lambda draw: {
        "reservoir.shape": draw.choice(BATHS),
        "reservoir.length": inches(draw, 10, 60), "reservoir.width": inches(draw, 8, 40),
        "reservoir.depth": inches(draw, 8, 40), "reservoir.water_depth": inches(draw, 3, 12),
        "reservoir.known_volume": f"{draw.uniform(3, 200):.1f} gal", "reservoir.diameter": inches(draw, 10, 40),
        "reservoir.base_length": inches(draw, 8, 20), "reservoir.base_diameter": inches(draw, 8, 14)},
    "stand": lambda draw: {"bath.legs": draw.choice(["0", "4", "6"]), "bath.count": draw.choice(["1", "1", "2", "12"]),
                           "bath.stands_on": draw.choice(["ground", "floor", "bench"]),
                           "bath.floor_allowance": draw.choice(["30 psf", "40 psf", "3 kPa"]),
                           "bath.fill": draw.choice(["rim", "floor", "floor with check valve"]),
                           "bath.inlet_height": inches(draw, 1, 4)},
    "flow": lambda draw: {"circulation.lift": inches(draw, 4, draw.choice([40, 100])),
                          "circulation.hose_bore": draw.choice(["3/8 in", "1/2 in", "5/8 in", "19 mm", "1 in"]),
                          "circulation.turnover": draw.choice(["0", "0.5", "1", "3"]),
                          "circulation.overflow_place": draw.choice(["inside", "wall"]),
                          "circulation.drains": draw.choice(["1", "2"])},
    "raft": lambda draw: {"board.pot": draw.choice(["2 in", "3 in", "5 cm"]), "board.spacing": inches(draw, 4, 14),
                          "board.thickness": draw.choice(["1 in", "1 1/2 in", "2 in"]),
                          "board.split": draw.choice([choice.value for choice in FIELDS["board.split"].choices])},
    "air": lambda draw: {"air.depth": draw.choice(["", inches(draw, 2, 10)]),
                         "air.rule": draw.choice(["oxygen", "optimum", "floor"]),
                         "oxygen.target": f"{draw.uniform(3, 8):.1f} mg/L"},
    "light": lambda draw: {"light.by": draw.choice(["none", "lamp", "lux"]), "light.sun": draw.choice(["none", "dli"]),
                           "light.outdoor": f"{draw.uniform(1, 60):.1f} mol/m2/d", "light.lux_reading": "9000 lux"},
    "feed": lambda draw: {"feed.way": draw.choice(["bottles", "salts", "powders"]),
                          "acidity.start_ph": f"{draw.uniform(5, 9):.1f}",
                          "acidity.target_ph": f"{draw.uniform(5, 7):.1f}",
                          "acidity.alkalinity": f"{draw.uniform(0, 300):.0f} mg/L"},
    "place": lambda draw: {"place.air_temperature": f"{draw.uniform(40, 100):.0f} F",
                           "outage.hours": f"{draw.randint(1, 30)} h",
                           "schedule.weeks": str(draw.randint(1, 60))},
}


def walk(seed):
    """Plans one after another, each a few answers away from the one before, so that a memory has less to do."""
    draw, text = Random(seed), {}
    for number in range(PLANS // CHUNKS // (10 if MEASURED else 1)):
        names = CHANGES if number == 0 else draw.sample(sorted(CHANGES), 1)
        for name in names:
            text |= CHANGES[name](draw)
        yield number, dict(text)


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_no_words_touch_and_nothing_is_cut(chunk):
    memory, seen = Memory(), 0
    for number, text in walk(chunk):
        design = solve(Plan(text), memory)
        for turn in range(EACH):
            draw = DRAWS[(number * EACH + turn) % len(DRAWS)]
            for wide in (True, False):
                drawn = draw(design, wide)
                if drawn:
                    seen += 1
                    faults = faults_of(ElementTree.fromstring(drawn))
                    assert not faults, (draw.__name__, wide, faults, text)
    # Some have no picture of their own; on the whole there are more pictures than plans.
    assert seen > PLANS // CHUNKS // (10 if MEASURED else 1)


def test_every_picture_is_told_in_words_and_marked_as_one_picture():
    for text in ({}, {"units": "metric", "water.scheme": "aerated", "light.by": "lamp"}):
        design, names = solve(Plan(text)), []
        for draw in DRAWS:
            for wide in (True, False):
                drawn = draw(design, wide)
                if not drawn:
                    continue
                root = ElementTree.fromstring(drawn)
                title, description = root.find(SVG + "title"), root.find(SVG + "desc")
                assert root.get("role") == "img"
                assert root.get("aria-labelledby") == f"{title.get('id')} {description.get('id')}"
                assert any(letter.isdigit() for letter in description.text), title.text
                assert float(root.get("viewBox").split()[2]) == (560 if wide else 320)
                names += [title.get("id"), description.get("id")]
        assert len(names) == len(set(names)) > 30
