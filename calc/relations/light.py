"""Light for plants: what a meter or a label says turned into the light of a day, and into lamps."""

from __future__ import annotations

from math import ceil

from .base import MEMORY, PUBLISHED, STANDARD, relation
from .limits import above, at_least, between

# µmol/m2/s kept up for an hour, in mol/m2.
MOL_PER_HOUR = 0.0036
HOURS_A_DAY = 24.0
# Share of the sun's radiation that plants can use, and photons in each joule of that.
PAR_SHARE_OF_SUN, PAR_UMOL_PER_J_OF_SUN = 0.45, 4.57
DEFINITION = "Definition of the daily light integral: photons added up over a day"
DLI = ("DLI", "mol/m²/d", "daily light: photons that plants can use, added up over a day")
PPFD = ("E_p", "µmol/m²/s", "photon flux at the leaves")
HOURS = ("h", "h/d", "hours of light a day")
AREA = ("A", "m²", "area to be lit")
OUTPUT = ("P_p", "µmol/s", "photons that one lamp gives")
SHARE = ("u", "0 to 1", "share of them that reaches the plants")


def _hours(value: float) -> None:
    above("Hours of light", value, "h")
    between("Hours of light", value, 0.0, HOURS_A_DAY, "h")


@relation(title="Daily light", formula=r"DLI = 0.0036 \, E_p \, h", result=DLI,
          symbols={"ppfd": PPFD, "hours": HOURS}, valid="light that stays the same while it is on",
          source=DEFINITION, status=STANDARD)
def daily_light(ppfd: float, hours: float) -> float:
    """Daily light in mol/m2/d of a photon flux kept up for so many hours; OutOfRange below zero or past 24 h."""
    at_least("Photon flux", ppfd, "µmol/m²/s")
    between("Hours of light", hours, 0.0, HOURS_A_DAY, "h")
    return ppfd * hours * MOL_PER_HOUR


@relation(title="Photon flux for a daily light", formula=r"E_p = \frac{DLI}{0.0036 \, h}", result=PPFD,
          symbols={"dli": DLI, "hours": HOURS}, valid="light that stays the same while it is on",
          source=DEFINITION, status=STANDARD)
def flux_for_daily_light(dli: float, hours: float) -> float:
    """Photon flux in µmol/m2/s that gives a daily light in so many hours; OutOfRange for no hours."""
    at_least("Daily light", dli, "mol/m²/d")
    _hours(hours)
    return dli / (MOL_PER_HOUR * hours)


@relation(title="Hours for a daily light", formula=r"h = \frac{DLI}{0.0036 \, E_p}", result=HOURS,
          symbols={"dli": DLI, "ppfd": PPFD}, valid="more than 24 h means that the light is too weak for it",
          source=DEFINITION, status=STANDARD)
def hours_for_daily_light(dli: float, ppfd: float) -> float:
    """Hours in which a photon flux gives a daily light; OutOfRange for no light."""
    at_least("Daily light", dli, "mol/m²/d")
    above("Photon flux", ppfd, "µmol/m²/s")
    return dli / (MOL_PER_HOUR * ppfd)


@relation(title="Photon flux from a lux meter", formula=r"E_p = \frac{E_v}{k}", result=PPFD,
          symbols={"illuminance_lux": ("E_v", "lux", "reading of the lux meter"),
                   "lux_per_umol": ("k", "lux per µmol/m²/s", "what the source's light is worth")},
          valid="white light only, 40 to 100 lux per µmol/m²/s; a lux meter is nearly blind to red and blue lamps",
          source="Thimijan R.W., Heins R.D. (1983) HortScience 18(6):818-822, factors read in two reprints of the "
                 "table", status=PUBLISHED)
def flux_from_lux(illuminance_lux: float, lux_per_umol: float) -> float:
    """Photon flux in µmol/m2/s behind a lux reading; OutOfRange for a factor that no white light has."""
    at_least("Illuminance", illuminance_lux, "lux")
    between("Lux for each µmol/m²/s", lux_per_umol, 40.0, 100.0)
    return illuminance_lux / lux_per_umol


@relation(title="Daily light of the sun", formula=r"DLI = 0.45 \cdot 4.57 \, R", result=DLI,
          symbols={"radiation_mj_m2": ("R", "MJ/m²/d", "sunshine of all kinds on level ground")},
          valid="outdoors, whole days; the share of 0.45 lies between 0.42 and 0.50 with haze, cloud and season",
          source="4.57 µmol/J: Thimijan R.W., Heins R.D. (1983) HortScience 18(6):818-822, read in a reprint; the "
                 "share 0.45 is from memory, not verified; the clear sky of ASTM G173-03 gives 0.43 (pvlib 0.16.1)",
          status=MEMORY)
def daily_light_of_sun(radiation_mj_m2: float) -> float:
    """Daily light in mol/m2/d outdoors from a day's sunshine; OutOfRange outside 0 to 45 MJ/m2."""
    between("Sunshine of a day", radiation_mj_m2, 0.0, 45.0, "MJ/m²")
    return PAR_SHARE_OF_SUN * PAR_UMOL_PER_J_OF_SUN * radiation_mj_m2


@relation(title="Sunshine behind a daily light", formula=r"R = \frac{DLI}{0.45 \cdot 4.57}",
          result=("R", "MJ/m²/d", "light and heat that come with it"), symbols={"dli": DLI},
          valid="light of the sun alone; the share of 0.45 lies between 0.42 and 0.50 with haze, cloud and season",
          source="As for the daily light of the sun", status=MEMORY)
def sunshine_of_daily_light(dli: float) -> float:
    """Sunshine in MJ/m2 that comes with a daily light in mol/m2; OutOfRange below zero."""
    at_least("Daily light", dli, "mol/m²/d")
    return dli / (PAR_SHARE_OF_SUN * PAR_UMOL_PER_J_OF_SUN)


@relation(title="Daily light under a cover", formula=r"DLI_{in} = \tau \, DLI_{out}",
          result=("DLI_{in}", "mol/m²/d", "daily light at the plants"),
          symbols={"outdoor_dli": ("DLI_{out}", "mol/m²/d", "daily light outdoors"),
                   "transmission": (r"\tau", "0 to 1", "share that cover and frame let through")},
          valid="as an average over the day and the floor", source="Definition of transmission", status=STANDARD)
def daily_light_under_cover(outdoor_dli: float, transmission: float) -> float:
    """Daily light in mol/m2/d behind a cover; OutOfRange outside 0 to 100 %."""
    at_least("Daily light outdoors", outdoor_dli, "mol/m²/d")
    between("Share let through", transmission, 0.0, 1.0)
    return outdoor_dli * transmission


@relation(title="Photons of a lamp", formula=r"P_p = P \, \eta", result=OUTPUT,
          symbols={"power_w": ("P", "W", "power drawn from the socket"),
                   "efficacy": (r"\eta", "µmol/J", "photons for each joule drawn")},
          valid="power at the socket, driver included; up to 5.85 µmol/J, where light would hold all the power",
          source="Definition of photon efficacy", status=STANDARD)
def lamp_photons(power_w: float, efficacy: float) -> float:
    """Photons in µmol/s that a lamp gives; OutOfRange below zero or above 5.85 µmol/J.

    No lamp passes 5.85 µmol/J: that many photons of 700 nm, the reddest counted, hold the whole joule.
    """
    at_least("Power of the lamp", power_w, "W")
    between("Efficacy", efficacy, 0.0, 5.85, "µmol/J")
    return power_w * efficacy


@relation(title="Photon flux under lamps", formula=r"E_p = \frac{N P_p u}{A}", result=PPFD,
          symbols={"lamps": ("N", "", "lamps"), "photons_umol_s": OUTPUT, "share": SHARE, "area_m2": AREA},
          valid="an average over the area; the middle gets more and the edges less",
          source="Photons over area, by definition", status=STANDARD)
def flux_under_lamps(lamps: float, photons_umol_s: float, share: float, area_m2: float) -> float:
    """Mean photon flux in µmol/m2/s on an area under lamps; OutOfRange for no area."""
    at_least("Number of lamps", lamps)
    at_least("Photons of a lamp", photons_umol_s, "µmol/s")
    between("Share that reaches the plants", share, 0.0, 1.0)
    above("Lit area", area_m2, "m²")
    return lamps * photons_umol_s * share / area_m2


@relation(title="Lamps for a daily light", formula=r"N = \left\lceil \frac{DLI \, A}{0.0036 \, h \, P_p \, u} \right"
          r"\rceil", result=("N", "", "lamps, whole"),
          symbols={"dli": DLI, "area_m2": AREA, "hours": HOURS, "photons_umol_s": OUTPUT, "share": SHARE},
          valid="an average over the area; even light may ask for more, smaller lamps",
          source="Photons wanted over photons brought, rounded up", status=STANDARD)
def lamps_needed(dli: float, area_m2: float, hours: float, photons_umol_s: float, share: float) -> int:
    """Whole lamps that bring a daily light to an area; OutOfRange for no hours, no photons or no area."""
    at_least("Daily light", dli, "mol/m²/d")
    above("Lit area", area_m2, "m²")
    _hours(hours)
    above("Photons of a lamp", photons_umol_s, "µmol/s")
    above("Share that reaches the plants", share)
    between("Share that reaches the plants", share, 0.0, 1.0)
    exact = dli * area_m2 / (MOL_PER_HOUR * hours * photons_umol_s * share)
    # A need that is whole but for the last bit of a float is that whole number.
    return ceil(exact * (1.0 - 1e-12))


@relation(title="Shade that brings the light down", formula=r"s = 1 - \frac{D_w - D_l}{D_s}",
          result=("s", "", "share of the sun to keep out"),
          symbols={"sun_dli": ("D_s", "mol/m²/d", "daily light of the sun at the plants, without shade"),
                   "lamp_dli": ("D_l", "mol/m²/d", "daily light of the lamps"),
                   "most_dli": ("D_w", "mol/m²/d", "daily light that is enough")},
          valid="where sun and lamps bring too much, and the lamps alone do not; a cloth of 50 % lets half through",
          source="Definition of the shade of a cloth", status=STANDARD)
def shade_needed(sun_dli: float, lamp_dli: float, most_dli: float) -> float:
    """Share of the sun to keep out, 0 to 1, so that a day brings just enough; OutOfRange without a sun."""
    above("Daily light of the sun", sun_dli, "mol/m²/d")
    at_least("Daily light of the lamps", lamp_dli, "mol/m²/d")
    at_least("Daily light that is enough", most_dli, "mol/m²/d", lamp_dli)
    return max(1.0 - (most_dli - lamp_dli) / sun_dli, 0.0)
