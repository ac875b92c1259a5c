"""Sums of a power cut: room left in the reservoir, and the battery that bridges the hours."""

from __future__ import annotations

from itertools import pairwise

from ...relations.outage import AT_REST
from ...topics import outage as topic
from .energy import watts
from .pad import NoSum, Pad, Term
from .water import volume


def room_left(pad: Pad) -> None:
    pad.shows("Room, less what runs back", volume(pad, "water.reservoir_headroom")
              - volume(pad, "water.drain_back_volume"), "gal", "L")


def _drawn(pad: Pad) -> Term:
    """Watts from the battery: what the pump takes, and what an inverter loses."""
    taken = watts(pad, "outage.power")
    if pad.text("outage.backup") == topic.DC:
        return taken
    lost = pad.gives("With what the inverter loses", taken / pad.read("outage.inverter_efficiency", "ratio", ""), "W")
    if not pad.value("outage.inverter_idle"):
        return lost
    return pad.gives("And draws idle", lost + watts(pad, "outage.inverter_idle"), "W")


def battery_energy(pad: Pad) -> None:
    found = _drawn(pad) * pad.read("outage.hours", "time", "h")
    pad.shows("Watts, times hours", found, "Wh")


def _volts(pad: Pad) -> Term:
    return pad.read("outage.voltage", "voltage", "V")


def battery_current(pad: Pad) -> None:
    pad.shows("Watts, over volts", _drawn(pad) / _volts(pad), "A")


def battery(pad: Pad) -> None:
    hours = pad.gives("Amp-hours", _drawn(pad) / _volts(pad) * pad.read("outage.hours", "time", "h"), "Ah")
    pad.shows("With margin, over the share used", hours * pad.read("outage.margin", "ratio", "")
              / pad.read("outage.own_share", "ratio", ""), "Ah")


def own_share(pad: Pad) -> None:
    """All of a charge but what is left at the cut-out; NoSum where the reader's own share is less, as it stands."""
    whole, left = pad.num(1.0), pad.read("outage.cutout", "ratio", "")
    stops = pad.design.value("outage.cutout_voltage")
    if stops is not None:
        by_volts = _left_at(pad)
        left = by_volts if by_volts.value > left.value else left
    if whole.value - left.value >= pad.value("outage.depth_of_discharge"):
        raise NoSum
    pad.shows("All, less what is left", pad.num(100.0) * (whole - left), "%")


def _left_at(pad: Pad) -> Term:
    """Share of the charge at the cut-out's volts: along a straight line between two rows of a table."""
    volts = pad.gives("As volts of a 12 V battery", pad.num(12.0) * pad.read("outage.cutout_voltage", "voltage", "V")
                      / _volts(pad), "V")
    for (low, less), (high, more) in pairwise(AT_REST):
        if low < volts.value <= high:
            return pad.gives("Charge left", pad.num(less) + pad.num(more - less) * (volts - pad.num(low))
                             / (pad.num(high) - pad.num(low)))
    raise NoSum


def own_hours(pad: Pad) -> None:
    """Amp-hours that may be used, over the current drawn."""
    usable = pad.gives("Amp-hours to use, less the margin", pad.read("outage.own_charge", "charge", "Ah")
                       * pad.read("outage.own_share", "ratio", "") / pad.read("outage.margin", "ratio", ""), "Ah")
    current = pad.gives("Watts, over volts", _drawn(pad) / _volts(pad), "A")
    pad.shows("Amp-hours, over amps", usable / current, "h")


SUMS = {"outage.room_left": room_left, "outage.battery_energy": battery_energy,
        "outage.battery_current": battery_current, "outage.battery": battery, "outage.own_hours": own_hours,
        "outage.own_share": own_share}
