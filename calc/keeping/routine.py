"""The keeper's rounds as checklists, filled with the plan's own numbers: from the first day to the winter stop."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from math import ceil, floor
from typing import Any

from .. import units
from ..figures import number
from ..topics import scheme
from ..topics.feed.choices import BOTTLES, SALTS
from .bath import Bath
from .comfort import HEAT_J_KG_K, MOST_BOTTLES
from .rounds import METERS_D, STRAINER_D

# Household bleach of 5 % in water for scrubbed surfaces, in mL a liter, and the bucket that it is mixed in: 150 to
# 200 mg/L of chlorine, up to 3 hours, read in a text drawn from extension advice.
BLEACH_ML_L, BUCKET_L = 4.0, 10.0
BLEACH_SOURCE = "150 to 200 mg/L of chlorine for up to 3 hours: a text drawn from extension advice"
UNPLUG = "Unplug pumps and heater before your hands go in."
FUMES = ("Bleach never meets acid, vinegar, descaler or ammonia: the gases can kill. Fresh air, gloves, goggles; no "
         "plants in the bath.")
CHLORINE = "Tap water with chlorine stands or bubbles a day first; chloramine needs carbon."
POUR_OUT = "Old solution goes on soil or to the sewer, never into a stream or pond."


@dataclass(frozen=True)
class Item:
    """One line to tick: what to do, how much of it, what can hurt, and where an amount is from that no plan gives.

    ``log`` is what its tick writes, where it is an event: the kind of an entry and its texts.
    """

    text: str
    amount: str = ""
    caution: str = ""
    source: str = ""
    log: Mapping[str, Any] = field(default_factory=dict)

    @property
    def key(self) -> str:
        """The name under which a page keeps its tick."""
        return re.sub(r"[^a-z]+", "-", self.text.lower()).strip("-")[:60]


@dataclass(frozen=True)
class Checklist:
    """A round: its code, its title, when it is due, and its lines in order; a tick stands for ``lasts`` days, or until
    the list is begun again (0)."""

    code: str
    title: str
    when: str
    items: tuple[Item, ...]
    lasts: int = 0


def _event(kind: str, what: str = "", code: str = "") -> dict[str, Any]:
    """What a tick writes into the log."""
    typed = {"what": what, "code": code}
    return {"kind": kind, "typed": {name: text for name, text in typed.items() if text}}


STRAINER = _event("cleaned", "strainer", "strainer")


def _vessels(bath: Bath) -> str:
    """What holds the water of this bath."""
    return "bath and reservoir" if bath.circulates else "bath"


def _what_runs(bath: Bath) -> str:
    """What moves the water of this bath; "" where nothing does."""
    return "pumps" if bath.circulates else "air" if scheme.has_air(bath.sheet) else ""


def _stones(bath: Bath) -> str:
    """The air stones, where there are any."""
    return "stones" if scheme.has_air(bath.sheet) else ""


def _listed(*names: str) -> str:
    """Those of the names that are there, with commas and an and."""
    *there, last = [name for name in names if name]
    return f"{', '.join(there)} and {last}" if there else last


def _plugs(bath: Bath) -> str:
    """What of this bath has a plug; any bath may have a heater."""
    return ("pumps and heater" if bath.circulates else "air pump and heater" if scheme.has_air(bath.sheet) else
            "the heater, if there is one,")


class _Numbers:
    """The plan's numbers in the reader's words; a dash where the plan does not tell."""

    def __init__(self, bath: Bath):
        self.bath = bath

    def said(self, key: str) -> str:
        """A result or an input of the plan."""
        return self.bath.design.shown(key) or "–"

    def volume(self, liters: float) -> str:
        """A volume given in liters."""
        return units.show(liters / 1000.0, "volume", self.bath.system, "gal", "L")

    def small(self, liters: float) -> str:
        """A small volume given in liters."""
        unit = "L" if liters >= 1.0 else "mL"
        return units.show(liters / 1000.0, "volume", self.bath.system, unit, unit)

    def acid(self) -> str:
        """What brings a fresh fill to its pH, as it stands within a sentence."""
        name = str(self.bath.design.value("acidity.product") or "acid")
        return name if name[1:2].isupper() else name[:1].lower() + name[1:]

    def band(self, name: str) -> str:
        """From where to where a reading should lie."""
        one = self.bath.bands.get(name)
        return "–" if one is None else f"{self.bath.figure(name, one.low)} to {self.bath.show(name, one.high)}"

    def pour(self) -> str:
        """What a fresh fill takes of fertilizer."""
        way = self.bath.sheet.input_if_any("feed.way", str)
        stock, batch = self.bath.sheet.input_if_any("feed.stock_strength"), self.bath.number("feed.batch")
        if way == SALTS and stock and batch:
            return f"{self.small(batch / stock * 1000.0)} of each concentrate"
        return self.said("feed.pour") if way == BOTTLES else "the salts of your plan"


def start(bath: Bath) -> Checklist:
    """The first day, before any plant."""
    one = _Numbers(bath)
    wet = [Item("Set the bath level and fill it with drinking water", one.said("water.working_volume"),
                "Water is heavy: 1 kg a liter, 8.3 lb a gallon. Look at legs and floor while it fills."),
           Item("Let it stand a day and look for wet places, before anything is plugged in")]
    if bath.circulates:
        wet += [Item("Start the pump; water runs over the rim and back", one.said("circulation.flow"), UNPLUG),
                Item("Pull the plug and watch: so much runs back, and nothing spills",
                     one.said("water.drain_back_volume"))]
    if scheme.has_air(bath.sheet):
        wet.append(Item("Start the air; every stone bubbles", one.said("air.delivered"),
                        "The air pump stands above the water, or has a check valve."))
    wet += [Item("Stir in the fertilizer, A before B, each thinned", one.pour(), "A and B never meet undiluted."),
            Item(f"Bring the pH into its band with {one.acid()}, in halves",
                 one.said("acidity.volume"), "Goggles and gloves; acid into water."),
            Item("Mark this day as that of a fresh solution", log=_event("changed")),
            Item("Measure and write down the pH", one.band("ph")), Item("Measure the EC", one.band("ec")),
            Item("Measure the water's temperature", one.band("temperature")), Item("Mark the level with tape")]
    return Checklist("start", "Start-up day", "once, before any plant", tuple(wet))


def daily(bath: Bath) -> Checklist:
    """Five minutes a day."""
    one = _Numbers(bath)
    found = [Item("Look: leaves stand, nothing wilts, nothing on the floor")]
    if scheme.has_air(bath.sheet):
        found.append(Item("Every stone bubbles"))
    if bath.circulates:
        found.append(Item("Water runs in and over the rim"))
    found += [Item("The water may fall, and the gap of air is the roots': it stands within" if bath.still else
                   f"The {bath.vessel} is at its mark, or within", one.band("level")),
              Item("Measure pH", one.band("ph")), Item("Measure EC", one.band("ec")),
              Item("Measure the water's temperature", one.band("temperature")),
              Item("Do what Today says, and log it")]
    return Checklist("daily", "Every day", "five minutes, at the same hour", tuple(found), 1)


def weekly(bath: Bath) -> Checklist:
    """Half an hour a week."""
    one = _Numbers(bath)
    found = [Item("Lift three net pots: roots white, no smell")]
    if bath.circulates:
        found += [Item("Clean the overflow strainer", f"every {STRAINER_D} days", UNPLUG, log=STRAINER),
                  Item("Look into the pump's strainer", "", UNPLUG)]
    if scheme.has_air(bath.sheet):
        found.append(Item("Wipe the air pump's filter; look at check valve and air lines"))
    found += [Item("Take out dead leaves and what fell in"), Item("Wipe rims, covers and tools"),
              Item("Measure water in the warmest hour", one.band("temperature")),
              Item("Check the pH meter in two liquids", f"every {METERS_D} days",
                                                                    log=_event("checked", "pH meter", "meters")),
              Item("Water gone in the week, beside the plan's", one.said("use.gone") + " a day"),
              Item("Save a copy of the log")]
    return Checklist("weekly", "Every week", "half an hour", tuple(found), 7)


def change(bath: Bath) -> Checklist:
    """A full change of solution."""
    one, runs = _Numbers(bath), _what_runs(bath)
    found = [Item("Choose a cool hour; mix the new solution ready, if you have a vessel for it"),
             Item(f"Unplug {_plugs(bath).rstrip(',')}", "", "A heater that runs dry bursts."),
             Item("Lift the boards onto wet cloth, roots covered and damp"),
             Item(f"Empty the {_vessels(bath)}", one.said("water.working_volume"), POUR_OUT),
             Item(f"Wipe {_listed('bath', _stones(bath), 'strainer' if bath.circulates else '')}; rinse"),
             Item("Fill with drinking water of nearly the bath's warmth", one.said("water.working_volume"),
                  CHLORINE if runs else CHLORINE.replace(" or bubbles", "")),
             *([Item(f"{runs.capitalize()} on again, to mix what follows")] if runs else []),
             Item("Stir in the fertilizer, A before B, each thinned", one.pour(), "A and B never meet undiluted."),
             Item(f"pH into its band with {one.acid()}, in halves", one.said("acidity.volume"),
                  "Goggles and gloves; acid into water."),
             Item("Measure EC and pH after a quarter of an hour; in their bands, the boards go back"),
             Item("The solution is changed", log=_event("changed"))]
    after = bath.number("use.replace_after")
    when = f"every {number(after / 86400.0, 3)} days ({one.said('use.replace_reason').lower()})" if after else (
        "by your plan")
    return Checklist("change", "Change of solution", when, tuple(found))


def between(bath: Bath) -> Checklist:
    """Cleaning and disinfecting between two crops."""
    one = _Numbers(bath)
    bucket, reservoir = BUCKET_L * BLEACH_ML_L / 1000.0, bath.number("water.reservoir_volume")
    found = [Item(f"Unplug everything; take out {_listed('plants', 'roots', 'pots', _stones(bath))}", "",
                  f"Unplug {_plugs(bath)} before your hands go in."),
             Item(f"Empty {_vessels(bath)}", one.said("water.working_volume"), POUR_OUT),
             Item("Scrub all of it wet with dish soap: bath, boards, pots"
                  f"{', hoses, strainer' if bath.circulates else ''}; rinse"),
             Item(f"Wipe everything with fresh plain bleach of 5 % in a bucket of {one.volume(BUCKET_L)}",
                  one.small(bucket), FUMES, BLEACH_SOURCE)]
    if bath.circulates and reservoir:
        found.append(Item(f"Fill the reservoir ({one.said('water.reservoir_volume')}) with the same mix and pump it "
                          "through the hoses; bleach in it:", one.small(reservoir * 1000.0 * BLEACH_ML_L / 1000.0),
                          FUMES, BLEACH_SOURCE))
    found += [Item("Leave it wet as long as the bottle's label says, 3 hours at most for this strength"),
              Item("Rinse with drinking water"
                   f"{', also through the hoses,' if bath.circulates else ''} until no smell is left; pour it to the "
                   "sewer"),
              Item("Let all of it dry in the air: drying does much of the work"),
              *([Item("Soak or change the stones" + ("; brush the pump" if bath.circulates else ""))]
                if scheme.has_air(bath.sheet) else []),
              Item("All of it is clean and dry", log=_event("cleaned", "bath, reservoir, hoses, strainer, boards"
                                                            if bath.circulates else "bath, boards")),
              Item("Then go on as on the start-up day")]
    return Checklist("between", "Between crops", "each time the bath is empty", tuple(found))


def _days(lasts: float | None) -> str:
    """How long the water lasts, in whole days."""
    if lasts is None:
        return ""
    whole = floor(lasts / 86400.0)
    return "less than a day" if whole < 1 else f"about {whole} {'day' if whole == 1 else 'days'}"


def holiday(bath: Bath) -> Checklist:
    """Before some days away."""
    one = _Numbers(bath)
    lasts, away = bath.number("use.days_to_top_up"), bath.sheet.input_if_any("use.holiday")
    found = [Item("Do not fill it up to the board; from the mark down to its lowest the water lasts" if bath.still else
                  "Top up to the mark on the last day; the water lasts", _days(lasts))]
    if lasts and away and lasts < away:
        short = "That is less than your time away: somebody"
        found.append(Item(f"{short} adds a little each week, never up to the mark") if bath.still else
                     Item(f"{short} tops up, or a larger reservoir holds", one.said("use.holiday_reservoir")))
    found += [Item("EC when you come back, about", one.said("use.holiday_ec")),
              Item("Cut what would be ready meanwhile"),
              Item("Bring the pH to the low end of its band", one.band("ph")),
              Item("Clean the strainer; shade the bath", "", UNPLUG, log=STRAINER) if bath.circulates else
              Item("Shade the bath"),
              Item("Leave a sheet: where the breaker is, what to do when it is silent, your number"),
              Item("Somebody looks every second day")]
    return Checklist("holiday", "Some days away", "the day before you leave", tuple(found))


def heat_wave(bath: Bath) -> Checklist:
    """When hot days are forecast."""
    one = _Numbers(bath)
    found = [Item(f"Shade bath{', reservoir and hoses' if bath.circulates else ''}, white or foil outside"),
             Item("Measure water at noon and at 5 pm; roots like", one.band("temperature"))]
    size, water = bath.number("heat.bottle"), bath.working
    if size and water:
        # A bottle's melting alone, 334 kJ/kg: what Today works out for the day is a little more.
        many = ceil(water * 1000.0 * HEAT_J_KG_K * 2.0 / (size * 1000.0 * 334e3))
        if many <= MOST_BOTTLES:
            found.append(Item(f"Freeze closed bottles of {one.small(size * 1000.0)}; so many take 2 °C (3.6 °F) off",
                              f"{many} bottles", "Closed bottles, never loose ice: melted, it thins the solution."))
    if scheme.has_air(bath.sheet):
        found.append(Item("Air at its most, day and night; a spare stone ready", one.said("air.delivered")))
    found += [Item("Night air over the bath; the water falls faster than by your plan, in a day" if bath.still else
                   "Night air over the bath; top up in the morning with cool water", one.said("use.gone")),
              Item("Lift a pot every day: brown or slimy is for Trouble"), Item("Cut early: bolting and bitter leaves")]
    return Checklist("heat", "Heat wave", "from the forecast on", tuple(found))


def power_cut(bath: Bath) -> Checklist:
    """When the power fails: the outage topic's own order of acts."""
    rows = bath.design.result("outage.steps") or []
    plugs = "No hands in the water before the plugs are out: it may come back at any moment."
    stops = "both pumps" if bath.circulates else "the air pump"
    found = [Item(f"Time to plan for, {stops} stopped", _Numbers(bath).said("outage.plan_for"), plugs)
             if _what_runs(bath) else
             Item("This bath needs no power to breathe; see to lamps, heater and floor", "", plugs)]
    found += [Item(str(row["step"]), "" if row["buys"] == "not worked out" else str(row["buys"])) for row in rows]
    found.append(Item("Power is back: note the cut", log=_event("failed", "power")))
    back = [name for name, there in (("bubbles", scheme.has_air(bath.sheet)), ("flow", bath.circulates)) if there]
    found.append(Item(f"When it is back: {', '.join([*back, 'floor', 'thermostat'])}; lift a pot each day for three "
                      "days"))
    return Checklist("power", "Power cut", "at once", tuple(found))


def winter(bath: Bath) -> Checklist:
    """Stopping for the cold months."""
    one = _Numbers(bath)
    rest = ", reservoir, pump and hoses" if bath.circulates else " and air lines" if scheme.has_air(bath.sheet) else ""
    runs = _what_runs(bath)
    bursts = {"pumps": "pump, hoses and valves", "air": "air lines and check valves"}
    found = [Item("Harvest all; sow nothing from four weeks before the stop"),
             Item(f"Unplug all; empty bath{rest}", one.said("water.working_volume"),
                  f"Water left in {bursts[runs]} bursts them in frost." if runs else ""),
             Item("Scrub, disinfect, rinse and dry as between crops"),
             Item(f"{'Pump, meters' if runs else 'Meters'}, acids and concentrates in a room without frost", "",
                  "Acids and salts locked away from children, with their labels."),
             Item("pH tip wet in its liquid; batteries out of the meters"), Item("Boards dry, flat and out of the sun"),
             Item("Cover the bath, or turn it over, so that no rain stands in it", "",
                  "A small child drowns in a hand's breadth of water."),
             Item("All of it is clean and empty", log=_event("cleaned", "all, for the winter stop")),
             Item("Save a copy of the log")]
    return Checklist("winter", "Winter stop", "before the first frost", tuple(found))


LISTS = (start, daily, weekly, change, between, holiday, heat_wave, power_cut, winter)


def lists(bath: Bath) -> list[Checklist]:
    """All rounds of this bath."""
    return [make(bath) for make in LISTS]


def as_json(found: Checklist) -> dict[str, Any]:
    """A round as plain data."""
    return {"code": found.code, "title": found.title, "when": found.when,
            "items": [{"text": one.text, "amount": one.amount, "caution": one.caution,
                       "source": one.source, "key": one.key, "log": dict(one.log)} for one in found.items],
            "lasts": found.lasts}
