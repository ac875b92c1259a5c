"""Water, nutrients and acid of today in the order that their sums hold, each dose no larger at once than is safe."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import datetime, timedelta
from math import ceil, floor, log10

from .. import moments, units
from ..declare import Row
from ..figures import number
from ..solve import Design
from ..topics import scheme
from ..topics.feed.choices import SALTS
from ..topics.today.reading import why_no_sum
from ..topics.today.words import jug
from .acts import Act, Caution, Pour
from .bath import Bath
from .rounds import DRAIN

# Engineering judgment, no source: the most by which a day's nutrients raise the EC, the pours of one day and their
# distance, and the least share of all the water that is worth a top-up.
STEP_EC, MOST_POURS, APART_H, LEAST_SHARE = 0.5, 4, 2, 0.01
JUG_TEST = ("today.jug_volume", "today.jug_acid")
# Nobody is asked to pour or measure at night.
MORNING_H, NIGHT_H = 7, 22
SECOND_POUR_MIN = 30
GYPSUM = Caution("A and B never meet undiluted:", "they turn to gypsum.")
# Where a dose is poured, by what moves the water of a kind of bath.
WHERE = {scheme.CIRCULATING: "by the inlet with the pump running", scheme.AERATED: "over the bubbles",
         scheme.STILL: "a little here and there, stirred in"}
NEAR = {scheme.CIRCULATING: "near the inlet", scheme.AERATED: "where it is poured", scheme.STILL: "where it is poured"}
WHILE = {scheme.CIRCULATING: "when the pump runs", scheme.AERATED: "when the air runs", scheme.STILL: "then stir"}
# So much of a reservoir may be taken out before its pump stands dry (engineering judgment, no source).
RESERVOIR_SHARE = 0.7
# A level raised by more may hurt roots that breathe air: Kratky 2004, Acta Horticulturae 648: 83-89 (abstract read).
MOST_RISE_M = 0.02
SALTS_MEET = Caution("Each dissolved in a bucket of its own:", "strong, they turn to gypsum where they meet.")


def mixed_ec(now: float, plain: float, there: float, added: float) -> float:
    """EC in mS/cm after plain water was added: salts stay, the water is more."""
    return plain + (now - plain) * there / (there + added)


def round_down(value: float, digits: int = 2) -> float:
    """A dose to so many significant digits, never more than it was."""
    if value <= 0.0:
        return 0.0
    step = 10.0 ** (floor(log10(value)) - digits + 1)
    return floor(value / step + 1e-9) * step


def _ml(volume_m3: float, system: str) -> str:
    unit = "L" if volume_m3 >= 1e-3 else "mL"
    return units.show(volume_m3, "volume", system, unit, unit)


def _weighed(row: Row) -> bool:
    """Whether a row is a salt to weigh, and no bottle."""
    return bool(row.get("mass")) and not row.get("volume")


def _in_order(rows: list[Row]) -> list[Row]:
    """As they are poured: what holds calcium comes last where salts are weighed, bottles as the plan names them."""
    return sorted(rows, key=lambda row: _weighed(row) and "calcium" in str(row.get("what") or row.get("salt")).lower())


def _doses(rows: list[Row], share: float, system: str) -> str:
    """What to pour of each bottle or salt, in words and in order."""
    parts = []
    for row in _in_order(rows):
        amount = (_ml(row["volume"] * share, system) if row.get("volume") else
                  units.show(row["mass"] * share, "mass", system, "g", "g") if row.get("mass") else "")
        if amount:
            parts.append(f"{amount} of {row.get('what') or row.get('salt')}")
    return f"{', '.join(parts[:-1])}, stirred in, then {parts[-1]}" if len(parts) > 1 else "".join(parts)


def _whole_jug(extra: Mapping[str, str]) -> dict[str, str]:
    """The texts without half a jug test: until its other half is typed there is none."""
    return dict(extra) if all(key in extra for key in JUG_TEST) else {
        key: text for key, text in extra.items() if key not in JUG_TEST}


class Chemistry:
    """The water's part of today, from fresh readings: volumes first, then EC, then pH."""

    def __init__(self, bath: Bath, values: Mapping[str, float], now: datetime, extra: Mapping[str, str],
                 waits: Collection[str] = ()):
        self.bath, self.values, self.now = bath, values, now
        self.missing = None if "level" not in values else bath.missing(values["level"])
        # Doses go by the water that is there: a top-up that waits changes what follows it.
        self.topping = "top-up" not in waits and self._worth_topping()
        self.waits = waits
        self.ec = self._ec_after()
        typed = _whole_jug(extra)
        if self.ec is not None:
            typed["today.ec"] = f"{self.ec:.6g} mS/cm"
        if "ph" in values:
            typed["today.ph"] = f"{values['ph']:.6g}"
        if "temperature" in values:
            typed["today.temperature"] = f"{values['temperature']:.6g} C"
        if self.missing is not None and bath.working is not None and not self.topping:
            typed["today.volume"] = f"{(bath.working - self.missing) * 1000.0:.6g} L"
        self.design: Design = bath.with_readings(typed)

    def _worth_topping(self) -> bool:
        """Whether water is due: below its band, or some is missing while the EC has to be mended anyway."""
        band, ec = self.bath.bands.get("level"), self.bath.bands.get("ec")
        least = LEAST_SHARE * (self.bath.working or 1.0)
        if self.bath.still or not self.missing or band is None or self.missing <= least:
            return False
        off = ec is not None and "ec" in self.values and ec.word(self.values["ec"]) != "in"
        return band.word(self.values["level"]) == "low" or off

    def _ec_after(self) -> float | None:
        """EC once the water is back at its mark, as the meter will show it."""
        now, plain = self.values.get("ec"), self.bath.number("feed.water_conductivity")
        if now is None or not self.topping or self.bath.working is None or self.missing is None:
            return now
        return mixed_ec(now, min(now, plain or 0.0), self.bath.working - self.missing, self.missing)

    @property
    def doubt(self) -> str:
        """Why a reading cannot be right; empty where all can."""
        faults = [text for key, text in self.design.faults.items() if key.startswith("today.")]
        return " ".join(faults) or str(self.design.result("today.ceiling_why") or "")

    def acts(self) -> list[Act]:
        """The lines that the readings ask for, in their order."""
        if self.doubt:
            return [Act("check-meter", "Check a reading first", self.doubt,
                        then=("Then measure", "the same water again, before anything is poured."))]
        found = [self._top_up(), self._strength()]
        found.append(self._ph())
        return [one for one in found if one is not None]

    def _top_up(self) -> Act | None:
        bath, system, mark = self.bath, self.bath.system, self.bath.mark
        if bath.still:
            return self._raised()
        if "top-up" in self.waits and self._worth_topping():
            return Act("top-up", "Top up", "")
        if not self.topping or self.missing is None or mark is None:
            return None
        under = mark - self.values["level"]
        amount = units.show(self.missing, "volume", system, "gal", "L")
        reason = (f"The {bath.vessel} stands {bath.show('level', under)} under its mark.")
        log = {"kind": "reading", "typed": {"added": amount}}
        added, lifted, share, many = self._into_top_up()
        if not added:
            return Act("top-up", "Top up with plain water", f"{reason} Tap water brings it back.", amount,
                       then=("Then wait", "20 minutes and measure EC and pH: both have changed."), log=log, minutes=10)
        rest = "" if share >= 1.0 else " The rest comes tomorrow, after a new reading."
        return Act("top-up", "Top up with nutrients", f"{reason} Add tap water first, then {added}: {lifted}.{rest}",
                   amount, self._mixing_caution(many), ("Then wait", "20 minutes and measure EC and pH. What follows "
                                                        "goes by the new pH."), log=log, minutes=15)

    def _raised(self) -> Act | None:
        """A little water for a still bath below the lowest level of its plan, and never up to the mark."""
        bath, band, level, mark = self.bath, self.bath.bands.get("level"), self.values.get("level"), self.bath.mark
        if band is None or level is None or mark is None or band.word(level) != "low":
            return None
        there, then = bath.water_at(level), bath.water_at(min(level + MOST_RISE_M, (band.low + mark) / 2.0))
        if there is None or then is None:
            return None
        amount = units.show(then - there, "volume", bath.system, "gal", "L")
        return Act("top-up", "Add a little water, not up to the mark",
                   f"The bath stands {bath.show('level', mark - level)} under its mark, and your plan lets it fall "
                   f"{bath.show('level', mark - band.low)}. Never fill it up to the board again: the gap of air is the "
                   "roots'.", amount, then=("Then stir,", "and measure EC and pH: both have changed."),
                   log={"kind": "reading", "typed": {"added": amount}}, minutes=10)

    def _mixing_caution(self, rows: list[Row]) -> Caution | None:
        return None if len(rows) < 2 else SALTS_MEET if any(map(_weighed, rows)) else GYPSUM

    def _rows(self) -> list[Row]:
        """What to pour for the missing EC: both concentrates where the plan mixes them, else each bottle or salt."""
        concentrates = [self.design.result(f"today.bottle_{one}") for one in "ab"]
        if self.bath.sheet.text("feed.way") == SALTS and all(concentrates):
            return [{"what": f"concentrate {name}", "volume": volume} for name, volume in
                    zip("AB", concentrates, strict=True)]
        return list(self.design.result("today.salts") or ())

    def _share_of_day(self) -> float:
        """The part of what is missing that one day may bring."""
        now, aim = self.design.result("today.ec_now"), self.design.result("today.ec_aim")
        gap = (aim - now) if now is not None and aim is not None else 0.0
        return min(1.0, STEP_EC / gap) if gap > 0.0 else 1.0

    def _into_top_up(self) -> tuple[str, str, float, list[Row]]:
        """(what goes into the top-up, what it does, which part of it all that is, and its bottles or salts)."""
        rows = self._rows()
        if rows:
            share = self._share_of_day()
            now, aim = self.design.result("today.ec_now"), self.design.result("today.ec_aim")
            to = now + (aim - now) * share
            return (_doses(rows, share, self.bath.system),
                    f"that brings the EC to {self.bath.show('ec', to)}", share, rows)
        if "ec" in self.values or self.missing is None:
            return "", "", 1.0, []
        batch = self.bath.number("feed.batch")
        strength, stock = (self.bath.sheet.input_if_any(key) for key in ("use.topup_strength", "feed.stock_strength"))
        whole = list(self.bath.design.result("feed.masses") or ())
        if not whole or not batch or not strength:
            return "", "", 1.0, []
        if self.bath.sheet.text("feed.way") == SALTS and stock:
            whole = [{"what": f"concentrate {name}", "volume": batch / stock} for name in "AB"]
        return (_doses(whole, strength * self.missing / batch, self.bath.system),
                f"the top-up of your plan, {number(strength * 100.0)} % of full strength", 1.0, whole)

    @property
    def _off(self) -> bool:
        """Whether the EC lies outside its band, or beside one typed for today; within it the EC is left alone."""
        band = self.bath.bands.get("ec")
        return "today.ec_target" in self.design.plan.text or band is None or "ec" not in self.values or (
            band.word(self.ec if self.ec is not None else self.values["ec"]) != "in")

    def _strength(self) -> Act | None:
        """Nutrients or water for an EC outside its band, where the top-up does not carry them."""
        if not self._off:
            return None
        instead = self.design.result("today.water_instead")
        if instead is not None:
            return self._thin(instead)
        rows = self._rows()
        if not rows or self.topping:
            return None
        share, system = self._share_of_day(), self.bath.system
        now, aim = self.design.result("today.ec_now"), self.design.result("today.ec_aim")
        most = max((row.get("volume") or 0.0 for row in rows), default=0.0) * share
        later = self.now + timedelta(minutes=SECOND_POUR_MIN)
        first = _doses(rows, share * 2.0 / 3.0, system)
        pours = (Pour("nutrients-1", most * 2 / 3, first, self.now, self._clock(self.now), "two thirds, then stir"),
                 Pour("nutrients-2", most / 3, _doses(rows, share / 3.0, system), later, self._clock(later),
                      "measure first, then the rest"))
        rest = "" if share >= 1.0 else " More than that in one day is hard on roots: the rest comes tomorrow."
        to = now + (aim - now) * share
        return Act("nutrients", "Add nutrients", f"EC {self.bath.show('ec', now)} is below "
                   f"{self.bath.show('ec', aim)}. Add {_doses(rows, share, system)}: that brings it to "
                   f"{self.bath.show('ec', to)}.{rest}",
                   _ml(most, system) if most else "", self._mixing_caution(rows),
                   ("Then measure", "EC and pH half an hour after each pour."), pours, 15,
                   {"kind": "reading", "typed": {"fertilizer": _ml(most, system)}} if most else
                   {"kind": "done"})

    def _thin(self, instead: float) -> Act:
        system, exchange = self.bath.system, self.design.result("today.exchange")
        amount = units.show(exchange, "volume", system, "gal", "L")
        room = self.bath.number("water.reservoir_headroom")
        more = units.show(instead, "volume", system, "gal", "L")
        fits = room is not None and instead <= room and not self.topping
        reason = (f"EC {self.bath.show('ec', self.design.result('today.ec_now'))} is above "
                  f"{self.bath.show('ec', self.design.result('today.ec_aim'))}: roots take up water with effort. "
                  f"Take out {amount} and {'pour in as much' if self.bath.still else 'fill up with'} water"
                  + (f", or add {more}: there is room." if fits else "."))
        vessel = self.bath.number("water.reservoir_volume") if self.bath.circulates else None
        if not fits and vessel is not None and exchange > RESERVOIR_SHARE * vessel:
            reason += (f" The reservoir alone holds {units.show(vessel, 'volume', system, 'gal', 'L')}: dip the rest "
                       "out of the bath.")
        return Act("thin", "Exchange some solution for water", reason, amount, DRAIN,
                   ("Then measure", "EC and pH half an hour later; what the pH needs goes by the new reading."),
                   minutes=15, log={"kind": "done", "typed": {"remark": f"{amount} exchanged for water"}})

    def _ph(self) -> Act | None:
        ph = self.values.get("ph")
        band = self.bath.bands.get("ph")
        jug = self.design.result("today.product") == "the acid of your jug test"
        if ph is None:
            return None if not jug else Act(
                "jug", "Type the pH of the bath", "The jug test is there, but it tells only how much: whether the bath "
                "takes acid or pH-up hangs on its pH.", minutes=2, log={"kind": "done"})
        aimed = "today.ph_target" in self.design.plan.text
        if band is not None and band.word(ph) == "in" and not aimed:
            return None
        first = self.design.result("today.first_pour")
        if not first:
            return self._jug(ph) if first is None else None
        base = self.design.result("today.base")
        return self._poured(ph, base or self.design.result("today.acid"), first, bool(base))

    def _jug(self, ph: float) -> Act | None:
        aim = self.design.result("today.ph_aim")
        if aim is None:
            return None
        up, why = ph < aim, why_no_sum(ph, self.bath.sheet.text("feed.way"))
        return Act("jug", "Try the pH in a jug first", f"pH {number(ph, 3)} where you aim for {number(aim, 3)}. No "
                   f"dose can be told, for {why}. {jug(up)}", "1 L", self._acid_caution(up),
                   ("Then type", "jug and drops under the reading; the pours follow."), minutes=10,
                   log={"kind": "done"})

    def _poured(self, ph: float, whole: float, first: float, up: bool) -> Act:
        system = self.bath.system
        step = round_down(min(first, whole))
        many = max(ceil(whole / step - 1e-6), 1)
        start = self._start()
        today = min(many, MOST_POURS, (NIGHT_H - 1 - start.hour) // APART_H + 1)
        sizes = [step] * (today - 1) + [min(step, round_down(whole - step * (today - 1)) or step)]
        aim, band = self.design.result("today.ph_aim"), self.bath.bands["ph"]
        edge = min(aim + 0.2, band.high) if not up else max(aim - 0.2, band.low)
        pours = []
        for place, size in enumerate(sizes):
            at = start + timedelta(hours=APART_H * place)
            condition = ("after the top-up" if self.topping else WHILE[self._moves]) if place == 0 else (
                "measure first" if place < len(sizes) - 1 else
                f"only {'below' if up else 'above'} {number(edge, 3)}")
            pours.append(Pour(f"{'base' if up else 'acid'}-{place + 1}", size, _ml(size, system), at, self._clock(at),
                              condition))
        product = str(self.design.result("today.product") or ("pH-up" if up else "acid"))
        moves = (f"{product[:1].upper()}{product[1:]}{',' if ',' in product else ''} takes it {'up' if up else 'down'} "
                 f"to {number(aim, 3)}")
        rest = f" Up to {many} such pours may be needed: go on tomorrow." if many > today else ""
        locks = ("low: roots are hurt" if up else "high: iron and manganese lock up")
        reason = (f"pH {number(ph, 3)} is {locks}. {moves}; more than {_ml(step, system)} at once would move it too "
                  f"fast {NEAR[self._moves]}.{rest}")
        count = {1: "", 2: ", in two pours", 3: ", in three pours", 4: ", in four pours"}[len(pours)]
        return Act("base" if up else "acid", f"Bring the pH {'up' if up else 'down'}{count}", reason,
                   _ml(sum(sizes), system), self._acid_caution(up),
                   ("Then measure", f"pH two hours after each pour; stop at {number(edge, 3)}."), tuple(pours), 10,
                   {"kind": "reading", "typed": {"acid": _ml(sum(sizes), system), **(
                       {"remark": "pH-up"} if up else {})}})

    def _acid_caution(self, up: bool) -> Caution:
        """The usual words, and what this very product does besides."""
        wanted = ("acidity-lye",) if up else ("acidity-burns", "acidity-nitric", "acidity-sulfuric")
        also = [one.brief for one in self.design.cautions if one.code in wanted]
        rule = ("pH-up into water, never water into it" if up else "Acid into water, never water into acid")
        apart = "acid or bleach" if up else "bleach"
        return Caution("Goggles and gloves.", " ".join([f"{rule}, {WHERE[self._moves]}. Never near {apart}.", *also]),
                       "today-pouring")

    @property
    def _moves(self) -> str:
        """What moves the water where a dose is poured: the kind of bath."""
        return self.bath.sheet.text(scheme.KEY)

    def _start(self) -> datetime:
        """The next full hour of the day; half an hour at least after a top-up."""
        wait = timedelta(minutes=30 if self.topping or (self._off and self._rows()) else 0)
        at = self.now + wait
        full = at.replace(minute=0)
        start = full if full == at else full + timedelta(hours=1)
        if MORNING_H <= start.hour < NIGHT_H:
            return start
        return start.replace(hour=MORNING_H) + timedelta(days=1 if start.hour >= NIGHT_H else 0)

    def _clock(self, at: datetime) -> str:
        words = moments.show_clock(at.hour + at.minute / 60.0, self.bath.system)
        return words.replace(":00 ", " ") if self.bath.system != "metric" else words
