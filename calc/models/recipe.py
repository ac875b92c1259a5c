"""From an aim in mg/L to grams on a scale: the reckoning of a feed, apart from how it is asked and shown."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from functools import lru_cache
from math import sqrt

from ..data import salts as data
from ..data.salts import MICROS, NH4
from ..numeric import nnls
from ..relations.feed import unbounded_element

# How much more a floor or ceiling counts than an aim, and how often it is pressed on until it is met.
FIRM, MOST_SHIFTS = 1e3, 6
BOUNDS = ("sulfur", "ammonium")
CLOSE = 1e-6
MOST_TRIED = 3
TRACE_MG_L = 1e-3
LEAST_SHARE, USUAL_N_MG_L = 0.01, 100.0
SHORT, OVER = 0.97, 1.05


# A bound as a row of the problem: one coefficient for each source, and what they are to come to.
Bound = tuple[list[float], float]


@dataclass(frozen=True)
class Source:
    """Something that brings nutrients: mass share of each element ("N" in all, and its part as ammonium)."""

    key: str
    name: str
    shares: tuple[tuple[str, float], ...]

    @property
    def brings(self) -> dict[str, float]:
        """Mass share by element."""
        return dict(self.shares)

    @property
    def is_micro(self) -> bool:
        """Whether it is there for trace elements alone."""
        brings = self.brings
        return (any(brings.get(element, 0.0) > 0.0 for element in MICROS)
                and all(brings.get(element, 0.0) == 0.0 for element in ("N", "P", "K", "Ca", "Mg")))


@dataclass(frozen=True)
class Aim:
    """What is wanted in mg/L, what water and acid bring already, and the bounds: sulfur in mg/L, ammonium as a share.

    ``micro_weight`` is how much a trace element counts beside a main one.
    """

    wanted: tuple[tuple[str, float], ...]
    water: tuple[tuple[str, float], ...] = ()
    sulfur_floor_mg_l: float = 0.0
    ammonium_ceiling: float = 1.0
    micro_weight: float = 1.0


@dataclass(frozen=True)
class Fit:
    """Grams per litre by source, mg/L reached with the water's share, the miss, stand-ins and bounds not kept."""

    grams_l: dict[str, float]
    reached: dict[str, float]
    miss: float
    others: tuple[str, ...] = ()
    broken: tuple[str, ...] = field(default=())


def salt_source(key: str) -> Source:
    """A salt of the table as a source."""
    return Source(key, data.BY_KEY[key].name, tuple(data.shares(key).items()))


def label_source(key: str, name: str, percent: dict[str, float], oxides: tuple[str, ...]) -> Source:
    """A product by its label: ``percent`` by element, of which those named by ``oxides`` are given as oxides."""
    found = {element: share / 100.0 for element, share in percent.items()}
    for oxide in oxides:
        element = data.OXIDES[oxide][0]
        if element in found:
            found[element] *= data.oxide_share(oxide)
    return Source(key, name, tuple(found.items()))


def bring(sources: Iterable[Source], grams_l: dict[str, float],
          water: dict[str, float] | None = None) -> dict[str, float]:
    """Elements in mg/L that these grams per litre bring, on top of the water's own."""
    found = dict(water or {})
    for source in sources:
        grams = grams_l.get(source.key, 0.0)
        if grams:
            for element, share in source.shares:
                found[element] = found.get(element, 0.0) + unbounded_element(grams, share)
    return found


def _weight(element: str, amount: float, aim: Aim) -> float:
    return (aim.micro_weight if element in MICROS else 1.0) / amount


def miss(reached: dict[str, float], aim: Aim) -> float:
    """How far a mix is from its aim: the root of the squared misses, each as a share of what is wanted."""
    return sqrt(sum((_weight(element, amount, aim) * (reached.get(element, 0.0) - amount)) ** 2
                    for element, amount in aim.wanted if amount > 0.0))


def _bounds(sources: tuple[Source, ...], aim: Aim, water: dict[str, float],
            ) -> tuple[dict[str, Bound], list[str]]:
    """The floor and ceiling as rows: name -> (one coefficient per source, the aim), and those that cannot be kept."""
    rows: dict[str, Bound] = {}
    broken: list[str] = []
    floor = aim.sulfur_floor_mg_l
    if floor > water.get("S", 0.0):
        # A trace salt's sulfate must never be piled up for the sake of its sulfur.
        row = [0.0 if source.is_micro else 1000.0 * source.brings.get("S", 0.0) / floor for source in sources]
        if any(row):
            rows["sulfur"] = (row, 1.0 - water.get("S", 0.0) / floor)
        else:
            broken.append("sulfur")
    share = aim.ammonium_ceiling
    if share < 1.0:
        # As a share of the ammonium that the aim would allow, so that it weighs like the other aims.
        most = max(share, LEAST_SHARE) * dict(aim.wanted).get("N", USUAL_N_MG_L)
        row = [1000.0 * (source.brings.get(NH4, 0.0) - share * source.brings.get("N", 0.0)) / most
               for source in sources]
        if any(value > 0.0 for value in row):
            rows["ammonium"] = (row, (share * water.get("N", 0.0) - water.get(NH4, 0.0)) / most)
    return rows, broken


def _keeps(name: str, reached: dict[str, float], aim: Aim) -> bool:
    if name == "sulfur":
        return reached.get("S", 0.0) >= aim.sulfur_floor_mg_l * (1.0 - 1e-4)
    # A trace of either is none: where next to no nitrogen can be had, its share means nothing.
    return reached.get(NH4, 0.0) <= aim.ammonium_ceiling * reached.get("N", 0.0) * (1.0 + 1e-4) + TRACE_MG_L


@lru_cache(maxsize=256)
def fit(aim: Aim, sources: tuple[Source, ...]) -> Fit:
    """Grams per litre of the sources that come nearest the aim, each element's miss counted as a share of its aim.

    Where several answers are as good, one with few sources. A bound is kept as long as some source can keep it.
    """
    found, problem, amounts, broken = _nearest(aim, sources)
    others = problem.others(amounts)
    if others:
        amounts = _fewer(problem, amounts, lambda tried: all(
            name in broken or _keeps(name, _reckon(sources, tried, aim).reached, aim) for name in BOUNDS))
        found = _reckon(sources, amounts, aim)
        others = problem.others(amounts)
    return Fit(found.grams_l, found.reached, found.miss, tuple(sources[place].name for place in others), broken)


def _may_serve(source: Source, wanted: dict[str, float]) -> bool:
    """Whether a source may be weighed at all: a trace salt never for its sulfate alone, with no trace of its wanted."""
    return not source.is_micro or any(source.brings.get(element, 0.0) > 0.0 for element in MICROS if element in wanted)


def _nearest(aim: Aim, sources: tuple[Source, ...]) -> tuple[Fit, nnls.Problem, list[float], tuple[str, ...]]:
    """A nearest mix, the problem that gave it, its amounts, and the bounds that could not be kept."""
    wanted = {element: amount for element, amount in aim.wanted if amount > 0.0}
    water = dict(aim.water)
    weights = {element: _weight(element, amount, aim) for element, amount in wanted.items()}
    brings = [source.brings if _may_serve(source, wanted) else {} for source in sources]
    columns = [[unbounded_element(1.0, one[element]) * weight if element in one else 0.0
                for element, weight in weights.items()] for one in brings]
    left = [(amount - water.get(element, 0.0)) * weights[element] for element, amount in wanted.items()]
    bounds, broken = _bounds(sources, aim, water)
    best: tuple[Fit, nnls.Problem, list[float]] | None = None
    # The best of all mixes keeps each bound either of itself or exactly: try each set of exact ones.
    for exact in ((), ("sulfur",), ("ammonium",), ("sulfur", "ammonium")):
        if any(name not in bounds for name in exact):
            continue
        problem, amounts = _exactly(columns, left, [bounds[name] for name in exact])
        found = _reckon(sources, amounts, aim)
        last = found, problem, amounts
        if all(_keeps(name, found.reached, aim) for name in bounds):
            if best is None or found.miss < best[0].miss:
                best = last
            if not exact:
                break
    found, problem, amounts = best or last
    return found, problem, amounts, (*broken, *(name for name in bounds if not _keeps(name, found.reached, aim)))


def _exactly(columns: list[list[float]], left: list[float],
             rows: list[Bound]) -> tuple[nnls.Problem, list[float]]:
    """A nearest mix that keeps these rows exactly, by the method of multipliers (Hestenes 1969, Powell 1969)."""
    shifts = [0.0] * len(rows)
    for _ in range(MOST_SHIFTS):
        problem = nnls.Problem([column + [FIRM * row[place] for row, _ in rows]
                                for place, column in enumerate(columns)],
                               left + [FIRM * (value + shift) for (_, value), shift in zip(rows, shifts, strict=True)])
        amounts, _ = problem.solve()
        off = [value - sum(part * amount for part, amount in zip(row, amounts, strict=True)) for row, value in rows]
        if all(abs(one) <= CLOSE for one in off):
            break
        shifts = [shift + one for shift, one in zip(shifts, off, strict=True)]
    return problem, amounts


def _reckon(sources: tuple[Source, ...], amounts: list[float], aim: Aim) -> Fit:
    grams = {source.key: amount for source, amount in zip(sources, amounts, strict=True)}
    reached = bring(sources, grams, dict(aim.water))
    return Fit(grams, reached, miss(reached, aim))


def _fewer(problem: nnls.Problem, amounts: list[float], keeps: Callable[[list[float]], bool]) -> list[float]:
    """An answer as good with as few columns as leaving them out one by one finds, each of which ``keeps`` allows."""
    allowed = list(range(len(amounts)))
    _, least = problem.solve(allowed)
    for place in sorted((one for one in allowed if amounts[one] > 0.0), key=lambda one: amounts[one]):
        trial = [one for one in allowed if one != place]
        tried, left = problem.solve(trial)
        used, before = sum(one > 0.0 for one in tried), sum(one > 0.0 for one in amounts)
        if left <= least + 1e-9 and used <= before and keeps(tried):
            allowed, amounts = trial, tried
    return amounts


def missed(found: Fit, aim: Aim) -> list[tuple[str, float, float]]:
    """Elements short of their aim by more than 3 % or over it by more than 5 %: (element, aim, reached)."""
    return [(element, amount, found.reached.get(element, 0.0)) for element, amount in aim.wanted
            if amount > 0.0 and not SHORT <= found.reached.get(element, 0.0) / amount <= OVER]


@lru_cache(maxsize=64)
def remedy(element: str, aim: Aim, sources: tuple[Source, ...]) -> str | None:
    """The unrestricted salt of the table that would best mend a shortage, or ``None`` where none halves it.

    Only the few that pull hardest at what is missing are tried.
    """
    if element not in MICROS:
        # Traces hardly touch the main elements, and a smaller sum is answered sooner.
        aim = replace(aim, wanted=tuple(pair for pair in aim.wanted if pair[0] not in MICROS))
        sources = tuple(source for source in sources if not source.is_micro)
    wanted = dict(aim.wanted)[element]
    now = _nearest(aim, sources)[0] if sources else Fit({}, dict(aim.water), miss(dict(aim.water), aim))
    short = wanted - now.reached.get(element, 0.0)
    lacks = {name: _weight(name, amount, aim) ** 2 * (amount - now.reached.get(name, 0.0))
             for name, amount in aim.wanted if amount > 0.0}
    owned = {source.key for source in sources}
    pulls = []
    for salt in data.SALTS:
        brings = data.shares(salt.key)
        if salt.key in owned or salt.restricted or not salt.advised or element not in brings:
            continue
        if element in MICROS or not data.is_micro(salt.key):
            length = sum((_weight(name, dict(aim.wanted)[name], aim) * share) ** 2
                         for name, share in brings.items() if name in lacks) ** 0.5
            pull = sum(share * lacks.get(name, 0.0) for name, share in brings.items()) / length
            if pull > 0.0:
                pulls.append((pull, salt.key, "Cl" in brings))
    best = None
    for _, key, chloride in sorted(pulls, reverse=True)[:MOST_TRIED]:
        then, *_ = _nearest(aim, (*sources, salt_source(key)))
        # A salt with chloride only where no other helps.
        rank = (chloride, then.miss)
        if (wanted - then.reached.get(element, 0.0) <= short / 2 and then.miss < now.miss - CLOSE
                and (best is None or rank < (best[0][0], best[0][1] - CLOSE))):
            best = rank, data.BY_KEY[key].name
    return best[1] if best else None


def charges(mg_l: dict[str, float], bicarbonate_mmol_l: float = 0.0) -> dict[str, float]:
    """Ions in mmol/L, by the argument names of the conductivity relation, for phosphate as at pH 5.5 to 6."""
    def mmol(name: str, mass: str | None = None) -> float:
        return max(mg_l.get(name, 0.0), 0.0) / data.ATOMIC_MASS[mass or name]
    ammonium = min(max(mg_l.get(NH4, 0.0), 0.0), mg_l.get("N", 0.0)) / data.ATOMIC_MASS["N"]
    return {"potassium": mmol("K"), "sodium": mmol("Na"), "ammonium": ammonium, "calcium": mmol("Ca"),
            "magnesium": mmol("Mg"), "nitrate": mmol("N") - ammonium, "chloride": mmol("Cl"),
            "sulfate": mmol("S"), "phosphate": mmol("P"), "bicarbonate": bicarbonate_mmol_l}


def trace_charges(mg_l: dict[str, float]) -> tuple[float, float]:
    """Charge in mmol/L that trace metals bring, positive and negative: iron as chelate, molybdenum as molybdate."""
    def mmol(name: str) -> float:
        return mg_l.get(name, 0.0) / data.ATOMIC_MASS[name]
    return 2.0 * (mmol("Mn") + mmol("Zn") + mmol("Cu")), mmol("Fe") + 2.0 * mmol("Mo")


def bottles_of(key: str) -> tuple[tuple[str, float, str], ...]:
    """Which bottle a salt goes into, with its share there and why: (bottle, share, reason)."""
    salt = data.BY_KEY[key]
    brings = data.shares(key)
    if salt.bottle == "A or B" and "Ca" not in brings:
        why = "agrees with both: half in each evens them out"
        return (("A", 0.5, why), ("B", 0.5, why))
    if "Ca" in brings:
        return (("A", 1.0, "calcium: kept from sulfate and phosphate, with which it turns to grit"),)
    if salt.bottle == "A":
        return (("A", 1.0, "iron chelate: kept from phosphate"),)
    why = "sulfate" if "S" in brings else "phosphate" if "P" in brings else "trace element, with its fellows"
    return (("B", 1.0, f"{why}: kept from calcium" if why in ("sulfate", "phosphate") else why),)


def rounded(grams: float, step_g: float) -> float:
    """What a scale with this step can weigh, in grams."""
    return round(grams / step_g) * step_g
