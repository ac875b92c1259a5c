"""How much light the plants get in a day, how many lamps make up what is missing, and what those draw."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..data import light as data
from ..declare import Choice, Field, Result, Verdict
from ..errors import Unanswered
from ..figures import number
from ..relations import electricity
from ..relations import light as physics
from .verdicts.light import LONG_DAY_H, MUCH, judge

if TYPE_CHECKING:
    from ..sheet import Sheet

NAME = "light"
TITLE = "Light"
QUESTION = "How much light do the plants get in a day, and how many lamps does that take?"
VERDICT = Verdict("Light", {"fits": "Enough light.", "tight": "Light is short.", "fails": "Too dark.",
                            "open": "Light needs an answer."})

HOUR = 3600.0
MOST_LAMPS = 100000
LAMP, METER, LUX, NO_LAMPS = "lamp", "ppfd", "lux", "none"
BY, SUN = "light.by", "light.sun"
NOT_KNOWN, NO_SUN, MAP, STATION = "unknown", "none", "dli", "radiation"

FIELDS = (
    Field(BY, "choice", "Is there a lamp?", (NO_LAMPS, NO_LAMPS), choices=(
        Choice(NO_LAMPS, "No lamp"), Choice(LAMP, "Yes: plan it from its label"),
        Choice(METER, "Yes, and I have a PAR meter"), Choice(LUX, "Yes, and I have a lux meter")),
          help="a PAR meter counts what plants use; a lux meter what eyes see",
          why="no lamp until you ask for one: nothing is bought, plugged in or paid for by an assumption"),
    Field("light.hours", "time", "Hours of light", ("16 h", "16 h"), 0.0, 86400.0, "h", "h",
          help="plants do with a night; a timer sets it",
          why="16 hours, as in a lettuce trial (Pennisi and others 2019, Scientific Reports 9:14127)",
          when=((BY, (LAMP, METER, LUX)),)),
    Field("light.lamp_power", "power", "Power of one lamp", ("65 W", "65 W"), 0.1, 5000.0, "W", "W",
          help="at the outlet, not of the bulb it replaces",
          why="an invented example; read your label", when=((BY, (LAMP,)),)),
    Field("light.lamp_efficacy", "efficacy", "Efficacy of the lamp", ("2.2 µmol/J", "2.2 µmol/J"), 0.1, 5.85,
          "µmol/J", "µmol/J", help="from its data sheet; if it names only lumens, be wary",
          why="between LEDs measured in 2014 (1.7) and what was said to be within reach in 2020 (2.5); an invented "
              "example", when=((BY, (LAMP,)),)),
    Field("light.lamp_output", "number", "Photons of a lamp, µmol/s", ("", ""), 0.1, 30000.0,
          help="PPF on its data sheet; empty: power times efficacy", why="empty: power times efficacy",
          optional=True, when=((BY, (LAMP,)),)),
    Field("light.share", "ratio", "Share that reaches plants", ("70 %", "70 %"), 0.01, 1.0, "%",
          "%", help="the rest hits walls and floor; close lamps waste less",
          why=f"70 %: {data.JUDGMENT}; a PAR meter settles it", when=((BY, (LAMP,)),)),
    Field("light.have", "whole", "Lamps installed", ("", ""), 0, MOST_LAMPS,
          help="empty: as many as are needed", why="empty: as many as are needed", optional=True,
          when=((BY, (LAMP,)),)),
    Field("light.ppfd_reading", "photon_flux", "Reading of the PAR meter", ("200 µmol/m2/s", "200 µmol/m2/s"), 0.0,
          3000.0, "µmol/m2/s", "µmol/m2/s", help="at leaf height: middle, corners and edges, averaged",
          why="an invented example; measure yours", when=((BY, (METER,)),)),
    Field("light.lux_reading", "illuminance", "Reading of the lux meter", ("14000 lux", "14000 lux"), 0.0, 250000.0,
          "lux", "lux", help="at leaf height: middle, corners and edges, averaged",
          why="an invented example; measure yours", when=((BY, (LUX,)),)),
    Field("light.lux_source", "choice", "Kind of lamp", ("white led", "white led"),
          choices=tuple(Choice(key, one.words) for key, one in data.SOURCES.items() if key != "sun"),
          help="not red and blue lamps: a lux meter is nearly blind to them",
          why="the commonest kind", when=((BY, (LUX,)),)),
    Field("light.all_power", "power", "Power of all lamps", ("", ""), 0.0, 1e6, "W", "W",
          help="from their labels; empty: the cost of light is not told", why="empty: not known",
          optional=True, when=((BY, (METER, LUX)),)),
    Field(SUN, "choice", "Sunlight at the plants", (NOT_KNOWN, NOT_KNOWN), choices=(
        Choice(NOT_KNOWN, "Not known yet"), Choice(NO_SUN, "None to speak of"),
        Choice(MAP, "Yes; daily light from a map"), Choice(STATION, "Yes; from a weather station")),
          help="of the darkest month you grow in; a window lights only what is near",
          why="nobody can guess it for you; beside a lamp it is not counted until you say it"),
    Field("light.outdoor", "daily_light", "Daily light outdoors", ("20 mol/m2/d", "20 mol/m2/d"), 0.0, 90.0,
          "mol/m2/d", "mol/m2/d", help="a dull winter day 5, a bright summer day 60",
          why="an invented example; look up your place and month", when=((SUN, (MAP,)),)),
    Field("light.radiation", "number", "Sunshine outdoors, MJ/m² d", ("10", "10"), 0.0, 45.0,
          help="a weather station tells; 1 kWh/m² is 3.6 MJ/m²",
          why="an invented example; look up your place and month",
          when=((SUN, (STATION,)),)),
    Field("light.cover", "ratio", "Share of the sun let in", ("60 %", "60 %"), 0.0, 1.0, "%", "%",
          help="by glass, film, frame and dirt; a window lights what is near",
          why="50 to 70 % for a greenhouse: from memory, not verified", when=((SUN, (MAP, STATION)),)),
    Field("light.shade", "ratio", "Shade cloth over it", ("0 %", "0 %"), 0.0, 0.95, "%", "%",
          help="of the sun that the cover lets in, kept out by a cloth", why="none to begin with",
          when=((SUN, (MAP, STATION)),)),
    Field("light.target", "daily_light", "Daily light to aim for", ("", ""), 0.5, 70.0, "mol/m2/d", "mol/m2/d",
          help="left empty: from the crop", why=data.TARGET_SOURCE, optional=True),
    Field("light.area", "area", "Area to be lit", ("", ""), 0.01, 20000.0, "ft2", "m2",
          help="left empty: the water surface of all baths", why="empty: the water surface of all baths",
          optional=True),
)
TABLES = ()

RESULTS = (
    Result("light.dli_target", "daily_light", "Daily light aimed for", "mol/m2/d", "mol/m2/d"),
    Result("light.area_lit", "area", "Area lit, all baths", "ft2", "m2"),
    Result("light.dli_sun", "daily_light", "Daily light from the sun, at the plants", "mol/m2/d", "mol/m2/d"),
    Result("light.lamp_photons", "number", "Photons of one lamp, µmol/s"),
    Result("light.lamps_needed", "count", "Lamps needed to reach the aim, all baths"),
    Result("light.lamps", "count", "Lamps counted, all baths"),
    Result("light.owned_words", "text", "Whether the lamps you have suffice"),
    Result("light.ppfd", "photon_flux", "Light under the lamps", "µmol/m2/s", "µmol/m2/s"),
    Result("light.ppfd_low", "photon_flux", "The same, if the lux factor is at its high end", "µmol/m2/s",
           "µmol/m2/s"),
    Result("light.ppfd_high", "photon_flux", "The same, if the lux factor is at its low end", "µmol/m2/s",
           "µmol/m2/s"),
    Result("light.dli_lamps", "daily_light", "Daily light from the lamps", "mol/m2/d", "mol/m2/d"),
    Result("light.dli", "daily_light", "Daily light", "mol/m2/d", "mol/m2/d"),
    Result("light.dli_share", "ratio", "Daily light, beside the aim", "%", "%"),
    Result("light.shade_needed", "ratio", "Shade that brings the light to what is enough", "%", "%"),
    Result("light.cloth", "ratio", "Shade cloth to buy, as sold", "%", "%"),
    Result("light.ppfd_needed", "photon_flux", "Light under the lamps that would reach the aim in those hours",
           "µmol/m2/s", "µmol/m2/s"),
    Result("light.hours_needed", "time", "Time for these lamps to reach the aim", "h", "h"),
    Result("light.power", "power", "Power of all lamps, while they are on", "W", "W"),
    Result("light.energy_per_day", "energy", "Energy of all lamps a day", "kWh", "kWh"),
    Result("light.factors", "rows", "What a lux is worth"),
    Result("light.efficacies", "rows", "What lamps give for their power"),
)


def target(sheet: Sheet) -> None:
    """The daily light to aim for: as put in, else the middle of what the crop wants, else of leaf crops."""
    typed = sheet.optional("light.target")
    low, high = sheet.result_if_any("crops.dli_low"), sheet.result_if_any("crops.dli_high")
    if typed is not None:
        sheet.put("light.dli_target", typed, note="As you put it in.")
    elif low is not None and high is not None:
        sheet.put("light.dli_target", (low + high) / 2.0, note="The middle of what your crops need.")
    else:
        sheet.put("light.dli_target", data.TARGET_MOL, note="The middle of what most leaf crops need.",
                  source=data.TARGET_SOURCE)


def area(sheet: Sheet) -> None:
    """The area to be lit: as put in, or the water of all baths."""
    typed = sheet.optional("light.area")
    if typed is not None:
        sheet.put("light.area_lit", typed, note="As you put it in.")
    else:
        sheet.put("light.area_lit", sheet.whole("bath.count") * sheet.result("water.surface_area"),
                  note="Water surface of one bath, times the baths. The raft covers nearly all of it.")


def is_told(sheet: Sheet) -> bool:
    """Whether anything is said of the plants' light: a lamp, or what sun there is, were it none."""
    return sheet.text(BY) != NO_LAMPS or sheet.text(SUN) != NOT_KNOWN


def sun(sheet: Sheet) -> None:
    """What the sun brings to the plants in a day; open where it is not known and no lamp is planned."""
    if not is_told(sheet):
        return
    if sheet.text(SUN) == NOT_KNOWN:
        sheet.put("light.dli_sun", 0.0, note="Not known yet, so the lamps are planned to do without it.")
        return
    if sheet.text(SUN) == NO_SUN:
        sheet.put("light.dli_sun", 0.0, note="You said that no sun reaches the plants.")
        return
    if sheet.text(SUN) == MAP:
        outdoor = sheet["light.outdoor"]
    else:
        outdoor = physics.daily_light_of_sun(radiation_mj_m2=sheet["light.radiation"])
    sheet.work("light.dli_sun", physics.daily_light_under_cover, outdoor_dli=outdoor,
               transmission=sheet["light.cover"] * (1.0 - sheet["light.shade"]))


def lamps(sheet: Sheet) -> None:
    """How many lamps, and how bright it is under them."""
    by = sheet.text(BY)
    if by == NO_LAMPS:
        sheet.put("light.lamps", 0, note="You said that there are none.")
        sheet.put("light.ppfd", 0.0, note="No lamps.")
    elif by == LAMP:
        _from_label(sheet)
    elif by == METER:
        sheet.put("light.ppfd", sheet["light.ppfd_reading"], note="As your meter reads.")
    else:
        _from_lux(sheet)


def _from_label(sheet: Sheet) -> None:
    typed = sheet.optional("light.lamp_output")
    if typed is not None:
        photons = typed
        sheet.put("light.lamp_photons", typed, note="As you put it in.")
    else:
        photons = sheet.work("light.lamp_photons", physics.lamp_photons, power_w=sheet["light.lamp_power"],
                             efficacy=sheet["light.lamp_efficacy"])
    have = sheet.optional("light.have", int)
    try:
        missing = max(sheet.result("light.dli_target") - sheet.result("light.dli_sun"), 0.0)
        lacking = {"dli": missing, "area_m2": sheet.result("light.area_lit"), "hours": sheet["light.hours"] / HOUR,
                   "photons_umol_s": photons, "share": sheet["light.share"]}
        needed = physics.lamps_needed(**lacking)
        # More than anybody can hang is no number to buy by: the sentence below says that it cannot be done.
        if needed <= MOST_LAMPS:
            sheet.put("light.lamps_needed", needed, physics.lamps_needed, lacking)
    except Unanswered:
        if have is None:
            raise
        needed = have
    if have is None and needed > MOST_LAMPS:
        sheet.fault("light.lamp_power", "Power of one lamp: so small a lamp would have to be bought more than "
                    f"{MOST_LAMPS:,} times; enter a larger one.")
    count = needed if have is None else have
    sheet.put("light.lamps", count, note="As many as are needed." if have is None else "As you put it in.")
    if have is not None:
        sheet.put("light.owned_words", _beside_needed(have, needed), note="Lamps installed, beside those needed.")
    sheet.work("light.ppfd", physics.flux_under_lamps, lamps=count, photons_umol_s=photons,
               share=sheet["light.share"], area_m2=sheet.result("light.area_lit"))


def _beside_needed(have: int, needed: int) -> str:
    """The lamps there are beside those needed, in a sentence."""
    if needed > MOST_LAMPS:
        return (f"You have {have:,}, and more than {MOST_LAMPS:,} so small would be needed: it cannot be done with "
                "this lamp.")
    lacking = needed - have
    words = "they are enough" if lacking <= 0 else f"{lacking:,} more {'is' if lacking == 1 else 'are'} needed"
    return f"You have {have:,} of the {needed:,} lamp{'' if needed == 1 else 's'} needed: {words}."


def _from_lux(sheet: Sheet) -> None:
    reading, kind = sheet["light.lux_reading"], data.SOURCES[sheet.text("light.lux_source")]
    sheet.work("light.ppfd", physics.flux_from_lux, illuminance_lux=reading, lux_per_umol=kind.lux_per_umol)
    for key, factor in (("low", kind.high), ("high", kind.low)):
        sheet.work(f"light.ppfd_{key}", physics.flux_from_lux, illuminance_lux=reading, lux_per_umol=factor)
    sheet.caution("light-lux", "note",
                  f"A lux meter counts what the eye sees. For this kind of lamp a reading of {reading:,.0f} lux may be "
                  f"{reading / kind.high:.0f} to {reading / kind.low:.0f} µmol/m²/s. For red and blue lamps it says "
                  "next to nothing.", lead="Lux misleads",
                  brief=f"{reading:,.0f} lux may be {reading / kind.high:.0f} to {reading / kind.low:.0f} µmol/m²/s.")


def day(sheet: Sheet) -> None:
    """The light of a day from lamps and sun, beside the aim."""
    if not is_told(sheet):
        return
    ppfd = sheet.result("light.ppfd")
    hours = 0.0 if sheet.text(BY) == NO_LAMPS else sheet["light.hours"] / HOUR
    from_lamps = sheet.work("light.dli_lamps", physics.daily_light, ppfd=ppfd, hours=hours)
    total = from_lamps + sheet.result("light.dli_sun")
    sheet.put("light.dli", total, note="From the lamps and from the sun, together.")
    wanted = sheet.result("light.dli_target")
    sheet.put("light.dli_share", total / wanted, note="Daily light, divided by the aim; 100 % is the aim.")
    missing = max(wanted - sheet.result("light.dli_sun"), 0.0)
    if hours > 0.0:
        sheet.work("light.ppfd_needed", physics.flux_for_daily_light, dli=missing, hours=hours)
    enough = {"dli": missing, "ppfd": ppfd}
    if ppfd > 0.0 and physics.hours_for_daily_light(**enough) <= physics.HOURS_A_DAY:
        sheet.put("light.hours_needed", physics.hours_for_daily_light(**enough) * HOUR, physics.hours_for_daily_light,
                  enough, note="Light still wanted, over what the lamps bring in an hour.")
    _shade(sheet, from_lamps)
    _judge(sheet, total, wanted, hours)


def _shade(sheet: Sheet, from_lamps: float) -> None:
    """Where sun and lamps bring more than the crop needs at most: the shade for it, and the cloth that is sold."""
    if sheet.text(SUN) not in (MAP, STATION):
        return
    most = sheet.result_if_any("crops.dli_high") or data.TIPBURN_MOL
    left = 1.0 - sheet["light.shade"]
    bare = sheet.result("light.dli_sun") / left
    if bare <= 0.0 or from_lamps >= most or bare + from_lamps <= MUCH * most:
        return
    sheet.work("light.shade_needed", physics.shade_needed, sun_dli=bare, lamp_dli=from_lamps, most_dli=most)
    # A little light too much does less harm than too little, so the thinnest that comes near enough.
    sold = next((cloth for cloth in data.CLOTHS if bare * (1.0 - cloth) + from_lamps <= MUCH * most), data.CLOTHS[-1])
    sheet.put("light.cloth", sold, note="The thinnest of what is sold that brings it within a tenth of that. Take it "
              "off when the days get dull.",
              source=data.CLOTHS_SOURCE)


def _judge(sheet: Sheet, total: float, wanted: float, hours: float) -> None:
    def say(value: float) -> str:
        return sheet.shown_as("light.dli", value)
    most = sheet.result_if_any("crops.dli_high") or data.TIPBURN_MOL
    if total < 0.9 * wanted:
        sheet.caution("light-low", "warning", f"Light: {say(total)} is under the {say(wanted)} aimed for. Plants grow "
                      "slower and thinner, no fertilizer makes up for it, and the calendar's days do not hold.",
                      lead="Too little light",
                      brief=f"{say(total)} where {say(wanted)} is aimed for: plants grow slower and thinner.")
    elif total > 1.1 * most:
        enough = sheet.result_if_any("light.hours_needed")
        cloth = sheet.result_if_any("light.cloth")
        shorter = (f" {sheet.shown('light.hours_needed')} a day reach the aim."
                   if enough and hours > 0.0 else "")
        if cloth is not None and cloth > sheet["light.shade"]:
            shorter += f" Shade cloth of {sheet.shown('light.cloth')} brings it down."
        sheet.caution("light-high", "note", f"Light: {say(total)} is more than the {say(most)} that the crop is said "
                      "to need. Lettuce may burn at the leaf tips unless the air moves" + (
                          ", and power is wasted." if hours > 0.0 else ".") + shorter, lead="Much light",
                      brief=f"{say(total)}, and the crop needs {say(most)} at most: leaf tips may burn.")
    if hours > LONG_DAY_H:
        sheet.caution("light-night", "note", f"Light for {number(hours)} hours leaves little night. Some plants flower "
                      "early or suffer under it; look up your crop, and prefer brighter over longer.",
                      lead="Little night", brief=f"{number(hours)} hours of light: some plants flower early under it.")


def draw(sheet: Sheet) -> None:
    """What the lamps draw, and what that makes in a day."""
    by = sheet.text(BY)
    if by == NO_LAMPS:
        sheet.put("light.power", 0.0, note="No lamps.")
        sheet.put("light.energy_per_day", 0.0, note="No lamps.")
        return
    if by == LAMP:
        watts = sheet.result("light.lamps", int) * sheet["light.lamp_power"]
        note = "Power of one lamp, times the lamps counted."
    else:
        watts, note = sheet.input("light.all_power", float), "As you put it in."
    sheet.put("light.power", watts, note=note)
    sheet.work("light.energy_per_day", electricity.energy_used, power_w=watts, hours=sheet["light.hours"] / HOUR)
    limit = electricity.continuous_limit(rating_a=sheet["energy.breaker"], voltage_v=sheet["energy.voltage"])
    if watts > limit:
        sheet.caution("light-circuit", "danger",
                      f"Lamps of {sheet.shown_as('light.power', watts)} together are more than the "
                      f"{sheet.shown_as('energy.circuit_limit', limit)} that one such circuit should carry for three "
                      "hours or more, before any pump. Have a licensed electrician plan the circuits.",
                      lead="Lamps overload circuit",
                      brief=f"{sheet.shown_as('light.power', watts)} where "
                            f"{sheet.shown_as('energy.circuit_limit', limit)} is the most it should carry.")


def lamp_cautions(sheet: Sheet) -> None:
    """Lamps hang over water and over hands."""
    if sheet.text(BY) == NO_LAMPS:
        return
    sheet.caution("light-over-water", "danger",
                  "Lamps above water: use lamps made for wet places, with the IP or wet-location mark that local code "
                  "asks for, on a GFCI (RCD) protected outlet with a drip loop in the cord. Hang each by two fixings "
                  "that do not rust, so that it cannot drop into the bath; keep plugs and drivers out of the splash "
                  "and the heat, clear of foam. Fixed wiring is a licensed electrician's work.",
                  lead="Lamps above water", brief="Lamps for wet places, GFCI (RCD), two fixings each, clear of foam.",
                  standing=True)
    sheet.caution("light-eyes", "warning",
                  "Bright lamps hurt eyes: do not look into them, work in the dimmed or switched-off light, and hang "
                  "them so that children do not look up into them from close by.", lead="Bright lamps",
                  brief="Do not look into them, and dim them before you work.")


def tables(sheet: Sheet) -> None:
    """The factors that are used, with their sources."""
    sheet.put("light.factors", [{"source": one.words, "lux": one.lux_per_umol, "low": one.low, "high": one.high,
                                 "umol": 1.0 / one.lux_per_umol, "from": one.source}
                                for one in data.SOURCES.values()],
              note="Lux for each µmol/m²/s: the factor used, and the range seen.")
    sheet.put("light.efficacies", [{"lamp": words, "low": low, "high": high, "from": source}
                                   for words, low, high, source in data.EFFICACIES],
              note="Photons for each joule at the outlet.")


STEPS = (target, area, sun, lamps, day, draw, lamp_cautions, tables, judge)
