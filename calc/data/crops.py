"""What each raft crop asks for: ranges as sources give them, every cell with its own source and status."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from ..relations.base import ABSTRACT, COPY, MEMORY, PRACTICE, PUBLISHED, SECOND_HAND

JUDGMENT = "engineering judgment, no source"
INCH, CM, GRAM, LITRE, MM = 0.0254, 0.01, 1e-3, 1e-3, 1e-3

FAO = "FAO Fisheries and Aquaculture Technical Paper 589 (2014), Appendix 1"
SHARMA = ("Sharma and others 2018, Hydroponics as an advanced technique for vegetable production, Journal of Soil and "
          "Water Conservation, doi 10.5958/2455-7145.2018.00056.5, table 1")
TEACH = "Aqu@teach textbook, plant varieties"
CORNELL = "Cornell CEA lettuce handbook"
SPINACH = "Cornell CEA spinach handbook (2013)"
WALTERS = "Walters & Currey 2018, HortScience 53(9):1319"
CURREY = "Currey, Walters & Flax 2019, Agronomy 9(7):389"
CHIBA = "Chiba University 2022, Horticulturae 8(3):216"
DUYAR = "Duyar & Kilic, Journal of Agricultural Science (ccsenet 58917)"
GLASSHOUSE = ("Effects of microclimate in glasshouse and root temperature of hydroponic vegetables, trial of 1992 to "
              "1994")
CAROTTI = "Carotti and others 2021, Frontiers in Plant Science 11:592171"
AEROPONIC = ("Growth and photosynthetic responses of three aeroponically grown lettuce cultivars to different rootzone "
             "temperatures")
FLOATING = "Horticulturae 2019, 5(4):72 (Eastern New Mexico University)"
HAWAII = "Growing lettuce in non-aerated, non-circulated hydroponic systems (University of Hawaii)"
ARIZONA = "Hernandez and others 2017, Acta Horticulturae 1170:619-626"
GOTO = "Goto and others 1996, Acta Horticulturae 440:205-210"
ICEBERG = "Gavhane and others 2023, Scientific Reports, doi 10.1038/s41598-023-36997-2"
ANDERSON = "Anderson and others 2017, Horticulturae 3(3):41"
FOODS = "Foods 2022, 11:1327, table 1"
MALUDIN = "Maludin and others, Transactions on Science and Technology 7(3-2):178-188"
GOBILIK = "Gobilik and others, Transactions on Science and Technology 8(1):17-24"
PAK_CHOI_EC = "PLOS ONE 2018, 13(8):e0202090"
YANG_KALE = "Yang and others 2024, Agronomy 14(11):2704"
YANG_ARUGULA = "Yang and others 2021, Agronomy 11(7):1340"
VANDAM = "Vandam and others 2017, Horticulturae 3(2):32"
BENKO = "Benko and others 2016, Acta Horticulturae 1142:111-118"
GREENS = "Produce Grower magazine, Specialty leafy greens"
SOLUTION_HERBS = "Maximum Yield magazine, June 2016, Hydroponic basil and cilantro"
CELERY = "Greenhouse Grower magazine, Feasibility of hydroponic celery production"
GROWERS = "a maker's guide for growers in towers, as quoted in an open table of garden crops"
RESH = "Resh, Hobby hydroponics, CRC Press (its title from memory)"
EXTENSION = "usual practice of growers"
LIKE = "taken from like plants in this table"
CUT = "how the crop is cut"
RAISED = "how the crop is raised"
OPINION = "what its growth asks for, as this table gives it"


@dataclass(frozen=True)
class Cell:
    """One entry: the low and high end in base units, where it is from, how sure that is, and a remark."""

    low: float
    high: float
    source: str
    status: str
    note: str = ""


@dataclass(frozen=True)
class Words:
    """One entry that is a word or two, with its source and status."""

    text: str
    source: str = EXTENSION
    status: str = PRACTICE
    note: str = ""


@dataclass(frozen=True)
class Crop:
    """A crop. Lengths in m, ``ec`` in mS/cm, ``root`` in C, ``dli`` in mol/m2/d, ``mass`` in kg of one plant or cut,
    ``water`` in m3 for one plant and day late in the crop; ``nursery`` and ``raft`` are days from seed (or cutting) to
    transplant and from there to the first cut. ``fitness`` is one of FITNESS; ``stage`` a key of roots.ROOT_MASS_G;
    ``per_cell`` the seeds sown into one cell."""

    key: str
    name: str
    spacing: Cell
    planned_spacing: Cell
    nursery: Cell
    raft: Cell
    ec: Cell
    ph: Cell
    root: Cell
    dli: Cell
    mass: Cell
    water: Cell
    pot: Cell
    habit: Words
    fitness: Words
    stage: Words
    per_cell: Cell
    begins: Words = Words("seed", RAISED, PRACTICE)
    ec_trial: Cell | None = None

    def spacing_for(self, system: str) -> float:
        """Planned spacing in m; for US readers rounded up to a half inch, never below the metric figure."""
        planned = self.planned_spacing.low
        return planned if system == "metric" else ceil(planned / (INCH / 2) - 1e-9) * INCH / 2


FITNESS = {"excellent": "excellent", "good": "good", "possible": "possible, a long crop", "risky": "risky",
           "poor": "poor in a still raft", "no": "not for a raft"}


def _memory(low: float, high: float, source: str = EXTENSION, note: str = "") -> Cell:
    return Cell(low, high, source, MEMORY, note)


def _judged(low: float, high: float, source: str = LIKE, note: str = "") -> Cell:
    return Cell(low, high, source, JUDGMENT, note)


def _read(low: float, high: float, source: str, note: str = "") -> Cell:
    return Cell(low, high, source, PUBLISHED, note)


def _abstract(low: float, high: float, source: str, note: str = "") -> Cell:
    return Cell(low, high, source, ABSTRACT, note)


def _copied(low: float, high: float, source: str = FAO, note: str = "") -> Cell:
    return Cell(low, high, source, COPY, note)


def _quoted(low: float, high: float, source: str = GROWERS, note: str = "") -> Cell:
    return Cell(low, high, source, SECOND_HAND, note)


def _usual(low: float, high: float, source: str = EXTENSION, note: str = "") -> Cell:
    return Cell(low, high, source, PRACTICE, note)


def _in(unit: float, cell: Cell) -> Cell:
    """The same cell, typed in another unit than the base unit."""
    return Cell(cell.low * unit, cell.high * unit, cell.source, cell.status, cell.note)


def _crop(key: str, name: str, *, spacing: Cell, planned_cm: float, mass: Cell, water: Cell, pot: Cell, habit: str,
          fitness: str, stage: str, why_fit: str = "", fit_source: str = OPINION, fit_status: str = JUDGMENT,
          per_cell: Cell | None = None, begins: str = "seed", **cells: Cell) -> Crop:
    """Spacing in cm, mass in g, water in L and pot in mm, as tables print them; all else in base units."""
    planned = _judged(planned_cm, planned_cm, "a round figure within the range of spacing")
    return Crop(key, name, _in(CM, spacing), _in(CM, planned), mass=_in(GRAM, mass), water=_in(LITRE, water),
                pot=_in(MM, pot), habit=Words(habit, CUT, PRACTICE),
                fitness=Words(fitness, fit_source, fit_status, why_fit),
                stage=Words(stage, "by the size of the plant at harvest", JUDGMENT),
                per_cell=per_cell or _usual(1, 1), begins=Words(begins, RAISED, PRACTICE), **cells)


POT = _usual(50, 50, EXTENSION, "2 in")
HERB_DLI = "herbs 12 to 18"
NO_EFFECT = "0.5 to 4 mS/cm were tested and made no difference to growth"
ONE_SEED = _read(1, 1, GREENS, "sown singly")
# Kinds of lettuce that the sources do not tell apart.
LETTUCE_EC = _read(1.2, 1.8, SHARMA, f"1.6 to 2.0 in an example, {FOODS}")
LETTUCE_PH = _quoted(5.5, 6.5, GROWERS, f"at 5.8 a quarter more grew than at 7.0 ({ANDERSON}, abstract); 5.9 to 6.7 in "
                     f"an example ({FOODS}). Tables print 6.0 to 7.0, as for soil (Sharma and others 2018, FAO 589)")
LETTUCE_ROOT = _abstract(15, 25, AEROPONIC, "no difference between 15 and 25 °C. Trials part above: growth fell above "
                         f"26 °C ({GLASSHOUSE}), or was best at 28 °C with air of 24 °C ({CAROTTI}, abstract)")
LETTUCE_DLI = _abstract(12, 17, f"{ICEBERG}; 17: {CORNELL}, quoted second hand",
                        "11.5, rounded up, was best of 8.6, 11.5 and 14.4 for iceberg under lamps; the handbook aims "
                        "at 17")

CROPS: tuple[Crop, ...] = (
    _crop("leaf lettuce", "Leaf lettuce",
          spacing=_copied(18, 30, FAO, "20 to 25 heads to a square meter, which is 20 to 22 cm"), planned_cm=20,
          nursery=_read(14, 21, f"{ARIZONA} (abstract); {TEACH}", "14 days in a raft trial, about three weeks in the "
                                                                    "textbook and in copies of FAO 589"),
          raft=_copied(24, 32, FAO, f"longer for some sorts; 35 to 42 in {TEACH}"), ec=LETTUCE_EC, ph=LETTUCE_PH,
          root=LETTUCE_ROOT, dli=LETTUCE_DLI,
          mass=_abstract(93, 220, f"{FLOATING}; {HAWAII}", "93 g in a floating trial; 178 g afloat and 220 g on a "
                                                            "board that stays up, in Hawaii"),
          water=_memory(0.10, 0.25), pot=POT, habit="loose head, cut once", fitness="excellent", stage="head",
          fit_source=FAO, fit_status=COPY),
    _crop("butterhead", "Butterhead lettuce",
          spacing=_memory(15, 18, f"{ARIZONA}, abstract; {CORNELL}", "43 plants to a square meter in the trial, 38 in "
                                                                     "the handbook"),
          planned_cm=17, nursery=_abstract(11, 14, f"{GOTO}; {ARIZONA}"),
          raft=_abstract(24, 42, f"{GOTO}; {ARIZONA}", "24 days at full light, 28 to 42 in a greenhouse by season"),
          ec=_read(1.2, 1.8, SHARMA, "the Cornell handbook keeps 1.15 to 1.25 (quoted second hand)"),
          ph=_quoted(5.6, 6.0, CORNELL, f"at 5.8 a quarter more grew than at 7.0 ({ANDERSON}, abstract)"),
          root=_abstract(15, 25, AEROPONIC, f"as for leaf lettuce; {CORNELL}: not above 25 °C (quoted second hand)"),
          dli=LETTUCE_DLI,
          mass=_abstract(142, 250, f"{ARIZONA}; 5 oz: Cornell CEA program, page of growers' handbooks"),
          water=_memory(0.10, 0.20), pot=POT, habit="one head, cut once", fitness="excellent",
          fit_source="Cornell CEA program, page of growers' handbooks", fit_status=PUBLISHED, stage="head"),
    _crop("romaine", "Romaine (cos) lettuce", spacing=_copied(18, 30, FAO, "as lettuce of all kinds"), planned_cm=22,
          nursery=_read(21, 21, TEACH, "about three weeks, lettuce of all kinds"),
          raft=_read(35, 42, TEACH, "lettuce of all kinds; 24 to 32 in FAO 589"), ec=LETTUCE_EC, ph=LETTUCE_PH,
          root=_judged(15, 25, "as for leaf lettuce"), dli=_judged(12, 17, "as for leaf lettuce"),
          mass=_memory(200, 300), water=_judged(0.15, 0.30), pot=POT,
          habit="upright head, cut once", fitness="excellent", stage="head", fit_source=TEACH, fit_status=PUBLISHED),
    _crop("basil", "Sweet basil", spacing=_copied(15, 25, FAO), planned_cm=20, nursery=_read(14, 21, FAO),
          raft=_read(21, 28, FAO, "to the first cut"),
          ec=_read(1.0, 3.0, f"{SHARMA}; {CHIBA} (abstract)", "1.0 to 1.6 in the table; of 0.5 to 5 the best grew at "
                   f"3; in another trial {NO_EFFECT} ({WALTERS}, abstract)"),
          ec_trial=_abstract(0.5, 4.0, WALTERS), ph=_read(5.5, 6.5, FAO),
          root=_read(20, 25, FAO, "printed as the best range of temperature; 18 to 30 °C is borne"),
          dli=_memory(12, 18, HERB_DLI, f"15 gave 144 % more than 7: {WALTERS}, abstract"), mass=_memory(30, 80),
          water=_judged(0.15, 0.40), pot=POT, habit="bush, cut again and again", fitness="excellent",
          stage="half grown", fit_source=FAO, fit_status=COPY),
    _crop("kale", "Kale", spacing=_memory(20, 30), planned_cm=25, nursery=_memory(14, 21), raft=_memory(28, 40),
          ec=_quoted(1.6, 2.5, GROWERS, f"yield still rose at 2.1, the most tried ({YANG_KALE}, abstract)"),
          ph=_quoted(5.5, 6.5), root=_memory(18, 22),
          dli=_memory(12, 17, EXTENSION, "dry mass rose by half from 8 to 14 in a trial of three leaf crops, abstract"),
          mass=_memory(80, 150), water=_judged(0.15, 0.30), pot=POT, per_cell=ONE_SEED,
          habit="leaves picked again and again", fitness="good", stage="large leaf"),
    _crop("chard", "Swiss chard", spacing=_copied(30, 30, FAO, "15 to 20 plants to a square meter"), planned_cm=30,
          nursery=_memory(14, 21, FAO), raft=_copied(25, 35, FAO), ec=_quoted(1.6, 2.3),
          ph=_copied(6.0, 6.5, f"{FAO}; {GROWERS}", "what 6.0 to 7.5 in FAO 589 and 5.5 to 6.5 in the guide share"),
          root=_copied(16, 24, FAO, "printed for the air"), dli=_memory(12, 17), mass=_memory(100, 200),
          water=_judged(0.15, 0.30), pot=POT, per_cell=ONE_SEED, habit="leaves picked again and again",
          fitness="good", stage="large leaf", fit_source=FAO, fit_status=COPY),
    _crop("pak choi", "Bok choy (pak choi)",
          spacing=_memory(13, 25, EXTENSION, f"dwarf kinds 13 to 16, 50 to a square meter best: {MALUDIN}, abstract"),
          planned_cm=20, nursery=_memory(10, 14),
          raft=_memory(21, 30, EXTENSION, f"under 30 at 25 °C: {MALUDIN}, abstract"),
          ec=_read(1.5, 2.4, f"{SHARMA}; {PAK_CHOI_EC} (abstract)",
                   "1.5 to 2.0 in the table, 1.8 to 2.4 and 2.2 best in two trials"),
          ph=_memory(6.0, 6.5, EXTENSION, "tables print 7.0, as for soil (Sharma and others 2018)"),
          root=_abstract(21, 25, f"{GLASSHOUSE}; {MALUDIN}", "held at 21 in winter and 24 in summer, growth fell above "
                                                             "26; on a tropical raft 25 was best"),
          dli=_memory(12, 17),
          mass=_memory(80, 200, EXTENSION, f"82 g, a dwarf kind at 63 to a square meter: {GOBILIK}, abstract"),
          water=_judged(0.15, 0.25), pot=POT, per_cell=ONE_SEED, habit="one head, cut once", fitness="excellent",
          stage="head"),
    _crop("spinach", "Spinach, bunching", spacing=_memory(13, 18, SPINACH, "30 to 60 plants to a square meter; baby "
                                                                            "leaf is sown dense instead"),
          planned_cm=15, nursery=_memory(10, 14, SPINACH), raft=_memory(28, 35, SPINACH, "baby leaf 14 to 21"),
          ec=_read(1.8, 2.3, SHARMA),
          ph=_abstract(5.8, 7.0, VANDAM, "grew alike at 5.8 and at 7.0; tables print 6.0 to 7.0"),
          root=_memory(16, 20, SPINACH, "18 °C or below keeps root rot down best; roots stop growing above 26 °C "
                                        "(J. SHITA 10(4):225, abstract)"),
          dli=_memory(12, 17, SPINACH), mass=_memory(40, 80), water=_judged(0.05, 0.10), pot=_usual(25, 50),
          habit="cut once", fitness="risky", why_fit="root rot (Pythium aphanidermatum) is what stops it",
          fit_status=ABSTRACT, fit_source="Cornell, NYSERDA Agreement 8249 report 2007", stage="half grown"),
    _crop("arugula", "Arugula (rocket)", spacing=_memory(8, 15), planned_cm=12, nursery=_abstract(14, 18, RESH),
          raft=_memory(14, 21),
          ec=_abstract(0.8, 1.8, f"{YANG_ARUGULA}; {GROWERS}, quoted second hand", "rose up to 1.8 of 1.2 to 2.1; 0.8 "
                       f"to 1.4 in the guide; half-strength feed cost 14 to 25 % ({DUYAR})"),
          ph=_quoted(6.0, 6.5, GROWERS, "what 6.0 to 7.5 and 5.5 to 6.5 in two such guides share"),
          root=_memory(16, 22), dli=_memory(10, 15),
          mass=_memory(20, 50, EXTENSION, f"a clump; 1.0 to 1.6 kg from a square meter sown dense ({DUYAR}, abstract)"),
          water=_judged(0.05, 0.12), pot=_usual(25, 50),
          per_cell=_judged(4, 6, f"several seeds to a cell: {GREENS}; how many is not said"),
          habit="clump, one to three cuts", fitness="good", stage="half grown"),
    _crop("mizuna", "Mizuna and leaf mustard",
          spacing=_judged(15, 20, LIKE, "a gravel bed in the open bore most at 90 to a square meter, 10 cm apart"),
          planned_cm=18, nursery=_judged(10, 14),
          raft=_judged(21, 28), ec=_judged(1.2, 2.0), ph=_judged(5.8, 6.5), root=_judged(16, 22),
          dli=_judged(12, 16), mass=_judged(60, 150), water=_judged(0.08, 0.20), pot=POT,
          per_cell=_judged(2, 4), habit="clump, one to three cuts", fitness="good", stage="half grown"),
    _crop("endive", "Endive and escarole", spacing=_judged(22, 30), planned_cm=25, nursery=_judged(14, 18),
          raft=_judged(30, 42), ec=_judged(1.4, 2.0), ph=_judged(5.5, 6.5), root=_judged(16, 22),
          dli=_judged(12, 17), mass=_judged(200, 350), water=_judged(0.15, 0.30), pot=POT,
          habit="one head, cut once", fitness="good", stage="head"),
    _crop("mint", "Mint", spacing=_memory(20, 30), planned_cm=25, nursery=_memory(10, 14, EXTENSION, "from a cutting"),
          raft=_memory(28, 35, EXTENSION, "then every three to four weeks"), ec=_memory(1.6, 2.4),
          ph=_memory(5.5, 6.5), root=_read(15, 20, "Homegrown magazine, July 2021, Some herbs to grow hydroponically",
                                           "printed for the air"),
          dli=_memory(12, 16),
          mass=_memory(50, 100, EXTENSION, "young plants sold whole weighed 8 to 10 g (Folia Horticulturae 2021, "
                                           "10.2478/fhort-2021-0020)"),
          water=_judged(0.20, 0.40), pot=_usual(50, 75), habit="spreads, cut again and again", fitness="good",
          why_fit="its roots invade: give it a raft of its own", begins="cutting", stage="large leaf"),
    _crop("parsley", "Parsley",
          spacing=_copied(15, 30, FAO, "10 to 15 plants to a square meter, which is 26 to 32 cm"), planned_cm=20,
          nursery=_copied(35, 42, FAO, "comes up in 8 to 10 days, or in 2 to 5 weeks where the seed is old"),
          raft=_copied(20, 30, FAO, "to the first picking"),
          ec=_read(1.8, 2.2, SHARMA, f"{NO_EFFECT} ({CURREY}, abstract); but half-strength feed cost 14 to 25 % "
                                     f"({DUYAR}, abstract)"),
          ec_trial=_abstract(0.5, 4.0, CURREY), ph=_read(6.0, 6.5, SHARMA, "6.0 to 7.0 in FAO 589"),
          root=_copied(15, 25, FAO, "printed for the air"),
          dli=_memory(12, 18, HERB_DLI, f"18 gave 120 % more than 7: {CURREY}, abstract"),
          mass=_abstract(11, 24, CURREY, "at light of 7 and 18 mol/m²/d"), water=_judged(0.10, 0.20), pot=POT,
          per_cell=_judged(3, 5), habit="picked again and again", fitness="good", stage="half grown", fit_source=FAO,
          fit_status=COPY),
    _crop("cilantro", "Cilantro (coriander)", spacing=_memory(10, 15), planned_cm=15,
          nursery=_abstract(21, 21, CURREY), raft=_memory(21, 28),
          ec=_quoted(1.2, 2.0, GROWERS, f"1.6 to 1.8 in {SOLUTION_HERBS}; {NO_EFFECT}"),
          ec_trial=_abstract(0.5, 4.0, CURREY), ph=_quoted(5.5, 6.5), root=_memory(18, 22),
          dli=_memory(12, 18, HERB_DLI, f"18 gave 154 % more than 7: {CURREY}, abstract"),
          mass=_abstract(14, 35, CURREY, "at light of 7 and 18 mol/m²/d"),
          water=_judged(0.08, 0.15, LIKE, "34 to 39 L for a kilogram in deep flow, twice what lettuce takes"), pot=POT,
          per_cell=_judged(5, 10, f"several seeds to a pot: {SOLUTION_HERBS}; how many is not said"),
          habit="one or two cuts; bolts above 24 to 27 °C", fitness="good", stage="half grown"),
    _crop("dill", "Dill", spacing=_judged(10, 15), planned_cm=15, nursery=_abstract(21, 21, CURREY),
          raft=_judged(21, 28),
          ec=_judged(1.0, 1.8, LIKE, NO_EFFECT), ec_trial=_abstract(0.5, 4.0, CURREY), ph=_judged(5.5, 6.5),
          root=_judged(18, 22), dli=_memory(12, 18, HERB_DLI, f"18 gave 241 % more than 7: {CURREY}, abstract"),
          mass=_abstract(7, 24, CURREY, "at light of 7 and 18 mol/m²/d"), water=_judged(0.08, 0.15),
          pot=POT, per_cell=_judged(4, 8), habit="one or two cuts", fitness="good", stage="half grown"),
    _crop("chives", "Chives", spacing=_judged(10, 15), planned_cm=15, nursery=_judged(28, 42), raft=_judged(28, 42),
          ec=_judged(1.4, 2.2), ph=_judged(6.0, 6.5), root=_judged(16, 22), dli=_judged(12, 16),
          mass=_judged(15, 40), water=_judged(0.05, 0.12), pot=POT, per_cell=_judged(8, 15),
          habit="clump, cut again and again", fitness="good", stage="half grown"),
    _crop("watercress", "Watercress", spacing=_memory(10, 15), planned_cm=15,
          nursery=_memory(7, 10, EXTENSION, "from a cutting"), raft=_memory(21, 28),
          ec=_memory(0.4, 3.2, f"{EXTENSION}; the high end: {BENKO}, abstract",
                     "growers keep 0.4 to 1.8; in a floating trial of 2.5 and 3.2 the bed bore most at 2.5, single "
                     "plants at 3.2"),
          ph=_memory(6.0, 6.8), root=_memory(12, 20), dli=_memory(10, 15),
          mass=_memory(20, 40, EXTENSION, f"7 g where sown dense: {BENKO}, abstract"),
          water=_judged(0.15, 0.30), pot=_usual(25, 50), habit="mat, cut again and again", begins="cutting",
          fitness="good", why_fit="in cool, clean, moving water", stage="half grown"),
    _crop("celery", "Celery", spacing=_memory(20, 30), planned_cm=25, nursery=_memory(42, 56),
          raft=_read(80, 90, CELERY, "as seed lists give it, usually from transplanting"),
          ec=_read(1.8, 2.4, SHARMA), ph=_memory(6.0, 6.5, EXTENSION, "6.5 in Sharma and others 2018"),
          root=_memory(16, 21), dli=_memory(14, 18),
          mass=_memory(400, 700, EXTENSION, "leaf celery 32 to 40 g (Thuy Le Thi and others 2021, abstract)"),
          water=_judged(0.40, 0.80), pot=_usual(75, 75), habit="one head, a long crop",
          fitness="possible", stage="large leaf"),
    _crop("strawberry", "Strawberry", spacing=_memory(20, 30), planned_cm=25,
          nursery=_judged(7, 14, "a bought plug or bare-root plant is only settled in"),
          raft=_memory(60, 90, EXTENSION, "to the first fruit"),
          ec=_read(0.8, 2.2, f"{SHARMA}; {GROWERS}, quoted second hand", "1.8 to 2.2 in the table, 0.8 to 1.4 in the "
                                                                         "guide"),
          ph=_read(5.5, 6.5, f"{SHARMA}; {GROWERS}, quoted second hand", "6.0 in the table"),
          root=_memory(15, 20), dli=_memory(17, 25),
          mass=_memory(200, 500, EXTENSION, "fruit of one plant in a season"),
          water=_judged(0.20, 0.50), pot=_usual(75, 75), habit="crown must stay dry", fitness="poor",
          why_fit="the crown rots when it is wet", begins="plug", stage="large leaf"),
    _crop("tomato", "Tomato", spacing=_copied(40, 60, FAO), planned_cm=50, nursery=_memory(28, 42, FAO),
          raft=_copied(50, 70, FAO, "to the first fruit"), ec=_read(2.0, 4.0, SHARMA),
          ph=_copied(5.5, 6.5, FAO, "6.0 to 6.5 in Sharma and others 2018"),
          root=_memory(18, 24), dli=_memory(20, 30), mass=_memory(3000, 3000, EXTENSION, "fruit, or more"),
          water=_judged(1.5, 3.0), pot=_judged(150, 150, "a bucket of its own"), habit="tall vine", fitness="no",
          why_fit="a vine needs a bucket of its own and a frame", stage="fruiting"),
    _crop("pepper", "Sweet pepper", spacing=_copied(30, 60, FAO), planned_cm=45, nursery=_memory(42, 56, FAO),
          raft=_copied(60, 95, FAO, "to the first fruit"),
          ec=_read(1.5, 3.0, SHARMA.replace("table 1", "text"),
                   "1.5 young, 2 and 3 in fruit; its table prints 0.8 to 1.8"),
          ph=_copied(5.5, 6.5, FAO, "5.5 to 6.0 in Sharma and others 2018"),
          root=_copied(15, 20, FAO, "printed for the roots"), dli=_memory(20, 30),
          mass=_memory(1500, 1500, EXTENSION, "fruit, or more"),
          water=_judged(1.0, 2.0), pot=_judged(150, 150, "a bucket of its own"), habit="tall bush", fitness="no",
          why_fit="it needs a bucket of its own and a stake", stage="fruiting"),
    _crop("cucumber", "Cucumber", spacing=_memory(30, 60, FAO), planned_cm=50, nursery=_memory(21, 28, FAO),
          raft=_memory(55, 65, FAO, "to the first fruit"),
          ec=_read(1.7, 2.7, f"{SHARMA}; H. Resh, quoted second hand", "1.7 to 2.0 in the table, 2.2 to 2.7 by Resh"),
          ph=_read(5.0, 6.0, f"{SHARMA}; H. Resh, quoted second hand", "5.0 to 5.5 in the table, 5.5 to 6.0 by Resh"),
          root=_memory(20, 24), dli=_memory(20, 30),
          mass=_memory(4000, 4000, EXTENSION, "fruit, or more"), water=_judged(2.0, 4.0),
          pot=_judged(150, 150, "a bucket of its own"), habit="tall vine", fitness="no",
          why_fit="a vine needs a bucket of its own and a frame", stage="fruiting"),
)
BY_KEY: dict[str, Crop] = {crop.key: crop for crop in CROPS}
REPEAT = frozenset(crop.key for crop in CROPS if "again" in crop.habit.text)
CELLS = ("spacing", "planned_spacing", "nursery", "raft", "ec", "ph", "root", "dli", "mass", "water", "pot", "per_cell")
WORDS = ("habit", "fitness", "stage", "begins")
