"""How long the battery that is there runs the backup: its usable charge, the inverter's own draw, and the cut-out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..declare import Field, Result
from ..relations import outage as physics

if TYPE_CHECKING:
    from ..sheet import Sheet

HOUR_S = 3600.0
INVERTER = "inverter"
JUDGMENT = "engineering judgment, no source"
# A battery of which less than a twentieth may be used is none.
MOST_LEFT = 0.95

FIELDS = (
    Field("outage.own_charge", "charge", "Battery that I own", ("", ""), 0.1, 1e5, "Ah", "Ah", optional=True,
          help="amp-hours on its label, at the battery voltage above", why="empty: none, or not looked at yet"),
    Field("outage.inverter_idle", "power", "Inverter draws idle", ("5 W", "5 W"), 0.0, 1000.0, "W", "W",
          help="what it takes with nothing plugged in; its sheet says no-load draw",
          why=f"a small inverter takes a few watts: {JUDGMENT}; read yours",
          when=(("outage.backup", (INVERTER,)),)),
    Field("outage.cutout", "ratio", "Charge left at cut-out", ("0 %", "0 %"), 0.0, 0.95, "%", "%",
          help="pump or inverter stops when the battery has this share left",
          why="0: it runs to the end; many inverters stop sooner to spare the battery"),
    Field("outage.cutout_voltage", "voltage", "Stops at, lead-acid battery", ("", ""), 2.0, 60.0, "V", "V",
          optional=True, help="low-voltage cut-out of pump or inverter, on its sheet",
          why="empty: by the charge left, above; a lithium battery holds its voltage to the end"),
)
RESULTS = (
    Result("outage.own_hours", "time", "Battery that I own runs the backup for", "h", "h"),
    Result("outage.own_share", "ratio", "Of a battery's charge, used before it stops", "%", "%"),
)


def idle_w(sheet: Sheet) -> float:
    """What the inverter draws for itself, W; nothing where there is none."""
    return sheet["outage.inverter_idle"] if sheet.text("outage.backup") == INVERTER else 0.0


def usable_share(sheet: Sheet) -> float:
    """What of a battery's charge is used: as much as the reader allows, or as the cut-out leaves."""
    share = min(sheet["outage.depth_of_discharge"], 1.0 - sheet["outage.cutout"])
    stops = sheet.optional("outage.cutout_voltage")
    if stops is not None:
        share = min(share, 1.0 - _left_at(sheet, stops))
    sheet.put("outage.own_share", share, note="The share that you use, or what lies above the cut-out if that is less."
              + (" By its voltage at rest; under load it falls sooner, so count on less." if stops is not None else ""),
              source=physics.charge_at_voltage.relation.source if stops is not None else "")
    return share


def _left_at(sheet: Sheet, stops: float) -> float:
    """Share of the charge that is left at the cut-out; none to use is a fault."""
    left = physics.charge_at_voltage(voltage_v=stops, nominal_v=sheet["outage.voltage"])
    if left > MOST_LEFT:
        full = sheet.shown_as("outage.cutout_voltage", physics.FULL_V / 12.0 * sheet["outage.voltage"])
        sheet.fault("outage.cutout_voltage", "Stops at, lead-acid battery: a full one rests at about "
                    f"{full}, so next to nothing could be used; enter less, or check the battery voltage.",
                    {"outage.voltage": ""})
    return left


def own(sheet: Sheet) -> None:
    """Hours from the charge on the label: what may be used of it, less what age and cold take."""
    charge = sheet.optional("outage.own_charge")
    if charge is None:
        return
    efficiency = sheet["outage.inverter_efficiency"] if sheet.text("outage.backup") == INVERTER else 1.0
    asked = {"power_w": sheet.result("outage.power") + idle_w(sheet) * efficiency,
             "voltage_v": sheet["outage.voltage"], "depth_of_discharge": sheet.result("outage.own_share"),
             "efficiency": efficiency, "margin": sheet["outage.margin"]}
    hours = charge / physics.battery_charge(hours=1.0, **asked)
    sheet.put("outage.own_hours", hours * HOUR_S, physics.battery_charge, {**asked, "hours": hours},
              note="The hours for which just this charge is needed.")
    wished, lasts = sheet.shown("outage.hours"), sheet.shown("outage.own_hours")
    enough = hours * HOUR_S >= sheet["outage.hours"]
    label = sheet.shown("outage.own_charge")
    if not enough:
        sheet.caution("outage-own-battery", "warning",
                      f"Your battery of {label} runs the backup for {lasts}, and you want to bridge {wished}: take "
                      f"{sheet.shown('outage.battery')}, or a pump that draws less.", lead="Battery too small",
                      brief=f"It runs the backup for {lasts}; you want {wished}.")
        sheet.verdict("tight", f"Your battery of {label} runs the backup for {lasts}, and you want to bridge {wished}. "
                      f"Take {sheet.shown('outage.battery')}, or a pump that draws less.", lasts, "Battery too small.")
