"""What of the plan would have said what the log says: a change that a keeper may agree to, tried before it is offered.

Water drunk, EC and pH each hang on one answer of the plan that nobody knows before a bath runs: the water of a plant,
the nutrients taken with each liter, the nitrogen that a plant eats.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from .. import units
from ..figures import number
from ..numeric.theil_sen import Slope
from ..plan import Plan
from ..solve import Design
from .bath import Bath

# The plan is left alone where its drift lies within so much of the measured one: engineering judgment, no source.
NEAR_DRIFT = 0.25
# Beyond these it is no plant that takes it, but a leak, a meter, or salt that gathers: engineering judgment, no source.
MOST_UPTAKE_MS_CM, MOST_NITROGEN_KG, MOST_STRENGTH = 3.0, 1e-4, 2.0


@dataclass(frozen=True)
class Change:
    """A change of the plan: the words of its button, what comes of it, and the answers as a reader would type them."""

    act: str
    consequence: str
    changes: Mapping[str, str]


def tried(bath: Bath, changes: Mapping[str, str]) -> Design | None:
    """The plan solved with a change; ``None`` where it brings a fault."""
    after = bath.memory.copy().solve(Plan({**bath.plan.lasting(), **changes}))
    return None if after.faults else after


def _number(design: Design, key: str) -> float | None:
    found = design.value(key)
    return float(found) if isinstance(found, (int, float)) and not isinstance(found, bool) else None


def model(design: Design, name: str) -> float | None:
    """What a plan says of the drift of pH or EC, a day."""
    if name == "ph":
        rows, aim = design.result("acidity.drift") or [], _number(design, "acidity.target_ph")
        return None if len(rows) < 2 or aim is None else float(rows[1]["ph"]) - aim
    if name == "ec":
        rows = design.result("use.drift") or []
        # Just before a top-up, against just after: what the drinking itself does.
        if len(rows) > 1 and rows[1]["day"] > rows[0]["day"]:
            return float(rows[1]["plain_before"] - rows[0]["plain"]) / float(rows[1]["day"] - rows[0]["day"])
    return None


def water(bath: Bath, used_m3_d: float) -> Change | None:
    """The water of a plant as it was measured at the bath: what evaporates is in it."""
    plant, drunk = bath.number("use.per_plant"), bath.number("use.per_day")
    if not plant or not drunk:
        return None
    said = units.show(used_m3_d, "volume", bath.system, "gal", "L")
    changes = {"use.basis": "own",
               "use.litres_per_plant": units.show(plant * used_m3_d / drunk, "volume", bath.system, "fl oz", "mL")}
    after = tried(bath, changes)
    if after is None:
        return None
    before, then = bath.design.shown("use.days_to_top_up"), after.shown("use.days_to_top_up")
    if not then:
        return None
    return Change(f"Use {said} a day in the plan",
                  f"{'the water lasts' if bath.still else 'top up within'} {then}"
                  + (f" in place of {before}" if before and before != then else ""), changes)


def _differs(line: Slope, planned: float) -> bool:
    """Whether the plan's drift lies outside what was measured, by more than a little."""
    return not line.low <= planned <= line.high and abs(planned - line.slope) > NEAR_DRIFT * abs(line.slope)


def _again(bath: Bath, name: str, key: str, line: Slope, planned: float, now: float, first: float,
           typed: Callable[[float], str]) -> float | None:
    """A first guess of an answer put right once more, by the drift that the plan has with it."""
    if first <= 0.0 or first == now:
        return None
    after = tried(bath, {key: typed(first)})
    then = None if after is None else model(after, name)
    if then is None or then == planned:
        return None
    return now + (first - now) * (line.slope - planned) / (then - planned)


def _drifts_so(after: Design | None, name: str, line: Slope) -> bool:
    """Whether a plan drifts as was measured."""
    then = None if after is None else model(after, name)
    return then is not None and abs(then - line.slope) <= NEAR_DRIFT * abs(line.slope)


def ec(bath: Bath, line: Slope) -> Change | None:
    """Nutrients taken with each liter, from the slope of the EC: (EC - taken) times liters a day over all liters."""
    planned, drunk, volume = model(bath.design, "ec"), bath.number("use.per_day"), bath.working
    uptake = bath.sheet.input_if_any("use.uptake")
    if planned is None or not drunk or not volume or uptake is None or not _differs(line, planned):
        return None
    first = max(uptake + (planned - line.slope) * volume / drunk, 0.1 * uptake)
    taken = _again(bath, "ec", "use.uptake", line, planned, uptake, min(first, MOST_UPTAKE_MS_CM),
                   lambda value: f"{value:.4g} mS/cm")
    if taken is None or not 0.0 < taken <= MOST_UPTAKE_MS_CM:
        return None
    taken = float(f"{taken:.2g}")
    changes = {"use.uptake": f"{number(taken, 2)} mS/cm", **_holding(bath, uptake, taken)}
    after = tried(bath, changes)
    if after is None or not _drifts_so(after, "ec", line):
        return None
    weaker = f"top up at {changes['use.topup_strength']} of full strength" if "use.topup_strength" in changes else (
        f"top-up that holds it: {after.shown('use.hold_ec')}")
    return Change(f"Use {number(taken, 2)} mS/cm taken with each liter in the plan", weaker, changes)


def _holding(bath: Bath, uptake: float, taken: float) -> dict[str, str]:
    """The strength of the top-up that brings what plants take; nothing where the plan tops up with plain water."""
    strength = bath.sheet.input_if_any("use.topup_strength")
    topup, hold = bath.number("use.topup_ec"), bath.number("use.hold_ec")
    if not strength or topup is None or hold is None:
        return {}
    full = (topup - (hold - uptake)) / strength
    wanted = round(taken / full * 20.0) / 20.0 if full > 0.0 else 0.0
    return {"use.topup_strength": f"{wanted * 100.0:.0f} %"} if 0.0 < wanted <= MOST_STRENGTH else {}


def ph(bath: Bath, line: Slope) -> Change | None:
    """Nitrogen that a plant eats, from the slope of the pH: what roots give off for it moves the pH."""
    planned, eaten_kg = model(bath.design, "ph"), bath.sheet.input_if_any("acidity.nitrogen_uptake")
    rows = bath.design.result("acidity.drift") or []
    topped_up = bath.number("acidity.topup_charge")
    if not planned or not eaten_kg or len(rows) < 2 or topped_up is None or not _differs(line, planned):
        return None
    eaten, whole = float(rows[1]["eaten"]), float(rows[1]["all"])
    if not eaten:
        return None
    # By the charges first, then once more by what the plan says with that.
    first = eaten_kg * (whole * line.slope / planned - topped_up) / eaten
    second = _again(bath, "ph", "acidity.nitrogen_uptake", line, planned, eaten_kg, min(first, MOST_NITROGEN_KG),
                    _milligrams)
    if second is None or not 0.0 < second <= MOST_NITROGEN_KG:
        return None
    changes = {"acidity.nitrogen_uptake": _milligrams(second)}
    after = tried(bath, changes)
    if after is None or not _drifts_so(after, "ph", line):
        return None
    return Change(f"Use {_milligrams(second)} of nitrogen a plant a day in the plan", _acid(bath, rows, after), changes)


def _milligrams(mass_kg: float) -> str:
    return f"{number(mass_kg * 1e6, 2)} mg"


def _acid(bath: Bath, rows: list[dict[str, float | None]], after: Design) -> str:
    """What the change means in the jug: acid for a week."""
    before, then = rows[1]["volume"], (after.result("acidity.drift") or rows)[1]["volume"]
    if not before or not then:
        return "the plan's drift is then the one measured"

    def week(volume_m3: float) -> str:
        return units.show(volume_m3 * 7.0, "volume", bath.system, "mL", "mL")
    return f"acid for a week: {week(then)} in place of {week(before)}"
