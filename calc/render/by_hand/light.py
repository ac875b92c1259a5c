"""Sums of light: lamps over the bath, the light of a day, and what the lamps draw."""

from __future__ import annotations

from ...topics import light as topic
from .energy import watts
from .pad import NoSum, Pad, Term

SQUARE_FEET_A_METRE = 1.0 / 0.3048**2
SECONDS, MICRO = 3600.0, 1_000_000.0


def _hours(pad: Pad) -> Term:
    return pad.read("light.hours", "time", "h")


def _mol(pad: Pad, key: str) -> Term:
    return pad.read(key, "daily_light", "mol/m2/d")


def dli_target(pad: Pad) -> None:
    if pad.design.value("light.target") is not None:
        raise NoSum
    pad.shows("Halfway", (_mol(pad, "crops.dli_low") + _mol(pad, "crops.dli_high")) / pad.num(2.0), "mol/m2/d")


def area_lit(pad: Pad) -> None:
    if pad.design.value("light.area") is not None or pad.value("bath.count") == 1:
        raise NoSum
    pad.shows("Baths, times the water of each", pad.whole("bath.count")
              * pad.read("water.surface_area", "area", "ft2", "m2"), "ft2", "m2")


def _square_metres(pad: Pad) -> Term:
    """Light is said by the square metre, to every reader."""
    found = pad.read("light.area_lit", "area", "ft2", "m2")
    return pad.gives("In square meters", found / pad.num(SQUARE_FEET_A_METRE), "m2") if pad.us else found


def dli_sun(pad: Pad) -> None:
    pad.shows("Outdoors, times what reaches the plants", pad.num(pad.inputs("outdoor_dli"))
              * pad.num(pad.inputs("transmission")), "mol/m2/d")


def lamp_photons(pad: Pad) -> None:
    if pad.design.value("light.lamp_output") is not None:
        raise NoSum
    pad.shows("Watts, times photons for each joule", watts(pad, "light.lamp_power")
              * pad.read("light.lamp_efficacy", "efficacy", "µmol/J"))


def _photons(pad: Pad) -> Term:
    return pad.num(pad.value("light.lamp_photons"))


def _share(pad: Pad) -> Term:
    return pad.read("light.share", "ratio", "")


def _missing(pad: Pad) -> Term:
    """The light of a day that lamps have to bring."""
    wanted = _mol(pad, "light.dli_target")
    if not pad.value("light.dli_sun"):
        return wanted
    return pad.gives("Still wanted", wanted - _mol(pad, "light.dli_sun"), "mol/m2/d")


def lamps_needed(pad: Pad) -> None:
    wanted = pad.gives("Wanted a day", _missing(pad) * _square_metres(pad), "mol")
    one = pad.gives("One lamp brings", _photons(pad) * _share(pad) * _hours(pad) * pad.num(SECONDS) / pad.num(MICRO),
                    "mol")
    pad.counts("Lamps", wanted / one)


def ppfd(pad: Pad) -> None:
    by = pad.text(topic.BY)
    if by == topic.LAMP:
        reach = pad.gives("Reaches the plants", pad.whole("light.lamps") * _photons(pad) * _share(pad), "µmol/s")
        pad.shows("On each square meter", reach / _square_metres(pad), "µmol/m2/s")
    else:
        from_lux(pad)


def from_lux(pad: Pad) -> None:
    pad.shows("Lux, over lux for one µmol/m2/s", pad.read("light.lux_reading", "illuminance", "lux")
              / pad.num(pad.inputs("lux_per_umol")), "µmol/m2/s")


def _flux(pad: Pad) -> Term:
    return pad.read("light.ppfd", "photon_flux", "µmol/m2/s")


def dli_lamps(pad: Pad) -> None:
    pad.shows("Flux, times the seconds of light", _flux(pad) * _hours(pad) * pad.num(SECONDS) / pad.num(MICRO),
              "mol/m2/d")


def dli(pad: Pad) -> None:
    pad.shows("Lamps and sun", _mol(pad, "light.dli_lamps") + _mol(pad, "light.dli_sun"), "mol/m2/d")


def dli_share(pad: Pad) -> None:
    pad.shows("Over the aim", _mol(pad, "light.dli") / _mol(pad, "light.dli_target") * pad.num(100.0), "%")


def shade_needed(pad: Pad) -> None:
    """What may come in of the sun, beside what does."""
    bare, most = pad.num(pad.inputs("sun_dli")), pad.num(pad.inputs("most_dli"))
    lamps = pad.inputs("lamp_dli")
    room = pad.gives("The sun may bring", most - pad.num(lamps), "mol/m2/d") if lamps else most
    share = pad.gives("Of what it brings", room / bare * pad.num(100.0), "%")
    pad.shows("The rest is shade", pad.num(100.0) - share, "%")


def ppfd_needed(pad: Pad) -> None:
    seconds = pad.gives("Seconds of light", _hours(pad) * pad.num(SECONDS), "s")
    pad.shows("Wanted, over them", _missing(pad) * pad.num(MICRO) / seconds, "µmol/m2/s")


def hours_needed(pad: Pad) -> None:
    hour = pad.gives("In an hour", _flux(pad) * pad.num(SECONDS) / pad.num(MICRO), "mol/m2")
    pad.shows("Wanted, over it", _missing(pad) / hour, "h")


def power(pad: Pad) -> None:
    if pad.text(topic.BY) != topic.LAMP:
        raise NoSum
    pad.shows("Lamps, times their watts", pad.whole("light.lamps") * watts(pad, "light.lamp_power"), "W")


def energy_per_day(pad: Pad) -> None:
    pad.shows("Watts, times hours", watts(pad, "light.power") * _hours(pad) / pad.num(1000.0), "kWh")


SUMS = {
    "light.dli_target": dli_target, "light.area_lit": area_lit, "light.dli_sun": dli_sun,
    "light.lamp_photons": lamp_photons, "light.lamps_needed": lamps_needed, "light.ppfd": ppfd,
    "light.ppfd_low": from_lux, "light.ppfd_high": from_lux, "light.dli_lamps": dli_lamps, "light.dli": dli,
    "light.shade_needed": shade_needed, "light.dli_share": dli_share,
    "light.ppfd_needed": ppfd_needed, "light.hours_needed": hours_needed,
    "light.power": power, "light.energy_per_day": energy_per_day,
}
