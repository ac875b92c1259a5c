"""What to weigh into the water: from a formula, the grower's own salts and the tap, to grams and millilitres."""

from __future__ import annotations

from ...data import salts as salt_data
from ...data import targets as target_data
from ...data.salts import ELEMENTS, WORDS
from ...declare import Choice, Field, Result, Table, Verdict
from ...relations.base import MEMORY
from . import added, advise, care, concentrate, lime, mend, mix, strength
from .choices import BOTTLES, JUDGMENT, OWN, PERCENTS, POWDERS, SALTS, SCALES
from ..verdicts.feed import judge

NAME = "feed"
TITLE = "Nutrients"
QUESTION = "What do I weigh into the water, and what does it come to?"
VERDICT = Verdict("Nutrients", {"fits": "The nutrients fit.", "tight": "The nutrients are tight.",
                                "fails": "Nutrients are missing.", "open": "The nutrients need an answer."})
TAP = "an invented, fairly soft tap water, as under pH; 0 for reverse-osmosis water"
INVENTED = "invented; copy your own label over it"
_COLUMN_WORDS = {"n": "N, all", "nh4": "of it ammonium or urea", "p": "P2O5 (or P)", "k": "K2O (or K)"}


def _percent(key: str, element: str) -> Field:
    return Field(key, "ratio", _COLUMN_WORDS.get(key, element), ("", ""), 0.0, 1.0, "%", "%", optional=True)


_LABEL = tuple(_percent(key, element) for key, element in PERCENTS)
_CHOOSE = Choice("", "choose")


def _row(name: str, numbers: str, **more: str) -> dict[str, str]:
    pairs = (part.split(":") for part in numbers.split())
    return {"name": name, **more, **{key: f"{value} %" for key, value in pairs}}


FIELDS = (
    Field("feed.way", "choice", "Fertilizer", (BOTTLES, BOTTLES), choices=(
        Choice(BOTTLES, "Two ready bottles, A and B"), Choice(POWDERS, "Powders, by their labels"),
        Choice(SALTS, "Single salts, weighed")),
        help="bottles are easiest; powders cost less, single salts least",
        why="two bottles need no scale and no salts that are hard to store; begin with them"),
    Field("feed.target", "choice", "Formula to aim at", ("leafy", "leafy"), choices=(
        *(Choice(one.key, one.name, retired=one.key not in target_data.OFFERED) for one in target_data.TARGETS),
        Choice(OWN, "My own")),
        help="mg of each element in a liter; see how firm each formula is",
        why="for leaves and herbs; of the formulas here the one whose grams and mg/L confirm each other",
        in_table=("feed.own_target", OWN)),
    Field("feed.strength", "ratio", "Strength", ("100 %", "100 %"), 0.05, 2.0, "%", "%",
          help="of the formula or the bottles' dose; seedlings often get half", why="as published"),
    Field("feed.volume", "volume", "Nutrient solution to mix", ("", ""), 0.0001, 1000.0, "gal", "L",
          help="empty: all the water of the plan", why="empty: all the water of the plan", optional=True),
    Field("feed.label", "choice", "The labels give", ("oxide", "oxide"), choices=(
        Choice("oxide", "P2O5 and K2O, the rest as elements"),
        Choice("all oxides", "Oxides: P2O5, K2O, CaO, MgO, SO3"), Choice("elements", "Plain elements: P, K, Ca")),
        help="N-P-K on a sack is nearly always N, P2O5 and K2O", why="the custom in North America",
        when=(("feed.way", (POWDERS, BOTTLES)),)),
    Field("feed.allow_restricted", "yesno", "Use restricted salts", ("no", "no"),
          help="ammonium nitrate, if listed: many countries limit its sale", why="no recipe here needs it",
          when=(("feed.way", (SALTS,)),)),
    Field("feed.sulfur_floor", "concentration", "Least sulfur", ("15 mg/L", "15 mg/L"), 0.0, 200.0, "mg/L", "mg/L",
          help="many formulas name no sulfur, and a cheap mix would leave it out",
          why=f"half of what the lettuce formulas carry: {JUDGMENT}. Two sorts of lettuce on rafts grew alike with 10 "
              "and 20 mg/L added, and far smaller on a fertilizer without (Sulfur supplementation enhanced the growth "
              "and photosynthesis of lettuce in hydroponic production using one-bag complete fertilizer; its abstract, "
              "read in a copy that names no journal)",
          when=(("feed.way", (SALTS, POWDERS)),)),
    Field("feed.ammonium_ceiling", "ratio", "Most ammonium, of nitrogen", ("15 %", "15 %"), 0.0, 1.0, "%", "%",
          help="5 to 10 % is usual; more harms roots in water", why=f"Sonneveld & Voogt 2009, {MEMORY}"),
    Field("feed.water_ca", "concentration", "Calcium in your water", ("18 mg/L", "18 mg/L"), 0.0, 500.0, "mg/L", "mg/L",
          help="from the water company's analysis", why=TAP),
    Field("feed.water_mg", "concentration", "Magnesium in your water", ("3 mg/L", "3 mg/L"), 0.0, 300.0, "mg/L",
          "mg/L", help="from the water company's analysis", why=TAP),
    Field("feed.water_na", "concentration", "Sodium in your water", ("5 mg/L", "5 mg/L"), 0.0, 1000.0, "mg/L", "mg/L",
          help="plants leave most of it, so it gathers", why=TAP),
    Field("feed.water_cl", "concentration", "Chloride in your water", ("4 mg/L", "4 mg/L"), 0.0, 1000.0, "mg/L",
          "mg/L", help="not the chlorine that disinfects; chloride gathers like sodium",
          why=TAP),
    Field("feed.water_s", "concentration", "Sulfur in your water", ("1.5 mg/L", "1.5 mg/L"), 0.0, 500.0, "mg/L", "mg/L",
          help="sulfate divided by 3", why=TAP),
    Field("feed.water_chlorine", "concentration", "Chlorine in your water", ("", ""), 0.0, 20.0, "mg/L", "mg/L",
          help="by a pool strip, or ask the water company; 0 once it is gone", optional=True,
          why="empty: not known; taps have none to 4 mg/L, and it changes from day to day"),
    Field("feed.water_ec", "conductivity", "EC of your water", ("", ""), 0.0, 5.0, "mS/cm", "mS/cm",
          help="your meter in plain water, at 25 °C", why="empty: from the analysis", optional=True),
    Field("feed.scale", "choice", "Your scale shows steps of", ("0.1 g", "0.1 g"),
          choices=tuple(Choice(one, one) for one in SCALES), help="a kitchen scale 1 g, a pocket scale 0.1 or 0.01 g",
          why="a cheap pocket scale", when=(("feed.way", (SALTS, POWDERS)),)),
    Field("feed.chelate_iron", "ratio", "Iron in your chelate", ("", ""), 0.005, 0.25, "%", "%", optional=True,
          help="percent Fe on its label; DTPA is mostly 7 to 11",
          why="empty: as usually sold, DTPA 10, EDTA 13, EDDHA 6 %", when=(("feed.way", (SALTS,)),)),
    *added.FIELDS,
    Field("feed.stock_strength", "number", "Strength of the concentrates", ("100", "100"), 10.0, 400.0,
          help="100: 10 mL of A and of B to a liter",
          why="usual for small growers; common practice, no published source",
          when=(("feed.way", (SALTS,)),)),
    Field("feed.stock_volume", "volume", "Size of each concentrate", ("", ""), 0.00005, 1.0, "L", "L",
          help="A and B alike", why="empty: what one fill of this solution takes", when=(("feed.way", (SALTS,)),),
          optional=True),
    Field("feed.micro_strength", "number", "Strength of the trace stock", ("10000", "10000"),
          100.0, 40000.0, help="10000: one mL to 10 liters of nutrient solution", when=(("feed.way", (SALTS,)),),
          why="so strong that the smallest pinch can be weighed, and the boric acid still dissolves"),
    Field("feed.meter_reading", "number", "Running bath: meter reads", ("", ""), 0.0, 20000.0,
          help="to mend a bath that has drifted; for its pH see Today", why="empty: no bath to mend", optional=True),
    Field("feed.meter_scale", "choice", "Your meter shows", ("ms", "ms"), choices=(
        Choice("ms", "mS/cm (the same as dS/m)"), Choice("us", "µS/cm"), Choice("ppm500", "ppm, scale of 500"),
        Choice("ppm640", "ppm, scale of 640"), Choice("ppm700", "ppm, scale of 700")),
        help="ppm needs its scale (500, 640, 700): see the meter's handbook", why="the plain unit"),
    Field("feed.meter_compensates", "yesno", "It corrects for temperature", ("yes", "yes"),
          help="marked ATC on most meters", why="nearly all do, from memory"),
    Field("feed.wanted_ec", "conductivity", "EC wanted in the bath", ("", ""), 0.05, 6.0, "mS/cm", "mS/cm",
          help="at 25 °C", why="empty: what the fresh solution has", optional=True),
)
TABLES = (
    Table("feed.salts", "Salts you own", (
        Field("name", "choice", "Salt", choices=(_CHOOSE, *(Choice(one.key, one.name) for one in salt_data.SALTS))),),
        rows=tuple({"name": key} for key in salt_data.default_salts()), max_rows=24,
        when=(("feed.way", (SALTS,)),), help="only these are used",
        why="enough for leaves and herbs, none of it restricted: engineering judgment"),
    Table("feed.own_target", "Your own formula", (
        Field("element", "choice", "Element", choices=(_CHOOSE, *(Choice(one, WORDS[one]) for one in ELEMENTS))),
        Field("amount", "concentration", "Wanted", minimum=0.001, maximum=1000.0, us="mg/L", metric="mg/L")),
        rows=tuple({"element": element, "amount": f"{amount:g} mg/L"}
                   for element, amount in target_data.BY_KEY["leafy"].mg_l.items()), identity="element", max_rows=12,
        when=(("feed.target", (OWN,)),), help="leave an element out and it is not aimed at",
        why="the formula for leaves and herbs, to start from"),
    Table("feed.powders", "Powders, as on the label", (Field("name", "text", "Powder"), *_LABEL),
          rows=(_row("Leaf powder, part 1 (invented)", "n:7 nh4:0.5 p:8 k:28 mg:2 s:3 fe:0.15 mn:0.03 zn:0.02 b:0.02 "
                     "cu:0.003 mo:0.003"),
                _row("Calcium nitrate, by its label", "n:15.5 nh4:1 ca:19"),
                _row("Epsom salt, by its label", "mg:9.8 s:13")), max_rows=8, when=(("feed.way", (POWDERS,)),),
          help="in percent of weight; an empty cell is none", why=f"the first row is {INVENTED}"),
    Table("feed.bottles", "Ready bottles, as on the label", (
        Field("name", "text", "Bottle"),
        Field("dose", "dose", "Dose", minimum=0.0, maximum=100.0, us="mL/L", metric="mL/L"),
        Field("density", "density", "Density", ("", ""), 900.0, 1800.0, "kg/m3", "kg/m3", optional=True), *_LABEL),
        rows=(_row("Bottle A (invented)", "n:4.9 nh4:0.2 k:3 ca:4 fe:0.05", dose="2 mL/L", density="1200"),
              _row("Bottle B (invented)", "n:0.75 p:3 k:7 mg:1 s:0.9 mn:0.01 zn:0.005 b:0.007 cu:0.001 mo:0.001",
                   dose="2 mL/L", density="1200")), max_rows=6, when=(("feed.way", (BOTTLES,)),),
        help="in percent of weight; density in kg/m³, empty: as water, 1000", why=INVENTED),
    *added.TABLES,
)
RESULTS = (
    Result("feed.batch", "volume", "Nutrient solution to mix, all of it", "gal", "L"),
    Result("feed.formula", "text", "Formula, and how firm it is"),
    Result("feed.masses", "rows", "What to weigh or measure"),
    Result("feed.reached", "rows", "Elements wanted and reached"),
    Result("feed.calcium_phosphate_ph", "number", "Highest pH of this mix"),
    Result("feed.calcium_phosphate_index", "number", "Calcium phosphate there: above 0 it can fall out"),
    Result("feed.advice", "rows", "What to know about this mix"),
    Result("feed.pour", "text", "What to pour, for all the water"),
    Result("feed.total_mass", "mass", "All salts together, for all the water", "g", "g"),
    Result("feed.ammonium_share", "ratio", "Ammonium, of all nitrogen", "%", "%"),
    Result("feed.water_conductivity", "conductivity", "EC of the plain water", "mS/cm", "mS/cm"),
    Result("feed.ec", "conductivity", "EC of the mix at 25 °C, within about 10 %", "mS/cm", "mS/cm"),
    Result("feed.ec_low", "conductivity", "A good meter may show as little as", "mS/cm", "mS/cm"),
    Result("feed.ec_high", "conductivity", "and as much as", "mS/cm", "mS/cm"),
    Result("feed.ec_rule", "conductivity", "The same by a rule of growers", "mS/cm", "mS/cm"),
    Result("feed.ppm500", "number", "The same on a ppm meter with the scale of 500"),
    Result("feed.ppm640", "number", "The same on a ppm meter with the scale of 640"),
    Result("feed.ppm700", "number", "The same on a ppm meter with the scale of 700"),
    Result("feed.cations", "molarity", "Charge of the cations"),
    Result("feed.anions", "molarity", "Charge of the anions"),
    Result("feed.imbalance", "ratio", "Charges that do not balance", "%", "%"),
    *added.RESULTS,
    Result("feed.order", "rows", "Straight into the water, in this order"),
    Result("feed.rounded", "rows", "What your scale makes of it"),
    Result("feed.micro_stock", "rows", "A liter of trace-element stock"),
    Result("feed.micro_dose", "volume", "Trace-element stock for this mix, in all", "mL", "mL"),
    Result("feed.concentrates", "rows", "Concentrate A and B"),
    Result("feed.stock_size", "volume", "Concentrate A and B made up, each", "L", "L"),
    Result("feed.concentrate_dose", "dose", "Of A, and again of B, to a liter", "mL/L", "mL/L"),
    Result("feed.concentrate_each", "volume", "Of A, and again of B, for this mix", "mL", "mL"),
    Result("feed.bath_ec", "conductivity", "Running bath: EC at 25 °C", "mS/cm", "mS/cm"),
    Result("feed.correct_each", "volume", "Running bath: add of A, and again of B", "mL", "mL"),
    Result("feed.correct_rows", "rows", "Running bath: add"),
    Result("feed.correct_water", "volume", "Running bath: add water, if there is room", "gal", "L"),
    Result("feed.correct_replace", "volume", "Running bath: or take out so much and fill up with water", "gal", "L"),
)
STEPS = (
    mix.batch, mix.formula, mix.masses, advise.reached, advise.advice, lime.calcium_phosphate,
    strength.plain_water, strength.conductivity, care.suits_crops, care.counts_on_acid, strength.balance,
    concentrate.micro_stock, concentrate.rounding, concentrate.concentrates, concentrate.order, mend.mend,
    added.added,
    care.source_water, care.chlorine, care.handling, judge,
)
