"""How much water the plants drink, when to top up, what that does to the salts, and when to start afresh."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, isfinite
from typing import TYPE_CHECKING

from ..data import light as light_data
from ..data import use as data
from ..declare import Choice, Field, Result, Row, Verdict
from ..errors import OutOfRange, Unanswered
from ..figures import number as figures
from ..numeric.swings import of_product, of_sum
from ..relations import use as physics
from ..relations.heat import latent_heat
from ..relations.light import sunshine_of_daily_light
from . import gathering, leaving, scheme
from .drifting import ph_drift
from .light import is_told
from .vessel import volume_to
from .verdicts.use import judge, whole_days

if TYPE_CHECKING:
    from ..sheet import Sheet

NAME = "use"
TITLE = "Water used and topped up"
QUESTION = "How much do the plants drink, when do I top up, and when do I start afresh?"
VERDICT = Verdict("Top-up", {"fits": "The water lasts.", "tight": "Away too long.", "fails": "Dry within a day.",
                             "open": "The use of water needs an answer."})

DAY = 86400.0
LITRES = 1000.0
HORIZON_D, LONGEST_CYCLE_D = 28.0, 14.0
MOST_DRUNK = 0.9
LOW, LIKELY, HIGH = "low", "likely", "high"
BANDS = (LOW, LIKELY, HIGH)
BASIS = "use.basis"
FEED_ANALYSIS = {"sodium": "feed.water_na", "chloride": "feed.water_cl"}
HIGHEST, PRACTICE, MASS, LIGHT, OWN = "highest", "practice", "mass", "light", "own"
WAYS = {PRACTICE: "What growers reckon for a plant", MASS: "Published liters for each kilogram",
        LIGHT: "Heat balance, from the light"}
SOURCES = {MASS: f"{data.LITRES_PER_KG.source}; {data.PEAK.source}",
           LIGHT: f"{data.SUN_SHARE.source}; {data.LAMP_SHARE.source}; {light_data.LAMP_MOL_SOURCE}"}

FIELDS = (
    Field(BASIS, "choice", "Water use to plan with", (HIGHEST, HIGHEST), choices=(
        Choice(HIGHEST, "The highest of the three ways below"), Choice(PRACTICE, WAYS[PRACTICE]),
        Choice(MASS, WAYS[MASS]), Choice(LIGHT, WAYS[LIGHT]), Choice(OWN, "What I measured")),
          help="all three are shown either way; they seldom agree", why="the safe side for topping up and for salts"),
    Field("use.litres_per_plant", "volume", "Water one plant drinks a day", ("5 fl oz", "150 mL"), 0.0, 0.05,
          "fl oz", "mL", help="three days' top-up, over the days and the plants",
          why="an invented example; measure yours", when=((BASIS, (OWN,)),)),
    Field("use.fresh_mass", "mass", "Mass of a plant at harvest", ("", ""), 0.001, 20.0, "oz", "g",
          help="one plant on a scale; empty: from the crop", why=data.FRESH_MASS_SOURCE, optional=True),
    Field("use.days", "time", "Transplant to harvest", ("", ""), DAY, 400 * DAY, "d", "d",
          help="how long a plant is in the bath; empty: from the crop", optional=True,
          why="empty: the calendar's days on the raft"),
    Field("use.cover", "ratio", "Lit area leaves cover", ("100 %", "100 %"), 0.01, 1.0, "%", "%",
          help="at the fullest; heads of all ages side by side cover less",
          why="a full raft near harvest drinks most"),
    Field("use.least", "ratio", "Least water in reservoir", ("30 %", "30 %"), 0.0, 0.95, "%", "%",
          help="share that stays, so that the pump is under water",
          why=f"30 %: {data.JUDGMENT}", when=scheme.WITH_RESERVOIR),
    Field("use.fall", "length", "How far the water may fall", ("2 in", "50 mm"), 0.001, 3.0, "in", "mm",
          help="below full, before a top-up; stones covered, board afloat",
          why=f"a hand's breadth of roots stays wet: {data.JUDGMENT}", when=scheme.ONE_VESSEL),
    Field("use.holiday", "time", "Time away without top-up", ("14 d", "14 d"), 0.0, 365 * DAY, "d", "d",
          help="the reservoir is sized for it", why="a guess: two weeks"),
    Field("use.target_ec", "conductivity", "EC aimed for in the bath", ("", ""), 0.1, 10.0, "mS/cm",
          "mS/cm", help="empty: that of your mix, or else 1.6 mS/cm", why="1.6 is a middling leaf solution",
          optional=True),
    Field("use.source_ec", "conductivity", "EC of the source water", ("", ""), 0.0, 5.0,
          "mS/cm", "mS/cm", help="your meter in plain tap water; reverse-osmosis water is near 0",
          why="empty: as under Nutrients", optional=True),
    Field("use.topup_strength", "ratio", "Strength of the top-up", ("90 %", "90 %"), 0.0, 2.0, "%", "%",
          help="100 %: as the first fill; 0 %: plain water",
          why="80 to 100 %: common practice, no published source"),
    Field("use.uptake", "conductivity", "Nutrients taken, each liter", ("1.4 mS/cm", "1.4 mS/cm"), 0.0,
          6.0, "mS/cm", "mS/cm", help="as EC, with each liter drunk; dry air lowers it",
          why=data.UPTAKE_SOURCE),
    Field("use.sodium", "concentration", "Sodium in the source water", ("", ""), 0.0, 2000.0, "mg/L",
          "mg/L", help="from the water supplier's yearly report; softened water has much",
          why="empty: as under Nutrients", optional=True),
    Field("use.chloride", "concentration", "Chloride in the source water", ("", ""), 0.0, 2000.0,
          "mg/L", "mg/L", help="from the same report; it is not chlorine", why="empty: as under Nutrients",
          optional=True),
    Field("use.salt_uptake", "concentration", "Salt taken, each liter",
          ("5 mg/L", "5 mg/L"), 0.0, 200.0, "mg/L", "mg/L", help="sodium, and as much chloride; leaf crops take little",
          why=f"5 mg/L: {data.JUDGMENT}"),
    Field("use.sodium_limit", "concentration", "Most sodium in the bath", ("70 mg/L", "70 mg/L"), 1.0, 5000.0,
          "mg/L", "mg/L", help="past it, a full change is due", why=data.LIMIT_SOURCE),
    Field("use.chloride_limit", "concentration", "Most chloride in the bath", ("100 mg/L", "100 mg/L"), 1.0, 5000.0,
          "mg/L", "mg/L", help="past it, a full change is due", why=data.LIMIT_SOURCE),
    *gathering.FIELDS,
    Field("use.volumes", "number", "Full change after fills", ("3", "3"), 0.1, 1000.0,
          help="water topped up over all the water; more if tests show balance",
          why="2 to 3: from memory, not verified"),
    Field("use.calendar", "time", "Full change at the latest", ("56 d", "56 d"), DAY, 3650 * DAY, "d", "d",
          help="between crops is the easy time",
          why="every 4 to 8 weeks: from memory, not verified. In one trial basil in small units grew as well for 8 "
              "weeks with nutrients added and no full change"),
)
TABLES = ()

RESULTS = (
    Result("use.ways", "rows", "Water used, by three ways"),
    Result("use.by_practice_low", "volume", "Water a day, all plants, by what growers reckon, low", "gal", "L"),
    Result("use.by_practice", "volume", "Water a day, all plants, by what growers reckon, likely", "gal", "L"),
    Result("use.by_practice_high", "volume", "Water a day, all plants, by what growers reckon, high", "gal", "L"),
    Result("use.by_mass_low", "volume", "Water a day, all plants, by liters for each kilogram, low", "gal", "L"),
    Result("use.by_mass", "volume", "Water a day, all plants, by liters for each kilogram, likely", "gal", "L"),
    Result("use.by_mass_high", "volume", "Water a day, all plants, by liters for each kilogram, high", "gal", "L"),
    Result("use.by_light_low", "volume", "Water a day, all plants, by the light, low", "gal", "L"),
    Result("use.by_light", "volume", "Water a day, all plants, by the light, likely", "gal", "L"),
    Result("use.by_light_high", "volume", "Water a day, all plants, by the light, high", "gal", "L"),
    Result("use.heat_ceiling", "volume", "Most that lamps and sun could evaporate in a day, all baths", "gal", "L"),
    Result("use.per_plant", "volume", "Water of one plant a day", "fl oz", "mL"),
    Result("use.per_day", "volume", "Water a day, all plants", "gal", "L"),
    *leaving.RESULTS,
    Result("use.usable", "volume", "Water that may be used before you top up, all of it", "gal", "L"),
    Result("use.fall_per_day", "length", "The water falls each day by", "in", "mm"),
    Result("use.days_to_top_up", "time", "Top up within", "d", "d"),
    Result("use.holiday_reservoir", "volume", "Reservoir for the time away, running", "gal", "L"),
    Result("use.holiday_short", "volume", "Water that your reservoir lacks for that time", "gal", "L"),
    Result("use.holiday_ec", "conductivity", "EC when you come back", "mS/cm", "mS/cm"),
    Result("use.holiday_nutrients", "conductivity", "Nutrients in that, as EC", "mS/cm", "mS/cm"),
    Result("use.topup_ec", "conductivity", "EC of the top-up", "mS/cm", "mS/cm"),
    Result("use.hold_ec", "conductivity", "Top-up that would hold the nutrients steady", "mS/cm", "mS/cm"),
    Result("use.drift", "rows", "EC over four weeks"),
    Result("use.ec_feed", "conductivity", "After four weeks, topped up with that solution", "mS/cm", "mS/cm"),
    Result("use.ec_feed_low", "conductivity", "The same, if plants take more", "mS/cm", "mS/cm"),
    Result("use.ec_feed_high", "conductivity", "The same, if plants take less", "mS/cm", "mS/cm"),
    Result("use.ec_plain", "conductivity", "After four weeks, topped up with plain water", "mS/cm", "mS/cm"),
    Result("use.nutrients_plain", "conductivity", "Nutrients in that, as EC", "mS/cm", "mS/cm"),
    Result("use.sodium_after", "time", "Sodium reaches its limit after", "d", "d"),
    Result("use.chloride_after", "time", "Chloride reaches its limit after", "d", "d"),
    Result("use.volumes_after", "time", "That many fills are topped up after", "d", "d"),
    Result("use.replace_after", "time", "Full change after", "d", "d"),
    Result("use.replace_reason", "text", "First to tell"),
    *gathering.RESULTS,
    Result("use.bleed", "ratio", "Drain off instead, for each liter drunk", "%", "%"),
)


def _plants(sheet: Sheet) -> float:
    """Plants that drink: as counted for oxygen, every site of every bath unless the reader said otherwise."""
    return sheet.result("oxygen.plant_count")


def _practice(sheet: Sheet) -> tuple[float, float, float, str]:
    """Litres a day of one plant, low, likely and high, and where from: the crop's own row, or late lettuce."""
    low, high = sheet.result_if_any("crops.water_low"), sheet.result_if_any("crops.water_high")
    if low is None or high is None:
        band = data.PRACTICE_L_D
        return band.low / LITRES, band.likely / LITRES, band.high / LITRES, band.source
    return low, (low + high) / 2.0, high, "your crops' row in the crop table"


def by_practice(sheet: Sheet) -> None:
    """What growers reckon for each plant, times the plants."""
    low, likely, high, source = _practice(sheet)
    plants = _plants(sheet)
    sheet.put("use.by_practice", likely * plants, note="Water of one plant in its last weeks, times the plants.",
              source=source)
    _ends(sheet, PRACTICE, low * plants, high * plants, source, "")


def _days(sheet: Sheet) -> float:
    """Days from transplant to harvest: as typed, or the crops' own, by the plants of each in the calendar."""
    typed = sheet.optional("use.days")
    if typed is not None:
        return float(typed) / DAY
    rows = sheet.rows_if_any("schedule.per_crop")
    # Where the sites are too few for any batch, each crop counts alike.
    counted = [row for row in rows if row["plants"]] or [{**row, "plants": 1} for row in rows]
    if not counted:
        return data.RAFT_DAYS
    return float(sum(row["plants"] * row["raft_days"] for row in counted) / sum(row["plants"] for row in counted))


def by_mass(sheet: Sheet) -> None:
    """Litres for each kilogram of crop, spread over its days, raised to the last days."""
    mass = sheet.optional("use.fresh_mass") or sheet.result_if_any("crops.fresh_mass") or data.FRESH_MASS_KG
    # A crop that is cut again makes more than its first harvest in its longer stay.
    mass *= sheet.result_if_any("schedule.harvest_factor") or 1.0
    plants, days = _plants(sheet), _days(sheet)
    found = {which: plants * getattr(data.PEAK, which) / LITRES * physics.water_from_mass(
        fresh_mass_kg=mass, litres_per_kg=getattr(data.LITRES_PER_KG, which), days=days) for which in BANDS}
    sheet.put("use.by_mass", found[LIKELY], note=f"{sheet.shown_as('use.fresh_mass', mass)} of plant at "
              f"{data.LITRES_PER_KG.likely:g} L/kg over {figures(days)} days, times {data.PEAK.likely:g} for the last "
              "days, times the plants.", source=SOURCES[MASS])
    low, high = (found[LIKELY] * of_product(getattr(band, which) / band.likely
                                            for band in (data.PEAK, data.LITRES_PER_KG)) for which in (LOW, HIGH))
    least, most = (sheet.shown_as("use.by_mass", found[which]) for which in (LOW, HIGH))
    _ends(sheet, MASS, low, high, SOURCES[MASS], f"All at their ends at once: {least} to {most}.")


def by_light(sheet: Sheet) -> None:
    """Heat that falls on the leaves with the light, and the water that it evaporates."""
    if not is_told(sheet):
        return
    area = sheet.result("light.area_lit") * sheet["use.cover"]
    lamp_mj = sheet.result("light.dli_lamps") / light_data.LAMP_MOL_PER_MJ
    sun_mj = sunshine_of_daily_light(dli=sheet.result("light.dli_sun"))
    air = sheet["place.air_temperature"]
    parts = [{which: physics.water_from_light(radiation_mj_m2=mj, share=getattr(share, which), temperature_c=air)
              for which in BANDS} for mj, share in ((lamp_mj, data.LAMP_SHARE), (sun_mj, data.SUN_SHARE))]
    # No plants, no leaves.
    area *= 1.0 if _plants(sheet) > 0 else 0.0
    likely = sum(part[LIKELY] for part in parts) * area / LITRES
    low, high = (likely + of_sum(part[which] - part[LIKELY] for part in parts) * area / LITRES for which in (LOW, HIGH))
    sheet.put("use.by_light", likely, note=f"{figures(lamp_mj, 2)} MJ/m² from lamps and {figures(sun_mj, 2)} from the "
              "sun in a day, shared out between evaporation and warmth, on the area that leaves cover.",
              source=SOURCES[LIGHT])
    _ends(sheet, LIGHT, low, high, SOURCES[LIGHT], "")


def _ends(sheet: Sheet, way: str, low: float, high: float, source: str, at_worst: str) -> None:
    how = "The ends of each stated band are its 5th and 95th percentile, and their swings are combined in quadrature."
    for end, value, words in (("low", low, "less"), ("high", high, "more")):
        sheet.put(f"use.by_{way}_{end}", value, note=f"One bath in twenty takes {words}. {how} {at_worst}".strip(),
                  source=source)


def ways(sheet: Sheet) -> None:
    """The ways side by side, as far as each could be worked out."""
    rows = []
    for way, words in WAYS.items():
        likely = sheet.result_if_any(f"use.by_{way}")
        if likely is not None:
            rows.append({"way": words, "low": sheet.result(f"use.by_{way}_low"), "likely": likely,
                         "high": sheet.result(f"use.by_{way}_high"), "source": SOURCES.get(way) or _practice(sheet)[3]})
    sheet.put("use.ways", rows, note="For all plants at their thirstiest: low, likely and high.")


def per_day(sheet: Sheet) -> None:
    """The use to plan with, by the way chosen."""
    basis, plants = sheet.text(BASIS), _plants(sheet)
    if basis == OWN:
        total, note = sheet["use.litres_per_plant"] * plants, "As you measured it, times the plants."
    elif basis == HIGHEST:
        found = [(value, way) for way in WAYS if (value := sheet.result_if_any(f"use.by_{way}")) is not None]
        total, way = max(found)
        note = f"The highest of the ways that could be worked out: {WAYS[way].lower()}."
    else:
        total, note = sheet.result(f"use.by_{basis}"), f"By the way you chose: {WAYS[basis].lower()}."
    sheet.put("use.per_day", total, note=note)
    if plants > 0:
        sheet.put("use.per_plant", total / plants, note="All plants' water, over the plants.")


def ceiling(sheet: Sheet) -> None:
    """What would evaporate if all the power of the lamps and all the sun on the raft went into it."""
    if not is_told(sheet):
        return
    area = sheet.result("light.area_lit")
    sun_mj = sunshine_of_daily_light(dli=sheet.result("light.dli_sun"))
    lamp_mj = sheet.result("light.energy_per_day") * 3.6 / area
    most = area * physics.water_from_light(radiation_mj_m2=sun_mj + lamp_mj, share=1.0,
                                           temperature_c=sheet["place.air_temperature"]) / LITRES
    sheet.put("use.heat_ceiling", most, note="All the power that the lamps draw and all the sun on the lit area, over "
              "the heat that evaporates water.", source=latent_heat.relation.source)
    planned = sheet.result("use.per_day")
    if planned > most:
        sheet.caution("use-above-heat", "note",
                      f"Water: {sheet.shown('use.per_day')} a day is more than the "
                      f"{sheet.shown_as('use.heat_ceiling', most)} that all the heat of your lamps and sun could "
                      "evaporate. Unless the room is warm, dry and airy, your plants will drink less, and grow slower "
                      "than the figures by mass suppose.", lead="More than heat allows",
                      brief=f"{sheet.shown('use.per_day')} a day is more than lamps and sun could evaporate.")


def top_up(sheet: Sheet) -> None:
    """Days until the reservoir is low, and a reservoir for the time away."""
    if not scheme.circulates(sheet):
        return _fall(sheet)
    use_l = sheet.result("use.gone") * LITRES
    reservoir_l, least = sheet.result("water.reservoir_volume") * LITRES, sheet["use.least"]
    sheet.put("use.usable", reservoir_l * (1.0 - least) / LITRES,
              note="Water in the reservoir while running, less what must stay.")
    days = sheet["use.holiday"] / DAY
    needed = physics.reservoir_for_days(use_l_d=use_l, days=days, least_share=least)
    sheet.put("use.holiday_reservoir", needed / LITRES, physics.reservoir_for_days,
              {"use_l_d": use_l, "days": days, "least_share": least})
    sheet.put("use.holiday_short", max(needed - reservoir_l, 0.0) / LITRES,
              note="Reservoir for the time away, less the water in yours while running; 0 when it is enough.")
    _room(sheet, needed / LITRES)
    if sheet.result("use.per_day") <= 0.0:
        raise Unanswered("oxygen.plants")
    left = physics.days_to_low(reservoir_l=reservoir_l, least_share=least, use_l_d=use_l)
    sheet.put("use.days_to_top_up", left * DAY, physics.days_to_low,
              {"reservoir_l": reservoir_l, "least_share": least, "use_l_d": use_l})
    if left < 1.0:
        sheet.caution("use-thirsty", "warning",
                      "Water: the reservoir is low within a day. Take a larger one, or a float valve that is fed from "
                      "a barrel of limited size, so that a stuck valve cannot flood the room.", lead="Dry within a day",
                      brief="The reservoir is low within a day: take a larger one, or a barrel with a float valve.")
    elif left < days:
        sheet.caution("use-away", "note",
                      f"Water lasts {whole_days(left)}, and you plan to be away {whole_days(days)}. Somebody must "
                      "top up, or a barrel must fill the reservoir.", lead="Away too long",
                      brief=f"Water lasts {whole_days(left)}, and you plan to be away {whole_days(days)}.")


def _fall(sheet: Sheet) -> None:
    """One vessel: how fast its water falls, and when it is down to what was allowed."""
    depth, fall = sheet["bath.water_depth"], sheet["use.fall"]
    if fall >= depth:
        limit = sheet.shown_as("use.fall", depth)
        sheet.fault("use.fall", f"How far the water may fall must be less than the water depth, {limit}.",
                    {"bath.water_depth": ""})
    baths = sheet.whole("bath.count")
    usable = baths * (sheet.result("water.bath_volume") - volume_to(sheet, "bath", depth - fall)[0])
    sheet.put("use.usable", usable, note="Water between the full level and the lowest you allow.")
    per_day = sheet.result("use.gone")
    if sheet.result("use.per_day") <= 0.0:
        raise Unanswered("oxygen.plants")
    sheet.put("use.fall_per_day", per_day / (baths * sheet.result("water.surface_area")),
              note="Water used in a day, over the surface of the baths.")
    left = usable / per_day
    sheet.put("use.days_to_top_up", left * DAY, note="Water that may be used, over the use of a day.")
    days, still = sheet["use.holiday"] / DAY, not scheme.has_air(sheet)
    if left < 1.0:
        sheet.caution("use-thirsty", "warning", "Water: it is down to the lowest you allow within a day. Take a deeper "
                      f"vessel{'' if still else ', or top up twice a day'}.", lead="Dry within a day",
                      brief="It is down to the lowest you allow within a day: take a deeper vessel.")
    elif left < days:
        act = "add a little, never up to the board" if still else "top up"
        sheet.caution("use-away", "note", f"Water lasts {whole_days(left)}, and you plan to be away "
                      f"{whole_days(days)}. Somebody must {act}.", lead="Away too long",
                      brief=f"Water lasts {whole_days(left)}, and you plan to be away {whole_days(days)}.")


def _room(sheet: Sheet, needed: float) -> None:
    """A reservoir filled for a time away must still take what runs back when the pump stops."""
    capacity, back = sheet.result_if_any("water.reservoir_capacity"), sheet.result_if_any("water.drain_back_volume")
    have = sheet.result("water.reservoir_volume")
    if capacity is not None and back is not None and needed > have and needed + back > capacity:
        sheet.caution("use-no-room", "note",
                      f"Reservoir: {sheet.shown_as('water.reservoir_volume', needed)} for your time away, and "
                      f"{sheet.shown('water.drain_back_volume')} that runs back when the pump stops, are more than it "
                      "holds. Do not fill it higher; add a barrel.", lead="No room for more",
                      brief=f"{sheet.shown_as('water.reservoir_volume', needed)} for your time away does not fit: "
                            "add a barrel.")


def source_ec(sheet: Sheet) -> float:
    """Conductivity of the source water in mS/cm: as put in here, or what the feed was worked out with."""
    typed = sheet.optional("use.source_ec")
    return sheet.result("feed.water_conductivity") if typed is None else typed


def source_salt(sheet: Sheet, salt: str) -> float:
    """Sodium or chloride of the source water in mg/L: as put in here, or as under Feed."""
    typed = sheet.optional(f"use.{salt}")
    return sheet[FEED_ANALYSIS[salt]] if typed is None else typed


def _target(sheet: Sheet) -> float:
    typed = sheet.optional("use.target_ec")
    return typed if typed is not None else sheet.result_if_any("feed.ec") or 1.6


def strength(sheet: Sheet) -> None:
    """What is topped up, and what would hold the nutrients steady."""
    source, target = source_ec(sheet), _target(sheet)
    if source >= target:
        sheet.fault("use.source_ec", "EC of the source water leaves no room for nutrients: it must be less "
                    f"than the {sheet.shown_as('use.target_ec', target)} aimed for in the bath.",
                    {"use.target_ec": "EC aimed for leaves no room for nutrients: it must be more than the "
                                      f"{sheet.shown_as('use.target_ec', source)} of the source water."})
    sheet.put("use.topup_ec", source + sheet["use.topup_strength"] * (target - source),
              note="Source water, plus that share of the nutrients of the first fill.")
    sheet.put("use.hold_ec", source + sheet["use.uptake"],
              note="Source water, plus the nutrients that plants take with each liter. The meter would still creep up "
                   "by what the source water leaves behind.", source=data.UPTAKE_SOURCE)


@dataclass(frozen=True)
class Bath:
    """Water that is topped up: litres, litres drunk each time, conductivities in mS/cm, days from one time to the next.

    ``nutrients`` and ``source`` add up to what the meter shows; ``feed`` is the nutrients in the feed topped up.
    """

    volume_l: float
    drunk_l: float
    cycle_d: float
    nutrients: float
    source: float
    feed: float


def drifting(bath: Bath, uptake: float, cycles: int) -> list[Row]:
    """Rows of day and conductivity, just before and just after each top-up, with the feed and with plain water.

    What the source water brings stays, as if plants took none of it; nutrients leave as the plants take them.
    """
    start = bath.nutrients + bath.source
    rows = [{"day": 0.0, **{way + end: start for way in ("plain", "feed") for end in ("", "_before")},
             "plain_nutrients": bath.nutrients, "feed_nutrients": bath.nutrients}]
    state = {"plain": (bath.nutrients, bath.source), "feed": (bath.nutrients, bath.source)}
    added = bath.drunk_l / bath.volume_l
    for number in range(1, cycles + 1):
        row = {"day": number * bath.cycle_d}
        for way, brought in (("plain", 0.0), ("feed", bath.feed)):
            level, rest = state[way]
            before = physics.nutrients_left(nutrients_ms_cm=level, volume_l=bath.volume_l, drunk_l=bath.drunk_l,
                                            uptake_ms_cm=uptake, critical_ms_cm=data.CRITICAL_MS_CM)
            row[way + "_before"] = before + physics.left_behind(level_ms_cm=rest, volume_l=bath.volume_l,
                                                                drunk_l=bath.drunk_l)
            state[way] = before * (1.0 - added) + brought * added, rest + bath.source * added
            row[way], row[way + "_nutrients"] = sum(state[way]), state[way][0]
        rows.append(row)
    return rows


def drift(sheet: Sheet) -> None:
    """Conductivity over four weeks of topping up: nutrients, and what the source water leaves behind."""
    source, uptake = source_ec(sheet), sheet["use.uptake"]
    use_l, volume_l = sheet.result("use.per_day") * LITRES, sheet.result("water.working_volume") * LITRES
    due = min(max(sheet.result("use.days_to_top_up") / DAY, 1.0), LONGEST_CYCLE_D)
    cycles = ceil(HORIZON_D / due * (1.0 - 1e-12))
    cycle = HORIZON_D / cycles
    if use_l * cycle > MOST_DRUNK * volume_l:
        raise OutOfRange("The plants drink nearly all of the water within a day; no drift can be told for so little.")
    bath = Bath(volume_l, use_l * cycle, cycle, _target(sheet) - source, source, sheet.result("use.topup_ec") - source)
    rows = drifting(bath, uptake, cycles)
    sheet.put("use.drift", rows, note="Topped up to the same level each time: nutrients by what plants take, and the "
              "rest of the source water as if it all stayed. Topped up in equal steps, as soon as it is due or sooner, "
              "at least every two weeks and daily at the most.", source=f"{data.UPTAKE_SOURCE}; {data.CRITICAL_SOURCE}")
    for key, column in (("ec_feed", "feed"), ("ec_plain", "plain"), ("nutrients_plain", "plain_nutrients")):
        sheet.put(f"use.{key}", rows[-1][column], note=f"After {HORIZON_D:.0f} days, just topped up.")
    for key, spread in (("low", data.UPTAKE_SPREAD_MS_CM), ("high", -data.UPTAKE_SPREAD_MS_CM)):
        other = drifting(bath, max(uptake + spread, 0.0), cycles)
        sheet.put(f"use.ec_feed_{key}", other[-1]["feed"], note="The same, with plants that take "
                  f"{data.UPTAKE_SPREAD_MS_CM:g} mS/cm {'more' if spread > 0 else 'less'} with each liter.")
    if rows[-1]["feed"] > 1.25 * rows[0]["feed"]:
        sheet.caution("use-rising", "note", "EC creeps up with this top-up. Make it weaker, or top up with "
                      "plain water now and then; a rising meter with hungry plants means that salts of the source "
                      "water gather.", lead="EC creeps up",
                      brief="Make the top-up weaker, or use plain water now and then.")
    elif rows[-1]["feed"] < 0.75 * rows[0]["feed"]:
        sheet.caution("use-falling", "note", "EC falls with this top-up: the plants take more than it "
                      "brings. Make it stronger.", lead="EC falls",
                      brief="Plants take more than this top-up brings: make it stronger.")


def away(sheet: Sheet) -> None:
    """What the meter shows after the time away with nothing topped up, as long as the water lasts."""
    volume_l = sheet.result("water.working_volume") * LITRES
    drunk, gone = (sheet.result(key) * LITRES * sheet["use.holiday"] / DAY for key in ("use.per_day", "use.gone"))
    if gone > MOST_DRUNK * volume_l:
        raise OutOfRange("The plants would drink nearly all of the water in your time away; there is no EC "
                         "to tell.")
    # What evaporates takes no salt along: the same salts in so much less water, of which plants then drink.
    thicker = volume_l / (volume_l - (gone - drunk))
    source, volume_l = source_ec(sheet) * thicker, volume_l / thicker
    left = sheet.work("use.holiday_nutrients", physics.nutrients_left,
                      nutrients_ms_cm=_target(sheet) * thicker - source, volume_l=volume_l, drunk_l=drunk,
                      uptake_ms_cm=sheet["use.uptake"], critical_ms_cm=data.CRITICAL_MS_CM)
    sheet.put("use.holiday_ec", left + physics.left_behind(level_ms_cm=source, volume_l=volume_l, drunk_l=drunk),
              note="Nutrients left, plus the source water's salts, in what drink and evaporation leave of the water.")


def salts(sheet: Sheet) -> None:
    """When sodium and chloride reach their limits, and when to replace the water."""
    use_l, volume_l = sheet.result("use.gone") * LITRES, sheet.result("water.working_volume") * LITRES
    reasons = [(sheet["use.calendar"], "The calendar")]
    for salt in ("sodium", "chloride"):
        there, limit = source_salt(sheet, salt), sheet[f"use.{salt}_limit"]
        arguments = {"volume_l": volume_l, "use_l_d": use_l, "start_mg_l": there, "limit_mg_l": limit,
                     "incoming_mg_l": there, "uptake_mg_l": sheet["use.salt_uptake"]}
        days = physics.days_to_salt(**arguments)
        if isfinite(days):
            sheet.put(f"use.{salt}_after", days * DAY, physics.days_to_salt, arguments)
            reasons.append((days * DAY, salt.capitalize()))
        _warn_of_source(sheet, salt, there, limit)
    if use_l > 0.0:
        after = sheet["use.volumes"] * volume_l / use_l * DAY
        sheet.put("use.volumes_after", after, note="Fills to top up, times the water there is, over the water used.")
        reasons.append((after, "Fills topped up"))
    first, reason = min(reasons)
    sheet.put("use.replace_after", first, note="The earliest of sodium, chloride, fills topped up and the calendar. "
              "Brown or smelling roots come before all of them: change all of it at once.", source=data.LIMIT_SOURCE)
    sheet.put("use.replace_reason", reason, note="Which of the four comes first.")
    sheet.caution("use-spent-water", "note", "Spent solution is thin fertilizer: give it to garden soil, never to a "
                  "stream or a storm drain, and follow local rules.", lead="Spent solution",
                  brief="Give it to garden soil, never to a stream or a storm drain.")


def _warn_of_source(sheet: Sheet, salt: str, there: float, limit: float) -> None:
    usual = data.SOURCE_SODIUM_MG_L if salt == "sodium" else data.SOURCE_CHLORIDE_MG_L
    def say(value: float) -> str:
        return sheet.shown_as("use.sodium", value)
    if there >= limit:
        sheet.caution(f"use-{salt}", "warning", f"{salt.capitalize()}: the source water has {say(there)}, the limit "
                      f"of {say(limit)} or more before anything is grown. Use reverse-osmosis or distilled water, or "
                      "mix it in.", lead=f"{salt.capitalize()} in source water",
                      brief=f"{say(there)} is at the limit of {say(limit)} before anything grows.")
    elif there > usual:
        sheet.caution(f"use-{salt}", "warning", f"{salt.capitalize()}: the source water has {say(there)}; below "
                      f"{say(usual)} is asked for (Mattson & Peters). Mix in reverse-osmosis or distilled water.",
                      lead=f"{salt.capitalize()} in source water",
                      brief=f"{say(there)}, and below {say(usual)} is asked for: mix in reverse-osmosis water.")


def bleed(sheet: Sheet) -> None:
    """What to drain off all along, so that the water need never be replaced for sodium."""
    there, limit = source_salt(sheet, "sodium"), sheet["use.sodium_limit"]
    if there < limit:
        sheet.work("use.bleed", physics.bleed_share, incoming_mg_l=there, uptake_mg_l=sheet["use.salt_uptake"],
                   limit_mg_l=limit)


STEPS = (by_practice, by_mass, by_light, ways, per_day, *leaving.STEPS, ceiling, top_up, strength, drift, away, salts,
         *gathering.STEPS, bleed, ph_drift, judge)
