"""Water and salts in a bath that plants drink from: what leaves, what is topped up, and what stays behind."""

from __future__ import annotations

from math import inf, pow

from .base import MEMORY, STANDARD, relation
from .heat import latent_heat
from .limits import above, at_least, between

BALANCE = "Mass balance of well-mixed water"
USE = ("W", "L/d", "water that leaves in a day, through the plants")
VOLUME = ("V", "L", "all the water")
LEAST = ("r", "0 to 1", "share of the reservoir that must stay")
SALT_IN = ("c_i", "mg/L", "in the water topped up")
SALT_UP = ("c_u", "mg/L", "taken up by the plants, for each liter they drink")


@relation(title="Water evaporated by light", formula=r"E = \frac{a \, R}{2.501 - 0.002361 \, T}",
          result=("E", "L/m²/d", "water through the leaves"),
          symbols={"radiation_mj_m2": ("R", "MJ/m²/d", "light and heat that falls on the leaves"),
                   "share": ("a", "", "share of it that goes into evaporation; above 1 where warm air helps"),
                   "temperature_c": ("T", "°C", "temperature of the air")},
          valid="a closed canopy, still air, 0 to 40 °C, a up to 2; the share is the weak point",
          source="Heat balance of a canopy. A share of 0.6 to 0.7 of the sunshine inside is spoken of for greenhouses "
                 "(de Graaf & van den Ende; Stanghellini 1987)", status=MEMORY)
def water_from_light(radiation_mj_m2: float, share: float, temperature_c: float) -> float:
    """Litres that a square metre of leaves evaporates in a day; OutOfRange for a share above 2 or below 0."""
    at_least("Radiation", radiation_mj_m2, "MJ/m²")
    between("Share that evaporates water", share, 0.0, 2.0)
    between("Temperature", temperature_c, 0.0, 40.0, "°C")
    return radiation_mj_m2 * 1e6 * share / latent_heat(temperature_c=temperature_c)


@relation(title="Water drunk for a head", formula=r"w = \frac{m \, q}{d}",
          result=("w", "L/d", "water of one plant on a middling day"),
          symbols={"fresh_mass_kg": ("m", "kg", "fresh mass at harvest"),
                   "litres_per_kg": ("q", "L/kg", "water for each kilogram"),
                   "days": ("d", "d", "days from transplant to harvest")},
          valid="an average over the crop; the last days take more",
          source="Definition of water use by mass. Figures: 20 ± 3.8 L/kg, Barbosa G.L. and others (2015) Int. J. "
                 "Environ. Res. Public Health 12:6879-6891; 75 g for each liter, Pennisi G. and others (2019) "
                 "Scientific Reports 9:14127", status=STANDARD)
def water_from_mass(fresh_mass_kg: float, litres_per_kg: float, days: float) -> float:
    """Litres a day that a plant of this mass drinks, over its days; OutOfRange for no days."""
    at_least("Fresh mass", fresh_mass_kg, "kg")
    at_least("Water for each kilogram", litres_per_kg, "L/kg")
    above("Days on the raft", days, "d")
    return fresh_mass_kg * litres_per_kg / days


@relation(title="Days until the reservoir is low", formula=r"t = \frac{V_r (1 - r)}{W}", result=("t", "d", "days"),
          symbols={"reservoir_l": ("V_r", "L", "water in the reservoir while running"), "least_share": LEAST,
                   "use_l_d": USE},
          valid="baths that overflow keep their level, so all that leaves comes from the reservoir",
          source=BALANCE, status=STANDARD)
def days_to_low(reservoir_l: float, least_share: float, use_l_d: float) -> float:
    """Days until the reservoir stands at its least; OutOfRange when nothing is used."""
    at_least("Water in the reservoir", reservoir_l, "L")
    between("Share that must stay", least_share, 0.0, 0.95)
    above("Water used in a day", use_l_d, "L")
    return reservoir_l * (1.0 - least_share) / use_l_d


@relation(title="Reservoir for a time away", formula=r"V_r = \frac{W \, t}{1 - r}",
          result=("V_r", "L", "water in the reservoir at the start"),
          symbols={"use_l_d": USE, "days": ("t", "d", "days away"), "least_share": LEAST},
          valid="as above; a hot spell uses more", source=BALANCE, status=STANDARD)
def reservoir_for_days(use_l_d: float, days: float, least_share: float) -> float:
    """Litres that last so many days down to the share that must stay; OutOfRange below zero."""
    at_least("Water used in a day", use_l_d, "L")
    at_least("Days away", days, "d")
    between("Share that must stay", least_share, 0.0, 0.95)
    return use_l_d * days / (1.0 - least_share)


@relation(title="Days until a salt reaches its limit", formula=r"t = \frac{V (c_{max} - c_0)}{W (c_i - c_u)}",
          result=("t", "d", "days; never, when no more comes in than is taken up"),
          symbols={"volume_l": VOLUME, "use_l_d": USE, "start_mg_l": ("c_0", "mg/L", "in the water now"),
                   "limit_mg_l": ("c_{max}", "mg/L", "the limit"), "incoming_mg_l": SALT_IN, "uptake_mg_l": SALT_UP},
          valid="kept topped up to the same level, nothing drained off", source=BALANCE, status=STANDARD)
def days_to_salt(volume_l: float, use_l_d: float, start_mg_l: float, limit_mg_l: float, incoming_mg_l: float,
                 uptake_mg_l: float) -> float:
    """Days until a salt has built up to its limit: 0 when it is there already, infinite when it never is."""
    above("Water", volume_l, "L")
    at_least("Water used in a day", use_l_d, "L")
    for name, value in (("Salt at the start", start_mg_l), ("The limit", limit_mg_l),
                        ("Salt topped up", incoming_mg_l), ("Salt taken up", uptake_mg_l)):
        at_least(name, value, "mg/L")
    if start_mg_l >= limit_mg_l:
        return 0.0
    gained = use_l_d * (incoming_mg_l - uptake_mg_l)
    return volume_l * (limit_mg_l - start_mg_l) / gained if gained > 0.0 else inf


@relation(title="Water to drain off to hold a salt", formula=r"\frac{D}{W} = \frac{c_i - c_u}{c_{max} - c_i}",
          result=("D/W", "", "drained for each liter drunk"),
          symbols={"incoming_mg_l": SALT_IN, "uptake_mg_l": SALT_UP, "limit_mg_l": ("c_{max}", "mg/L", "the limit")},
          valid="steady, source water below the limit", source=BALANCE, status=STANDARD)
def bleed_share(incoming_mg_l: float, uptake_mg_l: float, limit_mg_l: float) -> float:
    """Litres to drain for each litre drunk so that a salt stays at its limit; 0 when it does not build up."""
    at_least("Salt topped up", incoming_mg_l, "mg/L")
    at_least("Salt taken up", uptake_mg_l, "mg/L")
    above("The limit", limit_mg_l, "mg/L", incoming_mg_l)
    return max(incoming_mg_l - uptake_mg_l, 0.0) / (limit_mg_l - incoming_mg_l)


@relation(title="Nutrients after the plants have drunk",
          formula=r"\frac{dM}{dw} = -u \min\left(1, \frac{M / (V_0 - w)}{n_c}\right), \quad n = \frac{M}{V_0 - w}",
          result=("n", "mS/cm", "nutrients left, as conductivity"),
          symbols={"nutrients_ms_cm": ("n_0", "mS/cm", "nutrients to begin with, as conductivity"),
                   "volume_l": ("V_0", "L", "water to begin with"), "drunk_l": ("w", "L", "water drunk since"),
                   "uptake_ms_cm": ("u", "mS/cm", "nutrients taken with each liter, as conductivity"),
                   "critical_ms_cm": ("n_c", "mS/cm", "below this, uptake falls in proportion")},
          valid="nothing topped up meanwhile; conductivity taken as adding up, as it nearly does in thin solutions",
          source=f"{BALANCE}, solved exactly", status=STANDARD)
def nutrients_left(nutrients_ms_cm: float, volume_l: float, drunk_l: float, uptake_ms_cm: float,
                   critical_ms_cm: float) -> float:
    """Nutrients in mS/cm once some water has been drunk and none topped up; OutOfRange when no water is left.

    Above the critical level plants take a fixed amount with each litre, below it an amount in proportion. Each part
    has an exact solution, and the level passes from one part to the other once at most.
    """
    at_least("Nutrients", nutrients_ms_cm, "mS/cm")
    above("Water", volume_l, "L", drunk_l)
    at_least("Water drunk", drunk_l, "L")
    at_least("Uptake", uptake_ms_cm, "mS/cm")
    above("Critical level", critical_ms_cm, "mS/cm")
    level, volume, left = nutrients_ms_cm, volume_l, volume_l - drunk_l
    if level >= critical_ms_cm:
        if level < uptake_ms_cm:
            # Falling: the part ends where the level meets the critical one.
            turn = volume * (uptake_ms_cm - level) / (uptake_ms_cm - critical_ms_cm)
            if turn > left:
                return critical_ms_cm * pow(left / turn, uptake_ms_cm / critical_ms_cm - 1.0)
        return uptake_ms_cm + (level - uptake_ms_cm) * volume / left
    power = uptake_ms_cm / critical_ms_cm - 1.0
    below = level * pow(left / volume, power)
    if power >= 0.0 or below <= critical_ms_cm:
        return below
    turn = volume * pow(critical_ms_cm / level, 1.0 / power)
    return uptake_ms_cm + (critical_ms_cm - uptake_ms_cm) * turn / left


@relation(title="What stays in less water", formula=r"n = \frac{n_0 V}{V - w}",
          result=("n", "mS/cm", "what no plant takes, after they have drunk"),
          symbols={"level_ms_cm": ("n_0", "mS/cm", "to begin with, as conductivity"), "volume_l": VOLUME,
                   "drunk_l": ("w", "L", "water drunk since")},
          valid="nothing topped up meanwhile; conductivity taken as adding up", source=BALANCE, status=STANDARD)
def left_behind(level_ms_cm: float, volume_l: float, drunk_l: float) -> float:
    """Conductivity in mS/cm of what stays, once some water has been drunk; OutOfRange when no water is left."""
    at_least("Conductivity", level_ms_cm, "mS/cm")
    at_least("Water drunk", drunk_l, "L")
    above("Water", volume_l, "L", drunk_l)
    return level_ms_cm * volume_l / (volume_l - drunk_l)
