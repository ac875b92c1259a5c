"""What to weigh into the water: from a formula, the grower's own salts and the tap, to grams and millilitres."""

from __future__ import annotations

from .. import recipe
from ..data import salts as salt_data
from ..data import targets as target_data
from ..data.salts import ELEMENTS, NH4, NO3, WORDS
from ..declare import Choice, Field, Result, Table
from ..errors import OutOfRange, Unanswered
from ..relations import feed as physics
from ..relations.base import MEMORY

NAME = "feed"
TITLE = "Feed"
QUESTION = "What do I weigh into the water, and what does it come to?"

OWN = "own"
SALTS, POWDERS, BOTTLES = "salts", "powders", "bottles"
JUDGEMENT = "engineering judgement, no source"
GOOD_EC = 0.10
BALANCED = 0.05
FULL_SHARE = 0.8
HALF_A_STEP = 0.05
MG_CACO3_IN_MMOL = 50.043
TAP = "an invented, fairly soft tap water, as under Acidity; 0 for rain or filtered water"
STOCK = "Trace-element stock"
INVENTED = "invented; copy your own label over it"
PERCENTS = (("n", "N"), ("nh4", NH4), ("p", "P"), ("k", "K"), ("ca", "Ca"), ("mg", "Mg"), ("s", "S"), ("fe", "Fe"),
            ("mn", "Mn"), ("zn", "Zn"), ("b", "B"), ("cu", "Cu"), ("mo", "Mo"))
OXIDES_OF = {"oxide": ("P2O5", "K2O"), "all oxides": ("P2O5", "K2O", "CaO", "MgO", "SO3"), "elements": ()}
SCALES = {"1 g": 1.0, "0.1 g": 0.1, "0.01 g": 0.01}
PPM_SCALES = {"ppm500": 500.0, "ppm640": 640.0, "ppm700": 700.0}
_COLUMN_WORDS = {"n": "N, all", "nh4": "of it ammonium or urea", "p": "P2O5 (or P)", "k": "K2O (or K)"}


def _percent(key: str, element: str) -> Field:
    return Field(key, "ratio", _COLUMN_WORDS.get(key, element), ("", ""), 0.0, 1.0, "%", "%", optional=True)


_LABEL = tuple(_percent(key, element) for key, element in PERCENTS)
_CHOOSE = Choice("", "choose")


def _row(name: str, numbers: str, **more) -> dict:
    pairs = (part.split(":") for part in numbers.split())
    return {"name": name, **more, **{key: f"{value} %" for key, value in pairs}}


FIELDS = (
    Field("feed.way", "choice", "What you feed with", (SALTS, SALTS), choices=(
        Choice(SALTS, "Single salts, weighed"), Choice(POWDERS, "Powders, by their labels"),
        Choice(BOTTLES, "Ready bottles A and B, by mL per litre")),
        help="bottles are easiest, powders cost less, single salts least", why="salts show how it all works"),
    Field("feed.target", "choice", "Formula to aim at", ("leafy", "leafy"), choices=(
        *(Choice(one.key, one.name) for one in target_data.TARGETS), Choice(OWN, "My own, in the table")),
        help="mg of each element in a litre; how firm each formula is stands with the answers",
        why="for leaves and herbs; of the formulas here the one whose grams and mg/L confirm each other",
        in_table=("feed.own_target", OWN)),
    Field("feed.strength", "ratio", "Strength", ("100 %", "100 %"), 0.05, 2.0, "%", "%",
          help="of the formula or of the bottles' dose; seedlings are often given half", why="as published"),
    Field("feed.volume", "volume", "Feed to mix", ("", ""), 0.0001, 1000.0, "gal", "L",
          help="water to turn into feed", why="empty: all the water of the plan", optional=True),
    Field("feed.label", "choice", "The labels give", ("oxide", "oxide"), choices=(
        Choice("oxide", "P2O5 and K2O, the rest as elements"),
        Choice("all oxides", "Oxides: P2O5, K2O, CaO, MgO, SO3"), Choice("elements", "Plain elements: P, K, Ca")),
        help="N-P-K on a sack is nearly always N, P2O5 and K2O", why="the custom in North America",
        when=(("feed.way", (POWDERS, BOTTLES)),)),
    Field("feed.allow_restricted", "yesno", "Use restricted salts if I list them", ("no", "no"),
          help="ammonium nitrate: its sale is limited by law in many countries", why="no recipe here needs it",
          when=(("feed.way", (SALTS,)),)),
    Field("feed.sulfur_floor", "concentration", "Least sulfur", ("15 mg/L", "15 mg/L"), 0.0, 200.0, "mg/L", "mg/L",
          help="many formulas name no sulfur, and a cheap mix would leave it out",
          why=f"half of what the lettuce formulas carry: {JUDGEMENT}", when=(("feed.way", (SALTS, POWDERS)),)),
    Field("feed.ammonium_ceiling", "ratio", "Most ammonium, of all nitrogen", ("15 %", "15 %"), 0.0, 1.0, "%", "%",
          help="5 to 10 % is usual; more harms roots in water", why=f"Sonneveld & Voogt 2009, {MEMORY}"),
    Field("feed.water_ca", "concentration", "Calcium in your water", ("18 mg/L", "18 mg/L"), 0.0, 500.0, "mg/L", "mg/L",
          help="from the supplier's analysis", why=TAP),
    Field("feed.water_mg", "concentration", "Magnesium in your water", ("3 mg/L", "3 mg/L"), 0.0, 300.0, "mg/L",
          "mg/L", help="from the supplier's analysis", why=TAP),
    Field("feed.water_na", "concentration", "Sodium in your water", ("5 mg/L", "5 mg/L"), 0.0, 1000.0, "mg/L", "mg/L",
          help="plants leave most of it, so it gathers", why=TAP),
    Field("feed.water_cl", "concentration", "Chloride in your water", ("4 mg/L", "4 mg/L"), 0.0, 1000.0, "mg/L",
          "mg/L", help="not the chlorine that disinfects; chloride gathers like sodium",
          why=TAP),
    Field("feed.water_s", "concentration", "Sulfur in your water", ("1.5 mg/L", "1.5 mg/L"), 0.0, 500.0, "mg/L", "mg/L",
          help="sulfate divided by 3", why=TAP),
    Field("feed.water_ec", "conductivity", "Conductivity of your water", ("", ""), 0.0, 5.0, "mS/cm", "mS/cm",
          help="your meter in plain water, at 25 C", why="empty: from the analysis", optional=True),
    Field("feed.scale", "choice", "Your scale shows steps of", ("0.1 g", "0.1 g"),
          choices=tuple(Choice(one, one) for one in SCALES), help="a kitchen scale 1 g, a pocket scale 0.1 or 0.01 g",
          why="a cheap pocket scale", when=(("feed.way", (SALTS, POWDERS)),)),
    Field("feed.stock_strength", "number", "Strength of bottles A and B, times the feed", ("100", "100"), 10.0, 400.0,
          help="100: 10 mL of each to a litre", why="usual for small growers; common practice, no published source",
          when=(("feed.way", (SALTS,)),)),
    Field("feed.stock_volume", "volume", "Size of each bottle", ("1 L", "1 L"), 0.00005, 1.0, "L", "L",
          help="A and B alike", why="a litre of each makes 100 L of feed", when=(("feed.way", (SALTS,)),)),
    Field("feed.micro_strength", "number", "Strength of the trace-element stock, times the feed", ("10000", "10000"),
          100.0, 40000.0, help="10000: one mL to 10 litres of feed", when=(("feed.way", (SALTS,)),),
          why="so strong that the smallest pinch can be weighed, and the boric acid still dissolves"),
    Field("feed.meter_reading", "number", "Running bath: your meter reads", ("", ""), 0.0, 20000.0,
          help="to mend a bath that has drifted", why="empty: no bath to mend", optional=True),
    Field("feed.meter_scale", "choice", "Your meter shows", ("ms", "ms"), choices=(
        Choice("ms", "mS/cm (the same as dS/m)"), Choice("us", "µS/cm"), Choice("ppm500", "ppm, scale of 500"),
        Choice("ppm640", "ppm, scale of 640"), Choice("ppm700", "ppm, scale of 700")),
        help="ppm says little unless the scale is known; the handbook of the meter tells", why="the plain unit"),
    Field("feed.meter_compensates", "yesno", "It corrects for temperature", ("yes", "yes"),
          help="marked ATC on most meters", why="nearly all do"),
    Field("feed.wanted_ec", "conductivity", "Wanted in the bath", ("", ""), 0.05, 6.0, "mS/cm", "mS/cm",
          help="at 25 C", why="empty: what the fresh feed has", optional=True),
)

TABLES = (
    Table("feed.salts", "Salts you own", (
        Field("name", "choice", "Salt", choices=(_CHOOSE, *(Choice(one.key, one.name) for one in salt_data.SALTS))),),
        rows=tuple({"name": key} for key in salt_data.default_salts()), max_rows=24,
        when=(("feed.way", (SALTS,)),), help="only these are used",
        why="enough for leaves and herbs, none of it restricted: engineering judgement"),
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
        help="in percent of weight; density in kg/m3, empty: as water, 1000", why=INVENTED),
)

RESULTS = (
    Result("feed.batch", "volume", "Feed to mix", "gal", "L"),
    Result("feed.formula", "text", "Formula, and how firm it is"),
    Result("feed.masses", "rows", "What to weigh or measure"),
    Result("feed.reached", "rows", "Elements wanted and reached"),
    Result("feed.advice", "rows", "What to know about this mix"),
    Result("feed.total_mass", "mass", "All salts together", "g", "g"),
    Result("feed.ammonium_share", "ratio", "Ammonium, of all nitrogen", "%", "%"),
    Result("feed.water_conductivity", "conductivity", "Conductivity of the plain water", "mS/cm", "mS/cm"),
    Result("feed.ec", "conductivity", "Conductivity of the feed at 25 °C, within about 10 %", "mS/cm", "mS/cm"),
    Result("feed.ec_low", "conductivity", "A good meter may show as little as", "mS/cm", "mS/cm"),
    Result("feed.ec_high", "conductivity", "and as much as", "mS/cm", "mS/cm"),
    Result("feed.ec_rule", "conductivity", "The same by a rule of growers", "mS/cm", "mS/cm"),
    Result("feed.ppm500", "number", "The same on a ppm meter with the scale of 500"),
    Result("feed.ppm640", "number", "The same on a ppm meter with the scale of 640"),
    Result("feed.ppm700", "number", "The same on a ppm meter with the scale of 700"),
    Result("feed.cations", "molarity", "Charge of the cations"),
    Result("feed.anions", "molarity", "Charge of the anions"),
    Result("feed.imbalance", "ratio", "Charges that do not balance", "%", "%"),
    Result("feed.order", "rows", "Straight into the tank, in this order"),
    Result("feed.rounded", "rows", "What your scale makes of it"),
    Result("feed.micro_stock", "rows", "A litre of trace-element stock"),
    Result("feed.micro_dose", "volume", "Trace-element stock for this feed", "mL", "mL"),
    Result("feed.concentrates", "rows", "Bottles A and B"),
    Result("feed.concentrate_dose", "dose", "Of A, and again of B, to a litre", "mL/L", "mL/L"),
    Result("feed.concentrate_each", "volume", "Of A, and again of B, for this feed", "mL", "mL"),
    Result("feed.bath_ec", "conductivity", "Running bath: conductivity at 25 °C", "mS/cm", "mS/cm"),
    Result("feed.correct_each", "volume", "Running bath: add of A, and again of B", "mL", "mL"),
    Result("feed.correct_rows", "rows", "Running bath: add"),
    Result("feed.correct_water", "volume", "Running bath: add water, if there is room", "gal", "L"),
    Result("feed.correct_replace", "volume", "Running bath: or take out so much and fill up with water", "gal", "L"),
)


def _water(sheet) -> dict[str, float]:
    """What water and acid bring, in mg/L."""
    found = {element: sheet[f"feed.water_{element.lower()}"] for element in ("Ca", "Mg", "Na", "Cl", "S")}
    brought = {part: sheet.result_if_any(f"acidity.nutrient_{part}") or 0.0 for part in ("n", "p", "s", "k", "cl")}
    for element, amount in (("N", brought["n"]), (NO3, brought["n"]), ("P", brought["p"]), ("S", brought["s"]),
                            ("K", brought["k"]), ("Cl", brought["cl"])):
        found[element] = found.get(element, 0.0) + amount
    return {element: amount for element, amount in found.items() if amount > 0.0}


def _alkalinity(sheet) -> float:
    """Bicarbonate of the source water in mmol/L, before acid; the acidity topic asks for it."""
    try:
        return (sheet.get("acidity.alkalinity") or 0.0) / MG_CACO3_IN_MMOL
    except Unanswered:
        return 0.0


def _wanted(sheet) -> dict[str, float]:
    """The formula at its strength, in mg/L."""
    if sheet["feed.target"] != OWN:
        whole = target_data.BY_KEY[sheet["feed.target"]].mg_l
    else:
        whole = {}
        for row in sheet.rows("feed.own_target"):
            if row["element"] in whole:
                sheet.fault("feed.own_target", f"Your own formula lists {WORDS[row['element']].lower()} twice: keep "
                                               "one row of the two.")
            whole[row["element"]] = row["amount"]
        if not whole:
            sheet.fault("feed.own_target", "Your own formula is empty: add a row with an element and its mg/L.")
    return {element: amount * sheet["feed.strength"] for element, amount in whole.items()}


def _labelled(sheet, table: str) -> list[tuple[recipe.Source, dict]]:
    """The rows of a label table as sources."""
    found = []
    for number, row in enumerate(sheet.rows(table), 1):
        percent = {element: 100.0 * (row.get(key) or 0.0) for key, element in PERCENTS}
        if sum(percent.values()) - percent[NH4] > 100.0:
            sheet.fault(table, f"{row['name']}: its label adds up to more than 100 %.")
        if percent[NH4] > percent["N"]:
            sheet.fault(table, f"{row['name']}: it has more ammonium nitrogen than nitrogen in all.")
        percent[NO3] = percent["N"] - percent[NH4]
        brings = {element: share for element, share in percent.items() if share > 0.0}
        found.append((recipe.label_source(f"{table}-{number}", row["name"], brings,
                                          OXIDES_OF[sheet["feed.label"]]), row))
    if not found:
        sheet.fault(table, "List at least one product with its label.")
    return found


def _salt_keys(sheet) -> tuple[str, ...]:
    listed = tuple(dict.fromkeys(row["name"] for row in sheet.rows("feed.salts")))
    allowed = tuple(key for key in listed
                    if sheet["feed.allow_restricted"] or not salt_data.BY_KEY[key].restricted)
    if not allowed:
        sheet.fault("feed.salts", "List at least one salt that may be used.")
    return allowed


def _sources(sheet) -> tuple[recipe.Source, ...]:
    if sheet["feed.way"] == SALTS:
        return tuple(recipe.salt_source(key) for key in _salt_keys(sheet))
    return tuple(source for source, _ in _labelled(sheet, f"feed.{sheet['feed.way']}"))


def _aim(sheet) -> recipe.Aim:
    way = sheet["feed.way"]
    # A powder brings its trace elements in a fixed share, so they may not steer how much of it is taken.
    return recipe.Aim(tuple(_wanted(sheet).items()), tuple(_water(sheet).items()),
                      sheet["feed.sulfur_floor"] if way != BOTTLES else 0.0, sheet["feed.ammonium_ceiling"],
                      1.0 if way == SALTS else 0.1)


def _mix(sheet) -> recipe.Fit:
    """Grams per litre and what they reach."""
    if sheet["feed.way"] != BOTTLES:
        return recipe.fit(_aim(sheet), _sources(sheet))
    grams, sources = {}, []
    for source, row in _labelled(sheet, "feed.bottles"):
        # mL/L times kg/L is g/L.
        grams[source.key] = row["dose"] * sheet["feed.strength"] * (row["density"] or 1000.0) / 1000.0
        sources.append(source)
    return recipe.Fit(grams, recipe.bring(sources, grams, _water(sheet)), 0.0)


def batch(sheet) -> None:
    """How much feed to mix."""
    typed = sheet.get("feed.volume")
    sheet.put("feed.batch", sheet.result("water.working_volume") if typed is None else typed,
              note="All the working water of the plan." if typed is None else "As you put it in.")


def formula(sheet) -> None:
    """The formula with its source and status: none is shown firmer than it is."""
    key = sheet["feed.target"]
    if key == OWN:
        sheet.put("feed.formula", "your own", note="As you put it in.")
        return
    target = target_data.BY_KEY[key]
    sheet.put("feed.formula", f"{target.name}: {target.status}", note=f"For {target.use}.", source=target.source)
    if MEMORY.split(",")[0] in target.status:
        sheet.caution("feed-formula-memory", "note",
                      f"Formula: the numbers of “{target.name}” were written down {target.status}. Compare them with "
                      f"the source before a whole season rests on them: {target.source}.")


def masses(sheet) -> None:
    """What to weigh, for the whole batch."""
    found, litres = _mix(sheet), sheet.result("feed.batch") * 1000.0
    rows = []
    for source in _sources(sheet):
        grams = found.grams_l[source.key] * litres
        if grams > 0.0:
            rows.append({"salt": source.name, "mass": grams / 1000.0, "key": source.key, "micro": source.is_micro})
    if sheet["feed.way"] == BOTTLES:
        for row, given in zip(rows, [one for one in sheet.rows("feed.bottles") if one["dose"] > 0.0], strict=True):
            row["volume"] = given["dose"] * sheet["feed.strength"] * litres * 1e-6
    sheet.put("feed.masses", rows, note="The mix that comes nearest the formula, each element's miss counted as a "
              "share of what is wanted, none below nothing, the fewest salts where several mixes are as good.",
              source="Lawson & Hanson (1974), Solving Least Squares Problems, chapter 23")
    sheet.put("feed.total_mass", sum(row["mass"] for row in rows), note="The masses added up.")


def reached(sheet) -> None:
    """Each element wanted and reached."""
    found, wanted, water = _mix(sheet), _wanted(sheet), _water(sheet)
    names = [element for element in (*ELEMENTS, NO3, NH4, "Na", "Cl")
             if element in wanted or found.reached.get(element, 0.0) > 0.0]
    sheet.put("feed.reached", [{"element": element, "target": wanted.get(element),
                                "reached": found.reached.get(element, 0.0), "water": water.get(element, 0.0)}
                               for element in names],
              note="Grams per litre times the share of each element, added to what water and acid bring.",
              source=salt_data.MASS_SOURCE if sheet["feed.way"] == SALTS else "your labels")
    nitrogen = found.reached.get("N", 0.0)
    if nitrogen > 0.0:
        sheet.put("feed.ammonium_share", found.reached.get(NH4, 0.0) / nitrogen,
                  note="Ammonium nitrogen over all nitrogen, from the water, the acid and the salts.")


def advice(sheet) -> None:
    """Say plainly what cannot be reached, which salt would mend it, and whether another mix is as good."""
    found, aim, sources, way = _mix(sheet), _aim(sheet), _sources(sheet), sheet["feed.way"]
    water = dict(aim.water)
    rows = []
    for element, wanted, got in recipe.missed(found, aim):
        word = WORDS[element]
        if got > wanted:
            brought = water.get(element, 0.0)
            why = ("your water alone brings more" if brought > wanted else
                   "it comes along with the others" if way != BOTTLES else "by the label")
            words = f"{word}: {got:.3g} mg/L where {wanted:.3g} is wanted; {why}."
        else:
            words = f"{word}: {got:.3g} mg/L where {wanted:.3g} is wanted, {1 - got / wanted:.0%} short."
            if way != BOTTLES:
                salt = recipe.remedy(element, aim, sources)
                words += f" {salt} would mend it." if salt else " No single salt of the table mends it."
        rows.append({"about": word, "words": words})
    if "sulfur" in found.broken:
        rows.append({"about": "Sulfur", "words": "Sulfur: nothing you list can bring the least amount; Epsom salt or "
                                                 "potassium sulfate would."})
    if found.others:
        rows.append({"about": "Choice", "words": f"Other mixes come as near: {', '.join(found.others)} could stand in "
                                                 "for some of these. This one uses few salts."})
    sheet.put("feed.advice", rows, note="Short by more than 3 % or over by more than 5 % is told.")
    short = [WORDS[element].lower() for element, wanted, got in recipe.missed(found, aim) if got < 0.9 * wanted]
    if short:
        sheet.caution("feed-short", "warning", f"Feed: more than a tenth short of {', '.join(short)}. The table says "
                                               "by how much, and what would mend it.")
    share = found.reached.get(NH4, 0.0) / found.reached["N"] if found.reached.get("N") else 0.0
    if "ammonium" in found.broken or (way == BOTTLES and share > sheet["feed.ammonium_ceiling"]):
        sheet.caution("feed-ammonium", "warning", f"Ammonium: {share:.0%} of the nitrogen, above the most that you "
                      "allow. In water much ammonium burns roots, most of all in cold and dull weather.")


def _ions(sheet, mg_l: dict[str, float], acid_taken: bool) -> dict[str, float]:
    bicarbonate = _alkalinity(sheet)
    if acid_taken:
        bicarbonate = max(bicarbonate - (sheet.result_if_any("acidity.acid_needed") or 0.0), 0.0)
        bicarbonate += sheet.result_if_any("acidity.base_needed") or 0.0
    return recipe.charges(mg_l, bicarbonate)


def plain_water(sheet) -> None:
    """Conductivity of the source water: measured, or from its analysis."""
    measured = sheet.get("feed.water_ec")
    if measured is not None:
        sheet.put("feed.water_conductivity", measured, note="As you measured it.")
        return
    plain = {element: sheet[f"feed.water_{element.lower()}"] for element in ("Ca", "Mg", "Na", "Cl", "S")}
    sheet.work("feed.water_conductivity", physics.conductivity_25, **_ions(sheet, plain, False))


def conductivity(sheet) -> None:
    """What a meter will read in the feed, in mS/cm and on the three ppm scales."""
    ions = _ions(sheet, _mix(sheet).reached, True)
    measured = sheet.get("feed.water_ec")
    if measured is None:
        found = sheet.work("feed.ec", physics.conductivity_25, **ions)
    else:
        plain = {element: sheet[f"feed.water_{element.lower()}"] for element in ("Ca", "Mg", "Na", "Cl", "S")}
        known = physics.conductivity_25(**_ions(sheet, plain, False))
        found = physics.conductivity_25(**ions) + max(measured - known, 0.0)
        sheet.put("feed.ec", found, note="From the ions of the feed, plus what your meter shows in the plain water "
                  "beyond what its analysis explains.", source=physics.conductivity_25.relation.source)
    for key, share in (("feed.ec_low", 1.0 - GOOD_EC), ("feed.ec_high", 1.0 + GOOD_EC)):
        sheet.put(key, found * share, note="A tenth either way: a prediction within that is a good one.")
    for name, scale in PPM_SCALES.items():
        sheet.work(f"feed.{name}", physics.meter_ppm, conductivity_ms_cm=found, scale=scale)


def balance(sheet) -> None:
    """Whether the charges balance: a test of labels and analyses."""
    reached_mg_l = _mix(sheet).reached
    ions = _ions(sheet, reached_mg_l, True)
    plus, minus = recipe.trace_charges(reached_mg_l)
    for name, amount in ions.items():
        charge = physics.IONS[name][0]
        if charge > 0:
            plus += charge * amount
        else:
            minus -= charge * amount
    if plus + minus <= 0.0:
        return
    sheet.put("feed.cations", plus, note="Potassium, calcium, magnesium, sodium, ammonium and trace metals.")
    sheet.put("feed.anions", minus, note="Nitrate, phosphate, sulfate, chloride, bicarbonate and trace anions.")
    off = sheet.work("feed.imbalance", physics.charge_imbalance, cations=plus, anions=minus)
    sheet.work("feed.ec_rule", physics.conductivity_by_cations, cations=plus)
    if off > BALANCED:
        whose = "the water's analysis" if sheet["feed.way"] == SALTS else "the labels or the water's analysis"
        sheet.caution("feed-balance", "note", f"Charges: plus and minus differ by {off:.0%}; 5 % is usual at most "
                      f"({MEMORY}). Something is missing in {whose}, so conductivity is less sure.")


def _stocked(source_key: str) -> bool:
    """Whether a salt belongs in the trace-element stock: all traces but iron chelates, which go with bottle A."""
    return salt_data.is_micro(source_key) and salt_data.BY_KEY[source_key].bottle == "B"


def micro_stock(sheet) -> None:
    """Trace elements as a strong stock, for their pinches cannot be weighed batch by batch."""
    if sheet["feed.way"] != SALTS:
        return
    found, strength, step = _mix(sheet), sheet["feed.micro_strength"], SCALES[sheet["feed.scale"]]
    rows, coarse = [], []
    for key in _salt_keys(sheet):
        grams = found.grams_l[key] * strength
        if grams <= 0.0 or not _stocked(key):
            continue
        salt = salt_data.BY_KEY[key]
        weighed = recipe.rounded(grams, step)
        rows.append({"salt": salt.name, "key": key, "mass": grams / 1000.0, "weighed": weighed / 1000.0,
                     "off": weighed / grams - 1.0, "share": grams / (salt.solubility_g_l or float("inf")),
                     "hazard": salt.hazard})
        if abs(weighed / grams - 1.0) > HALF_A_STEP:
            coarse.append(salt.name.lower())
    if not rows:
        return
    sheet.put("feed.micro_stock", rows, note="Grams per litre of feed times the strength of the stock.",
              source=f"solubilities {MEMORY}")
    sheet.put("feed.micro_dose", sheet.result("feed.batch") / strength, note="Feed divided by the strength.")
    if coarse:
        sheet.caution("feed-coarse-scale", "warning", f"Trace elements: your scale is too coarse for "
                      f"{', '.join(coarse)}, even in a litre of stock. Borrow one that shows 0.01 g, or buy a ready "
                      "mix and put its label in as a powder. Ten times too much boron or copper kills plants.")
    full = [row["salt"] for row in rows if row["share"] > FULL_SHARE]
    if full:
        sheet.caution("feed-stock-full", "warning", f"Trace-element stock: {', '.join(full)} may not dissolve at this "
                      f"strength (solubilities {MEMORY}). Make the stock weaker.")


def rounding(sheet) -> None:
    """What the scale's steps do to each element."""
    found, sources = _mix(sheet), _sources(sheet)
    if sheet["feed.way"] == BOTTLES:
        return
    litres, step = sheet.result("feed.batch") * 1000.0, SCALES[sheet["feed.scale"]]
    stock_off = {row["key"]: row["off"] for row in sheet.result_if_any("feed.micro_stock") or []}
    weighed = {key: grams * (1.0 + stock_off[key]) if key in stock_off
               else recipe.rounded(grams * litres, step) / litres for key, grams in found.grams_l.items()}
    then = recipe.bring(sources, weighed, _water(sheet))
    rows = [{"element": element, "exact": found.reached[element], "weighed": then.get(element, 0.0),
             "off": then.get(element, 0.0) / found.reached[element] - 1.0}
            for element in ELEMENTS if found.reached.get(element, 0.0) > 0.0]
    sheet.put("feed.rounded", rows, note="Each mass to the nearest step of the scale; trace elements from their "
              "stock.")
    lost = [row for row in rows if abs(row["off"]) > HALF_A_STEP]
    if lost:
        sheet.caution("feed-rounding", "note", "Scale: rounding to its steps changes "
                      + ", ".join(f"{WORDS[row['element']].lower()} by {row['off']:+.0%}" for row in lost)
                      + ". Weigh a larger amount as a concentrate, or use a finer scale.")


def concentrates(sheet) -> None:
    """Bottles A and B: what goes where, why, and whether it dissolves."""
    if sheet["feed.way"] != SALTS:
        return
    found, strength = _mix(sheet), sheet["feed.stock_strength"]
    litres = sheet["feed.stock_volume"] * 1000.0
    rows, filled = [], {"A": 0.0, "B": 0.0}
    for key in _salt_keys(sheet):
        grams_l = found.grams_l[key] * strength
        if grams_l <= 0.0 or _stocked(key):
            continue
        salt = salt_data.BY_KEY[key]
        for bottle, part, why in recipe.bottles_of(key):
            share = grams_l * part / salt.solubility_g_l
            filled[bottle] += share
            rows.append({"bottle": bottle, "salt": salt.name, "key": key, "mass": grams_l * part * litres / 1000.0,
                         "g_l": grams_l * part, "limit_g_l": salt.solubility_g_l, "share": share, "why": why})
    rows.sort(key=lambda row: row["bottle"])
    if sheet.result_if_any("feed.micro_stock"):
        rows.append({"bottle": "B", "salt": STOCK, "key": "stock", "mass": None,
                     "volume": sheet["feed.stock_volume"] * strength / sheet["feed.micro_strength"], "g_l": None,
                     "limit_g_l": None, "share": 0.0, "why": "measured by volume, never weighed by the pinch"})
    sheet.put("feed.concentrates", rows, note="Grams per litre of feed, times the strength and the size of the "
              "bottle. How full: grams per litre over what dissolves alone in water at 20 C.",
              source=f"Solubilities and the parting into two bottles: {MEMORY}")
    sheet.put("feed.concentrate_dose", 1000.0 / strength, note="A thousand divided by the strength.")
    sheet.put("feed.concentrate_each", sheet.result("feed.batch") / strength, note="Feed divided by the strength.")
    for bottle, share in filled.items():
        if share > FULL_SHARE:
            sheet.caution(f"feed-full-{bottle}", "warning",
                          f"Bottle {bottle}: about {share:.0%} of what water takes up at 20 C, so salt may stay or "
                          f"fall out, sooner in the cold. Make it weaker. (Limits {MEMORY}; shares simply added up.)")


def order(sheet) -> None:
    """The batch straight into the tank, in an order that does not cloud."""
    steps = ["Fill the bath with nine tenths of the water and start the pumps."]
    if sheet["feed.way"] == BOTTLES:
        steps += [f"Measure {row['salt']} into a bucket of water, pour it in, and let it mix for some minutes. Rinse "
                  "the measure." for row in sheet.result("feed.masses")]
    else:
        rows = sheet.result("feed.masses")
        brings = {source.key: source.brings for source in _sources(sheet)}
        last = [row for row in rows if brings[row["key"]].get("Ca", 0.0) > 0.0]
        stocked = sheet["feed.way"] == SALTS and [row for row in rows if _stocked(row["key"])]
        steps += [f"{row['salt']}: dissolve it in its own bucket of water, pour it in."
                  for row in rows if row not in last and not (stocked and row in stocked)]
        if stocked:
            steps.append("Pour in the trace-element stock.")
        steps += [f"{row['salt']} last of all: dissolved in a full bucket, slowly, where the water moves."
                  for row in last]
    steps.append("Fill up with water. After half an hour measure conductivity, then pH.")
    sheet.put("feed.order", [{"step": number, "words": words} for number, words in enumerate(steps, 1)],
              note="Calcium comes last and thin, so that it never meets strong sulfate or phosphate.")


def _reading(sheet, raw: float) -> float:
    scale = sheet["feed.meter_scale"]
    shown = raw / PPM_SCALES[scale] if scale in PPM_SCALES else raw / 1000.0 if scale == "us" else raw
    if shown > 20.0:
        sheet.fault("feed.meter_reading", "Running bath: your meter reads must be 20 mS/cm or less; check what the "
                                          "meter shows, mS/cm, µS/cm or ppm.")
    return shown


def mend(sheet) -> None:
    """A running bath: concentrate to add, water to add, or solution to replace."""
    raw = sheet.get("feed.meter_reading")
    if raw is None:
        return
    shown = _reading(sheet, raw)
    if sheet["feed.meter_compensates"]:
        sheet.put("feed.bath_ec", shown, note="As your meter shows it, in mS/cm.")
    else:
        shown = sheet.work("feed.bath_ec", physics.conductivity_to_25, conductivity_ms_cm=shown,
                           temperature_c=sheet["water.temperature"])
    plain, fresh = sheet.result("feed.water_conductivity"), sheet.result("feed.ec")
    wanted = sheet.get("feed.wanted_ec") or fresh
    volume_l = sheet.result("feed.batch") * 1000.0
    if shown < wanted:
        _strengthen(sheet, volume_l, shown, wanted, fresh - plain)
    elif shown > wanted:
        if wanted <= plain:
            sheet.fault("feed.wanted_ec", "Wanted in the bath must be more than the conductivity of your plain water.")
        numbers = {"volume_l": volume_l, "reads_ms_cm": shown, "wanted_ms_cm": wanted, "water_ms_cm": plain}
        for key, function in (("feed.correct_water", physics.water_to_add),
                              ("feed.correct_replace", physics.solution_to_replace)):
            sheet.put(key, function(**numbers) / 1000.0, relation=function, inputs=numbers,
                      note="The formula gives litres.")


def _strengthen(sheet, volume_l: float, shown: float, wanted: float, full: float) -> None:
    if full <= 0.0:
        raise OutOfRange("What a full dose adds must be more than 0 mS/cm to mend a bath.")
    share = (wanted - shown) / full
    stocked = {row["key"] for row in sheet.result_if_any("feed.micro_stock") or []}
    rows = [{"what": row["salt"], "mass": row["mass"] * share,
             "volume": row["volume"] * share if "volume" in row else None} for row in sheet.result("feed.masses")
            if row["key"] not in stocked]
    if stocked:
        rows.append({"what": STOCK, "mass": None, "volume": sheet.result("feed.micro_dose") * share})
    sheet.put("feed.correct_rows", rows, note="The whole batch, times the missing part of its conductivity. Add two "
              "thirds, let it mix, measure, then add the rest: conductivity does not add up exactly.")
    if sheet["feed.way"] == SALTS:
        numbers = {"volume_l": volume_l, "reads_ms_cm": shown, "wanted_ms_cm": wanted, "full_ms_cm": full,
                   "dose_ml_l": sheet.result("feed.concentrate_dose")}
        sheet.put("feed.correct_each", physics.concentrate_to_add(**numbers) * 1e-6,
                  relation=physics.concentrate_to_add, inputs=numbers, note="The formula gives millilitres. Add two "
                  "thirds, let it mix, measure, then add the rest.")


def counts_on_acid(sheet) -> None:
    """Say that the weights stand on an acid, where it brings much of an element: without it the mix is another."""
    phosphorus = sheet.result_if_any("acidity.nutrient_p") or 0.0
    nitrogen = sheet.result_if_any("acidity.nutrient_n") or 0.0
    brought = [f"{sheet.show(amount, 'concentration', 'mg/L', 'mg/L')} of {word}"
               for amount, word in ((phosphorus, "phosphorus"), (nitrogen, "nitrogen")) if amount >= 1.0]
    product, volume = sheet.result_if_any("acidity.product"), sheet.result_if_any("acidity.volume")
    if not brought or product is None or volume is None:
        return
    sheet.caution("feed-acid", "warning",
                  f"Feed: these weights count on {sheet.show(volume, 'volume', 'mL', 'mL')} of {product}, which brings "
                  f"{' and '.join(brought)}. With another acid, or none, say so under pH, or the feed falls short.")


def suits_crops(sheet) -> None:
    """Whether the fresh feed is as strong as the crops chosen like it."""
    low, high = sheet.result_if_any("crops.ec_low"), sheet.result_if_any("crops.ec_high")
    ec = sheet.result("feed.ec")
    # A prediction within a tenth of the band says nothing against it.
    if low is None or high is None or 0.9 * low <= ec <= 1.1 * high:
        return
    def say(value: float) -> str:
        return sheet.show(value, "conductivity", "mS/cm", "mS/cm")
    what = "thinner" if ec < low else "stronger"
    sheet.caution("feed-crops", "warning", f"Feed: {say(ec)} is {what} than the {say(low)} to {say(high)} that suits "
                  f"{sheet.result('crops.names')}. Change the strength or the formula, or choose other crops.")


def source_water(sheet) -> None:
    """Water that brings too much of what gathers."""
    water = _water(sheet)
    for element, limit, source in target_data.WATER_LIMITS:
        if water.get(element, 0.0) > limit:
            sheet.caution(f"feed-water-{element.lower()}", "warning",
                          f"Source water: {WORDS[element].lower()} of {water[element]:.3g} mg/L is above the "
                          f"{limit:.3g} that is advised at most ({source}). Thin it with rain or filtered water.")


def handling(sheet) -> None:
    """Cautions that belong to what is weighed."""
    sheet.caution("feed-food", "note", "Food: feed with drinking water, clean tools and fertiliser sold for food "
                  "crops; keep these tools for the bath alone, and wash hands before you touch leaves.")
    sheet.caution("feed-concentrate", "warning", "Concentrates: never pour A and B together undiluted; calcium meets "
                  "sulfate and phosphate and turns to grit that no stirring brings back. Water first, then one, "
                  "then the other.")
    sheet.caution("feed-labels", "warning", "Children: keep salts and bottles locked away and labelled with name and "
                  "date, never in bottles made for drinks. Weigh with goggles, gloves and no wind; raise no dust.")
    if sheet["feed.way"] != SALTS:
        sheet.caution("feed-sheet", "warning", "Products: read the safety data sheet of each. Powders with nitrate "
                      "make a fire fiercer: keep them dry, away from heat, fuel, sawdust and foam offcuts.")
        return
    used = [salt_data.BY_KEY[row["key"]] for row in sheet.result("feed.masses")]
    fiery = [salt.name for salt in used if "oxidiser" in salt.hazard]
    if fiery:
        sheet.caution("feed-oxidiser", "danger", f"Oxidisers ({', '.join(fiery)}) make any fire fiercer. Keep them "
                      "dry, away from heat, fuel, sawdust, sugar and foam offcuts; follow the safety data sheet and "
                      "local law.")
    if any(salt_data.BORON in salt.hazard for salt in used):
        sheet.caution("feed-boron", "danger", "Boric acid and borax may harm fertility and the unborn child. Gloves, "
                      "no dust; who is or may be pregnant leaves them to others. A ready trace mix avoids weighing "
                      "them.")
    named = [salt_data.BY_KEY[row["name"]] for row in sheet.rows("feed.salts")]
    held = [salt for salt in named if salt.restricted]
    if held:
        left = "" if sheet["feed.allow_restricted"] else " It is left out of the mix."
        sheet.caution("feed-restricted", "danger", f"{held[0].name}: {held[0].restricted}. Ask your authority before "
                      f"you buy or keep it.{left}")


STEPS = (batch, formula, masses, reached, advice, plain_water, conductivity, suits_crops, counts_on_acid, balance,
         micro_stock, rounding, concentrates, order, mend, source_water, handling)
