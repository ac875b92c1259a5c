"""What a head comes to: kilograms a week, and build, electricity and supplies shared among the heads of a year."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..declare import Field, Result

if TYPE_CHECKING:
    from ..sheet import Sheet

JUDGMENT = "engineering judgment, no source"
WEEKS = 365.0 / 7.0

FIELDS = (
    Field("parts.years", "whole", "Years the build lasts", ("5", "5"), 1, 50,
          help="its cost is shared among them", why=f"foam, hoses and pumps wear: {JUDGMENT}"),
    Field("parts.supplies", "money", "Supplies for each head", ("", ""), 0.0, 1000.0, optional=True,
          help="seed, plug and fertilizer: bills of a season over its heads", why="empty: not counted"),
    Field("parts.price", "money", "Price of a head", ("", ""), 0.0, 10000.0, optional=True,
          help="what you sell it for, or pay for one in a shop", why="empty: not compared"),
)
RESULTS = (
    Result("parts.mass_per_week", "mass", "Harvest a week, as planned, from all baths", "lb", "kg"),
    Result("parts.heads_per_year", "number", "Heads a year, if the calendar went on all year"),
    Result("parts.energy_per_head", "energy", "Electricity for each head", "kWh", "kWh"),
    Result("parts.cost_per_head", "money", "Cost of a head, of what is priced"),
    Result("parts.gain_per_year", "money", "Its price above its cost, all heads of a year"),
)


def worth(sheet: Sheet) -> None:
    """Heads of a whole year as the calendar gives them; what is not priced is not in their cost."""
    copies = sheet.whole("parts.copies")
    heads_a_week, mass = sheet.result_if_any("schedule.heads_per_week"), sheet.result_if_any("crops.fresh_mass")
    if heads_a_week is None or mass is None:
        return
    weekly = heads_a_week * copies
    cuts = sheet.result_if_any("schedule.harvest_factor")
    sheet.put("parts.mass_per_week", weekly * mass * (cuts or 1.0),
              note="Heads a week, times the harvest of one plant; " + (
                  "crops that are cut again count all their cuts." if cuts is not None else
                  "crops that are cut again count their first cut."))
    heads = weekly * WEEKS
    sheet.put("parts.heads_per_year", heads, note="Heads a week, times the weeks of a year.")
    if heads <= 0.0:
        return
    energy = sheet.result_if_any("energy.all_per_year") or sheet.result_if_any("energy.per_year")
    if energy is not None:
        sheet.put("parts.energy_per_head", energy * copies / heads, note="Electricity of a year, over its heads. Heat "
                  "from gas or oil is not in it.")
    power = sheet.result_if_any("energy.all_cost_per_year")
    if power is None:
        power = sheet.result_if_any("energy.cost_per_year")
    if power is None:
        return
    supplies, price = sheet.optional("parts.supplies"), sheet.optional("parts.price")
    cost = (sheet.result("parts.cost") / sheet.whole("parts.years") + power * copies) / heads + (supplies or 0.0)
    sheet.put("parts.cost_per_head", cost, note="Parts with a price over their years, and electricity, over the heads "
              "of a year" + (", and supplies." if supplies is not None else "; supplies are not counted.")
              + " Your hours are not in it.")
    if price is None:
        return
    sheet.put("parts.gain_per_year", (price - cost) * heads, note="Price less cost, times the heads of a year.")
    if price < cost:
        each, asked = sheet.shown("parts.cost_per_head"), sheet.shown("parts.price")
        sheet.caution("head-costs-more", "note", f"A head comes to {each}, more than its price of {asked}. Parts "
                      "without a price, water and your hours come on top.", lead="Costs more than it brings",
                      brief=f"A head comes to {each}; its price is {asked}.")
