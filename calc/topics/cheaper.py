"""Lamps lit in the cheap hours of the night: what they then cost, and when the timer goes on and off."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..declare import Field, Over, Result
from ..moments import show_clock
from ..relations import electricity

if TYPE_CHECKING:
    from ..sheet import Sheet

HOUR_S, DAYS_A_YEAR = 3600.0, 365
CHEAPER = (("energy.low_tariff", Over(0)),)

FIELDS = (
    Field("energy.low_tariff", "tariff", "Price in the cheap hours", ("", ""), 0.0, 1e5, optional=True,
          help="of one kWh, where your supplier has such hours", why="empty: one price all day"),
    Field("energy.low_from", "clock", "Cheap hours begin at", ("11 pm", "23:00"),
          help="on your contract, by the clock on the wall", why="an invented example; your contract says",
          when=CHEAPER),
    Field("energy.low_hours", "time", "Cheap hours last", ("8 h", "8 h"), 0.0, 86400.0, "h", "h",
          help="on your contract", why="an invented example; your contract says", when=CHEAPER),
)
RESULTS = (
    Result("energy.lamps_low_cost", "money", "Lamps a year, lit in the cheap hours first"),
    Result("energy.lamps_low_saving", "money", "That saves each year"),
    Result("energy.lamps_timer", "text", "Timer of the lamps for it"),
)


def lamps_at_night(sheet: Sheet) -> None:
    """As many lamp hours as fit are cheap; the rest follow in the morning at the usual price."""
    low, power = sheet.optional("energy.low_tariff"), sheet.result_if_any("light.power")
    if low is None or not power:
        return
    hours, cheap = sheet["light.hours"] / HOUR_S, sheet["energy.low_hours"] / HOUR_S
    if hours <= 0.0:
        return
    asked = {"energy_kwh": sheet.result("energy.lamps_per_year"), "cheap_share": min(cheap / hours, 1.0),
             "price_per_kwh": sheet["energy.tariff"], "cheap_price_per_kwh": low}
    cost = electricity.two_price_cost(**asked)
    sheet.put("energy.lamps_low_cost", cost, electricity.two_price_cost, asked, note="The timer goes on when the cheap "
              "hours begin.")
    sheet.put("energy.lamps_low_saving", sheet.result("energy.lamps_cost_per_year") - cost,
              note="Lamps at the one price, less that. What the cheaper contract costs by day comes on top.")
    start = sheet["energy.low_from"]
    sheet.put("energy.lamps_timer", f"on at {show_clock(start, sheet.system)}, off at "
              f"{show_clock(start + hours, sheet.system)}", note="On when the cheap hours begin, off when the hours of "
              "light are full.")
    if sheet.text("light.sun") in ("dli", "radiation"):
        sheet.caution("lamps-no-night", "note", "Lamps by night and sun by day leave no darkness. Some plants flower "
                      "early or suffer under it: leave six hours without lamps before the sun is up, or after it has "
                      "set.", lead="No night left", brief="Lamps by night and sun by day leave no darkness: leave six "
                      "hours dark.")


STEPS = (lamps_at_night,)
