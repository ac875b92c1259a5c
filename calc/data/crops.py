"""What each raft crop asks for: ranges as sources give them, every cell with its own source and status."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from ..relations.base import MEMORY, PRACTICE, PUBLISHED

JUDGEMENT = "engineering judgement, no source"
INCH, CM, GRAM, LITRE, MM = 0.0254, 0.01, 1e-3, 1e-3, 1e-3

FAO = "FAO Fisheries and Aquaculture Technical Paper 589 (2014), Appendix 1"
OSU = "Oklahoma State University Extension HLA-6442, table of EC and pH"
CORNELL = "Cornell CEA lettuce handbook"
SPINACH = "Cornell CEA spinach handbook (2013)"
WALTERS = "Walters & Currey 2018, HortScience 53(9):1319, abstract"
CURREY = "Currey, Walters & Flax 2019, Agronomy 9(7):389, abstract"
ROOT_STUDY = "a glasshouse study of root temperature, 1992 to 1994, abstract"
EXTENSION = "general extension practice"
LIKE = "taken from like plants in this table"


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
    status: str = MEMORY
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
    begins: Words = Words("seed", "how the crop is raised", PRACTICE)
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
    return Cell(low, high, source, JUDGEMENT, note)


def _read(low: float, high: float, source: str, note: str = "") -> Cell:
    return Cell(low, high, source, PUBLISHED, note)


def _in(unit: float, cell: Cell) -> Cell:
    """The same cell, typed in another unit than the base unit."""
    return Cell(cell.low * unit, cell.high * unit, cell.source, cell.status, cell.note)


def _crop(key: str, name: str, *, spacing: Cell, planned_cm: float, mass: Cell, water: Cell, pot: Cell, habit: str,
          fitness: str, stage: str, why_fit: str = "", fit_source: str = EXTENSION, fit_status: str = MEMORY,
          per_cell: Cell | None = None, begins: str = "seed", **cells: Cell) -> Crop:
    """Spacing in cm, mass in g, water in L and pot in mm, as tables print them; all else in base units."""
    planned = _judged(planned_cm, planned_cm, "a round figure within the range of spacing")
    return Crop(key, name, _in(CM, spacing), _in(CM, planned), mass=_in(GRAM, mass), water=_in(LITRE, water),
                pot=_in(MM, pot), habit=Words(habit), fitness=Words(fitness, fit_source, fit_status, why_fit),
                stage=Words(stage, "by the size of the plant at harvest", JUDGEMENT),
                per_cell=per_cell or _memory(1, 1), begins=Words(begins, "how the crop is raised", PRACTICE), **cells)


POT = _memory(50, 50, EXTENSION, "2 in")
HERB_DLI = "herbs 12 to 18"
NO_EFFECT = "0.5 to 4 mS/cm were tested and made no difference to growth"

CROPS: tuple[Crop, ...] = (
    _crop("leaf lettuce", "Leaf lettuce", spacing=_memory(18, 25, FAO), planned_cm=20,
          nursery=_memory(10, 14, FAO), raft=_memory(21, 28, FAO), ec=_memory(1.2, 1.8, OSU),
          ph=_memory(5.5, 6.5, EXTENSION, "Oklahoma State prints 6.0 to 7.0, as for soil"),
          root=_memory(18, 24, EXTENSION, f"21 to 24 C grew well, less above 26 C: {ROOT_STUDY}"),
          dli=_memory(12, 17, CORNELL), mass=_memory(120, 180, CORNELL), water=_memory(0.10, 0.25), pot=POT,
          habit="loose head, cut once", fitness="excellent", stage="head"),
    _crop("butterhead", "Butterhead lettuce", spacing=_memory(16, 18, CORNELL, "38 plants to a square metre"),
          planned_cm=17, nursery=_memory(11, 11, CORNELL), raft=_memory(24, 24, CORNELL, "10 close, then 14 at full "
                                                                                         "spacing"),
          ec=_memory(1.2, 1.8, OSU, "the Cornell handbook keeps 1.15 to 1.25 above the source water's own"),
          ph=_memory(5.6, 6.0, CORNELL), root=_memory(18, 25, CORNELL, "the low end as for leaf lettuce"),
          dli=_memory(12, 17, CORNELL, "17 is the handbook's aim; the low end as for leaf lettuce"),
          mass=_memory(150, 150, CORNELL, "5 oz"), water=_memory(0.10, 0.20), pot=POT,
          habit="one head, cut once", fitness="excellent", fit_source=CORNELL, stage="head"),
    _crop("romaine", "Romaine (cos) lettuce", spacing=_memory(20, 25), planned_cm=22, nursery=_memory(14, 14),
          raft=_memory(28, 35), ec=_memory(1.2, 1.8, OSU), ph=_memory(5.5, 6.5), root=_memory(18, 22),
          dli=_memory(14, 17), mass=_memory(200, 300), water=_judged(0.15, 0.30), pot=POT,
          habit="upright head, cut once", fitness="excellent", stage="head"),
    _crop("basil", "Sweet basil", spacing=_read(15, 25, FAO), planned_cm=20, nursery=_read(14, 21, FAO),
          raft=_read(21, 28, FAO, "to the first cut"),
          ec=_judged(1.0, 1.6, "a sparing feed", NO_EFFECT), ec_trial=_read(0.5, 4.0, WALTERS), ph=_read(5.5, 6.5, FAO),
          root=_read(20, 25, FAO, "printed as the best range of temperature; 18 to 30 C is borne"),
          dli=_memory(12, 18, HERB_DLI, f"15 gave 144 % more than 7: {WALTERS}"), mass=_memory(30, 80),
          water=_judged(0.15, 0.40), pot=POT, habit="bush, cut again and again", fitness="excellent",
          stage="half grown", fit_source=FAO),
    _crop("kale", "Kale", spacing=_memory(20, 30), planned_cm=25, nursery=_memory(14, 21), raft=_memory(28, 40),
          ec=_memory(1.2, 2.0), ph=_memory(5.5, 6.5), root=_memory(18, 22), dli=_memory(12, 17),
          mass=_memory(80, 150), water=_judged(0.15, 0.30), pot=POT, habit="leaves picked again and again",
          fitness="good", stage="large leaf"),
    _crop("chard", "Swiss chard", spacing=_memory(30, 30, FAO, "baby leaf 10 to 15 cm"), planned_cm=30,
          nursery=_memory(14, 21, FAO), raft=_memory(25, 35, FAO), ec=_memory(1.8, 2.3),
          ph=_memory(6.0, 6.5, EXTENSION, "FAO 589 prints 6.0 to 7.5"), root=_memory(16, 24, FAO),
          dli=_memory(12, 17), mass=_memory(100, 200), water=_judged(0.15, 0.30), pot=POT,
          habit="leaves picked again and again", fitness="good", stage="large leaf"),
    _crop("pak choi", "Pak choi", spacing=_memory(15, 25), planned_cm=20, nursery=_memory(10, 14),
          raft=_memory(21, 30), ec=_memory(1.5, 2.0, OSU),
          ph=_memory(6.0, 6.5, EXTENSION, "Oklahoma State prints 7.0, as for soil"),
          root=_read(21, 24, ROOT_STUDY, "growth falls above 26 C"), dli=_memory(12, 17), mass=_memory(100, 200),
          water=_judged(0.15, 0.25), pot=POT, habit="one head, cut once", fitness="excellent", stage="head"),
    _crop("spinach", "Spinach, bunching", spacing=_memory(13, 18, SPINACH, "30 to 60 plants to a square metre; baby "
                                                                            "leaf is sown dense instead"),
          planned_cm=15, nursery=_memory(10, 14, SPINACH), raft=_memory(28, 35, SPINACH, "baby leaf 14 to 21"),
          ec=_memory(1.8, 2.3, OSU), ph=_memory(5.5, 6.5, SPINACH, "Oklahoma State prints 6.0 to 7.0"),
          root=_memory(16, 20, SPINACH, "18 C or below keeps root rot down best"), dli=_memory(12, 17, SPINACH),
          mass=_memory(40, 80), water=_judged(0.05, 0.10), pot=_memory(25, 50), habit="cut once", fitness="risky",
          why_fit="root rot (Pythium aphanidermatum) is what stops it", fit_status=PUBLISHED,
          fit_source="Cornell, NYSERDA Agreement 8249 report 2007, abstract", stage="half grown"),
    _crop("arugula", "Arugula (rocket)", spacing=_memory(8, 15), planned_cm=12,
          nursery=_read(14, 18, "a hobby hydroponics text by H. Resh, abstract"), raft=_memory(14, 21),
          ec=_memory(0.8, 1.8), ph=_memory(6.0, 6.5), root=_memory(16, 22), dli=_memory(10, 15),
          mass=_memory(20, 50, EXTENSION, "a clump"), water=_judged(0.05, 0.12), pot=_memory(25, 50),
          per_cell=_judged(4, 6, "several seeds to a cell"), habit="clump, one to three cuts", fitness="good",
          stage="half grown"),
    _crop("mizuna", "Mizuna and leaf mustard", spacing=_judged(15, 20), planned_cm=18, nursery=_judged(10, 14),
          raft=_judged(21, 28), ec=_judged(1.2, 2.0), ph=_judged(5.8, 6.5), root=_judged(16, 22),
          dli=_judged(12, 16), mass=_judged(60, 150), water=_judged(0.08, 0.20), pot=POT,
          per_cell=_judged(2, 4), habit="clump, one to three cuts", fitness="good", fit_status=JUDGEMENT,
          fit_source=LIKE, stage="half grown"),
    _crop("endive", "Endive and escarole", spacing=_judged(22, 30), planned_cm=25, nursery=_judged(14, 18),
          raft=_judged(30, 42), ec=_judged(1.4, 2.0), ph=_judged(5.5, 6.5), root=_judged(16, 22),
          dli=_judged(12, 17), mass=_judged(200, 350), water=_judged(0.15, 0.30), pot=POT,
          habit="one head, cut once", fitness="good", fit_status=JUDGEMENT, fit_source=LIKE, stage="head"),
    _crop("mint", "Mint", spacing=_memory(20, 30), planned_cm=25, nursery=_memory(10, 14, EXTENSION, "from a cutting"),
          raft=_memory(28, 35, EXTENSION, "then every three to four weeks"), ec=_memory(1.6, 2.4),
          ph=_memory(5.5, 6.5), root=_memory(18, 24), dli=_memory(12, 16), mass=_memory(50, 100),
          water=_judged(0.20, 0.40), pot=_memory(50, 75), habit="spreads, cut again and again", fitness="good",
          why_fit="its roots invade: give it a raft of its own", begins="cutting", stage="large leaf"),
    _crop("parsley", "Parsley", spacing=_memory(15, 30, FAO), planned_cm=20,
          nursery=_memory(21, 28, FAO, "8 to 10 days to come up"), raft=_memory(20, 30, FAO, "to the first picking"),
          ec=_memory(1.8, 2.2, EXTENSION, NO_EFFECT), ec_trial=_read(0.5, 4.0, CURREY), ph=_memory(5.5, 6.5),
          root=_memory(18, 22), dli=_memory(12, 18, HERB_DLI, f"18 gave 120 % more than 7: {CURREY}"),
          mass=_read(11, 24, CURREY, "at light of 7 and 18 mol/m2/d"), water=_judged(0.10, 0.20), pot=POT,
          per_cell=_judged(3, 5), habit="picked again and again", fitness="good", stage="half grown"),
    _crop("cilantro", "Cilantro (coriander)", spacing=_memory(10, 15), planned_cm=15, nursery=_memory(14, 21),
          raft=_memory(21, 28), ec=_memory(1.2, 1.8, EXTENSION, NO_EFFECT), ec_trial=_read(0.5, 4.0, CURREY),
          ph=_memory(5.8, 6.5), root=_memory(18, 22),
          dli=_memory(12, 18, HERB_DLI, f"18 gave 154 % more than 7: {CURREY}"),
          mass=_read(14, 35, CURREY, "at light of 7 and 18 mol/m2/d"), water=_judged(0.08, 0.15), pot=POT,
          per_cell=_memory(5, 10), habit="one or two cuts; bolts above 24 to 27 C", fitness="good",
          stage="half grown"),
    _crop("dill", "Dill", spacing=_judged(10, 15), planned_cm=15, nursery=_judged(14, 18), raft=_judged(21, 28),
          ec=_judged(1.0, 1.8, LIKE, NO_EFFECT), ec_trial=_read(0.5, 4.0, CURREY), ph=_judged(5.5, 6.5),
          root=_judged(18, 22), dli=_memory(12, 18, HERB_DLI), mass=_judged(15, 40), water=_judged(0.08, 0.15),
          pot=POT, per_cell=_judged(4, 8), habit="one or two cuts", fitness="good", fit_status=JUDGEMENT,
          fit_source=LIKE, stage="half grown"),
    _crop("chives", "Chives", spacing=_judged(10, 15), planned_cm=15, nursery=_judged(28, 42), raft=_judged(28, 42),
          ec=_judged(1.4, 2.2), ph=_judged(6.0, 6.5), root=_judged(16, 22), dli=_judged(12, 16),
          mass=_judged(15, 40), water=_judged(0.05, 0.12), pot=POT, per_cell=_judged(8, 15),
          habit="clump, cut again and again", fitness="good", fit_status=JUDGEMENT, fit_source=LIKE,
          stage="half grown"),
    _crop("watercress", "Watercress", spacing=_memory(10, 15), planned_cm=15,
          nursery=_memory(7, 10, EXTENSION, "from a cutting"), raft=_memory(21, 28), ec=_memory(0.4, 1.8),
          ph=_memory(6.0, 6.8), root=_memory(12, 20), dli=_memory(10, 15), mass=_memory(20, 40),
          water=_judged(0.15, 0.30), pot=_memory(25, 50), habit="mat, cut again and again", begins="cutting",
          fitness="good", why_fit="in cool, clean, moving water", stage="half grown"),
    _crop("celery", "Celery", spacing=_memory(20, 30), planned_cm=25, nursery=_memory(42, 56), raft=_memory(60, 90),
          ec=_memory(1.8, 2.4, OSU), ph=_memory(6.0, 6.5), root=_memory(16, 21), dli=_memory(14, 18),
          mass=_memory(400, 700), water=_judged(0.40, 0.80), pot=_memory(75, 75), habit="one head, a long crop",
          fitness="possible", stage="large leaf"),
    _crop("strawberry", "Strawberry", spacing=_memory(20, 30), planned_cm=25,
          nursery=_judged(7, 14, "a bought plug or bare-root plant is only settled in"),
          raft=_memory(60, 90, EXTENSION, "to the first fruit"),
          ec=_memory(1.0, 1.4, EXTENSION, "Oklahoma State prints 1.8 to 2.2"), ph=_memory(5.5, 6.0),
          root=_memory(15, 20), dli=_memory(17, 25),
          mass=_memory(200, 500, EXTENSION, "fruit of one plant in a season"),
          water=_judged(0.20, 0.50), pot=_memory(75, 75), habit="crown must stay dry", fitness="poor",
          why_fit="the crown rots when it is wet", begins="plug", stage="large leaf"),
    _crop("tomato", "Tomato", spacing=_memory(40, 60, FAO), planned_cm=50, nursery=_memory(28, 42, FAO),
          raft=_memory(50, 70, FAO, "to the first fruit"), ec=_memory(2.0, 4.0, OSU), ph=_memory(5.5, 6.5, OSU),
          root=_memory(18, 24), dli=_memory(20, 30), mass=_memory(3000, 3000, EXTENSION, "fruit, or more"),
          water=_judged(1.5, 3.0), pot=_judged(150, 150, "a bucket of its own"), habit="tall vine", fitness="no",
          why_fit="a vine needs a bucket of its own and a frame", stage="fruiting"),
    _crop("pepper", "Sweet pepper", spacing=_memory(30, 60, FAO), planned_cm=45, nursery=_memory(42, 56, FAO),
          raft=_memory(60, 95, FAO, "to the first fruit"),
          ec=_memory(2.0, 2.5, "Dutch practice", "Oklahoma State prints 0.8 to 1.8"), ph=_memory(5.5, 6.5),
          root=_memory(18, 24), dli=_memory(20, 30), mass=_memory(1500, 1500, EXTENSION, "fruit, or more"),
          water=_judged(1.0, 2.0), pot=_judged(150, 150, "a bucket of its own"), habit="tall bush", fitness="no",
          why_fit="it needs a bucket of its own and a stake", stage="fruiting"),
    _crop("cucumber", "Cucumber", spacing=_memory(30, 60, FAO), planned_cm=50, nursery=_memory(21, 28, FAO),
          raft=_memory(55, 65, FAO, "to the first fruit"), ec=_memory(1.7, 2.2, OSU),
          ph=_memory(5.0, 6.0, OSU, "FAO 589 prints 5.5 to 6.5"), root=_memory(20, 24), dli=_memory(20, 30),
          mass=_memory(4000, 4000, EXTENSION, "fruit, or more"), water=_judged(2.0, 4.0),
          pot=_judged(150, 150, "a bucket of its own"), habit="tall vine", fitness="no",
          why_fit="a vine needs a bucket of its own and a frame", stage="fruiting"),
)
BY_KEY: dict[str, Crop] = {crop.key: crop for crop in CROPS}
REPEAT = frozenset(crop.key for crop in CROPS if "again" in crop.habit.text)
CELLS = ("spacing", "planned_spacing", "nursery", "raft", "ec", "ph", "root", "dli", "mass", "water", "pot", "per_cell")
WORDS = ("habit", "fitness", "stage", "begins")
