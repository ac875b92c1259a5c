"""How many sites a steady harvest keeps busy, and how many seeds it starts from."""

from __future__ import annotations

from math import ceil

from ..errors import OutOfRange
from .base import STANDARD, relation
from .limits import above, at_least, between

# Quotients that are whole numbers on paper may miss one by a hair in floating point.
HAIR = 1e-9
WEEK_DAYS = 7.0
LITTLE = ("Little's law, L = λW: Little J.D.C. (1961) A proof for the queuing formula, Operations Research "
          "9(3):383-387, cited from memory; a site is busy from the day it is planted to the day it is cut")
HEADS, SITES, DAYS = ("N", "/week", "plants cut in a week"), ("S", "", "sites"), ("d", "d", "days a plant holds a site")


@relation(title="Steady harvest of so many sites", formula=r"N = \frac{7 S}{d}", result=HEADS,
          symbols={"sites": SITES, "days": DAYS}, valid="every site planted again on the day it is cut", source=LITTLE,
          status=STANDARD)
def rate_from_sites(sites: float, days: float) -> float:
    """Plants a week, at most; OutOfRange for days not above zero."""
    at_least("Sites", sites)
    above("Days a plant holds a site", days, "d")
    return WEEK_DAYS * sites / days


@relation(title="Batches that stand side by side", formula=r"k = \left\lceil \frac{d}{p} \right\rceil",
          result=("k", "", "batches"), symbols={"days": DAYS, "every_days": ("p", "d", "days from one sowing to the "
                                                                               "next")},
          valid="whole days; a batch leaves in the morning of the day the next one comes", source="Counting: a batch "
          "meets every later one that comes before it leaves", status=STANDARD)
def overlapping_batches(days: float, every_days: float) -> int:
    """Most batches in the same place on one day; OutOfRange unless there is a day between sowings."""
    at_least("Days a plant holds a site", days, "d")
    above("Days between sowings", every_days, "d")
    return ceil(days / every_days - HAIR)


@relation(title="Seeds for so many plants", formula=r"n = \left\lceil \frac{P}{g (1 - c)} \right\rceil",
          result=("n", "", "seeds or cuttings"),
          symbols={"plants": ("P", "", "plants for the raft"), "germination": ("g", "", "share that comes up"),
                   "culls": ("c", "", "share of the seedlings thrown out as weak")},
          valid="shares above nothing; luck makes small batches differ", source="Definition of the two shares",
          status=STANDARD)
def seeds_needed(plants: float, germination: float, culls: float) -> int:
    """Seeds to sow, rounded up; OutOfRange where none would come through."""
    at_least("Plants", plants)
    between("Share that comes up", germination, 0.0, 1.0)
    between("Share thrown out", culls, 0.0, 1.0)
    if germination * (1.0 - culls) <= 0.0:
        raise OutOfRange("No seedling would come through: raise the share that comes up, or throw out fewer.")
    return ceil(plants / (germination * (1.0 - culls)) - HAIR)


@relation(title="Room of a plant at close spacing", formula=r"r = \left( \frac{s_1}{s_2} \right)^2",
          result=("r", "", "sites at full spacing that one close place takes up"),
          symbols={"close_spacing_m": ("s_1", "m", "close spacing"), "spacing_m": ("s_2", "m", "full spacing")},
          valid="both laid out in the same pattern; the board's edges are left out", source="Areas of like figures go "
          "with the square of their sides (Euclid, Elements VI.20)", status=STANDARD)
def close_room(close_spacing_m: float, spacing_m: float) -> float:
    """Area of a close place over that of a full one; OutOfRange unless full spacing is above zero."""
    at_least("Close spacing", close_spacing_m, "m")
    above("Full spacing", spacing_m, "m")
    return (close_spacing_m / spacing_m) ** 2


@relation(title="Harvest of a plant that is cut again", formula=r"y = 1 + (n - 1) \, a",
          result=("y", "", "first cuts that it makes in all"),
          symbols={"cuts": ("n", "", "cuts"), "later_share": ("a", "", "a later cut, of the first")},
          valid="cuts alike after the first", source="Counting", status=STANDARD)
def cuts_yield(cuts: float, later_share: float) -> float:
    """First cuts that a plant makes in all; OutOfRange for no cut."""
    at_least("Cuts", cuts, "", 1.0)
    at_least("A later cut, of the first", later_share)
    return 1.0 + (cuts - 1.0) * later_share


@relation(title="Room of so many plants", formula=r"A = n s^2", result=("A", "m²", "area"),
          symbols={"plants": ("n", "", "plants"), "spacing_m": ("s", "m", "center to center")},
          valid="square rows; staggered rows take an eighth less, edges and paths come on top",
          source="Each plant stands in a square of its spacing", status=STANDARD)
def stage_area(plants: float, spacing_m: float) -> float:
    """Area in m2 of plants in square rows; OutOfRange below zero."""
    at_least("Plants", plants)
    at_least("Spacing", spacing_m, "m")
    return plants * spacing_m**2
