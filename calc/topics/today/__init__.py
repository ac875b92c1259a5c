"""A bath that runs: what today's readings ask for, in nutrients, water and acid. Nothing typed here is kept."""

from __future__ import annotations

from ...declare import Field, Result, Verdict
from ...relations.base import PRACTICE
from . import acid, nutrients, words
from .reading import LIKELY_PH, STEP_PH
from ..verdicts.today import judge

NAME = "today"
TITLE = "Today"
QUESTION = "What does the bath need now?"
VERDICT = Verdict("Today", {"fits": "Leave it alone.", "tight": "Something to do.", "fails": "Too warm.",
                            "open": "Needs a reading."})
_DAY = "measured today; kept in no link, file or saved plan"


def _asked(key: str, kind: str, label: str, minimum: float, maximum: float, us: str = "", metric: str = "", *,
           help: str, why: str) -> Field:
    return Field(f"today.{key}", kind, label, ("", ""), minimum, maximum, us, metric, help=help, why=why,
                 optional=True, transient=True)


FIELDS = (
    _asked("volume", "volume", "All the water now", 1e-4, 1000.0, "gal", "L",
           help="bath and reservoir, topped up to the mark", why="empty: all the working water of the plan"),
    _asked("ec", "conductivity", "EC now", 0.0, 20000.0, "mS/cm", "mS/cm",
           help="in mS/cm, or with its unit: 1500 µS/cm, 750 ppm500", why=_DAY),
    _asked("ec_target", "conductivity", "EC you want", 0.05, 6.0, "mS/cm", "mS/cm",
           help="at 25 °C, by your meter", why="empty: that of your recipe, within what your crops like"),
    _asked("ph", "number", "pH now", 0.0, 14.0, help="measured after topping up, and half an hour after nutrients",
           why=_DAY),
    _asked("ph_target", "number", "pH you want today", LIKELY_PH[0], LIKELY_PH[1],
           help="5.5 to 6.5 suits a mixed raft; within it, leave the pH alone", why="empty: the pH you want, under pH"),
    _asked("temperature", "temperature", "Temperature of the bath now", 0.0, 40.0, "F", "C",
           help="a thermometer in the water", why="empty: the water temperature of the plan"),
    _asked("jug_volume", "volume", "Jug test: bath water", 1e-5, 1.0, "L", "L",
           help="the surest way: acid (or pH-up) by drops until the jug's pH is right", why="empty: no jug test"),
    _asked("jug_acid", "drops", "Jug test: acid or pH-up used", 5e-9, 0.05, "drops", "drops",
           help="12 drops or 0.6 mL; drops differ, so a syringe is surer",
           why=f"empty: no jug test; 20 drops to a mL: {PRACTICE}"),
)
TABLES = ()
RESULTS = (
    Result("today.verdict", "text", "What the bath needs now"),
    Result("today.water", "volume", "Water in it, taken as", "gal", "L"),
    Result("today.ec_now", "conductivity", "EC now, at 25 °C", "mS/cm", "mS/cm"),
    Result("today.ec_aim", "conductivity", "EC aimed at", "mS/cm", "mS/cm"),
    Result("today.bottle_a", "volume", "Bottle A to add", "mL", "mL"),
    Result("today.bottle_b", "volume", "Bottle B to add", "mL", "mL"),
    Result("today.salts", "rows", "Or weighed straight in"),
    Result("today.water_instead", "volume", "Water to add, if there is room", "gal", "L"),
    Result("today.exchange", "volume", "Or take out so much and fill up with water", "gal", "L"),
    Result("today.ph_aim", "number", "pH aimed at"),
    Result("today.phosphate", "molarity", "Phosphate that holds the pH, by your recipe"),
    Result("today.hydrogen", "molarity", "Hydrogen ions to add to a liter"),
    Result("today.product", "text", "What to pour"),
    Result("today.first_pour", "volume", "First pour, then measure", "mL", "mL",
           help=f"a quarter of it all, and never more than moves the pH by {STEP_PH:g}"),
    Result("today.acid", "volume", "Acid in all, about", "mL", "mL"),
    Result("today.acid_low", "volume", "as little as, where the plants have eaten the phosphate", "mL", "mL"),
    Result("today.acid_high", "volume", "as much as, with the pull of the salts counted", "mL", "mL"),
    Result("today.base", "volume", "pH-up in all, about", "mL", "mL"),
    Result("today.ceiling", "volume", "Pour no more than this until you have checked", "mL", "mL"),
    Result("today.ceiling_why", "text", "Why no dose is given, or only with care"),
    Result("today.order", "rows", "Order of work"),
    Result("today.measure", "rows", "What to measure, and when"),
)
STEPS = (nutrients.water, nutrients.strength, nutrients.weaker_or_stronger, acid.dose, acid.checks, words.order,
         words.measure, words.cautions, judge)
