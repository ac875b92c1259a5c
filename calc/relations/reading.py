"""What a meter's reading is worth beside what was guessed before it: the usual weighing of two uncertain numbers."""

from __future__ import annotations

from math import sqrt

from .base import STANDARD, relation
from .limits import above, at_least

GAUSS = ("Mean of two independent observations weighed by the inverse of their squared errors (Gauss 1809); in the "
         "logarithm here, so that no amount falls below nothing")
PRIOR = (r"\sigma_0", "", "spread of the guess, as a standard deviation")
ERROR = (r"\sigma_m", "", "spread of the reading, as a standard deviation")


@relation(title="Weight of a reading", formula=r"w = \frac{\sigma_0^2}{\sigma_0^2 + \sigma_m^2}",
          result=("w", "", "how far to go from the guess to the reading"),
          symbols={"guess_spread": PRIOR, "reading_spread": ERROR},
          valid="both spreads in the same unit, errors alike on both sides", source=GAUSS, status=STANDARD)
def reading_weight(guess_spread: float, reading_spread: float) -> float:
    """Share of the way from a guess to a reading, 0 to 1; OutOfRange for a reading that claims no error at all."""
    at_least("Spread of the guess", guess_spread)
    above("Spread of the reading", reading_spread)
    return guess_spread**2 / (guess_spread**2 + reading_spread**2)


@relation(title="Spread that is left after a reading", formula=r"\sigma = \sigma_0 \sqrt{1 - w \, r^2}",
          result=(r"\sigma", "", "spread that is left, as a standard deviation"),
          symbols={"guess_spread": PRIOR, "weight": ("w", "", "weight of the reading"),
                   "likeness": ("r", "", "how far both hang on the same unknowns, 0 to 1 (correlation)")},
          valid="small swings; a reading of the very thing has r = 1", source=GAUSS, status=STANDARD)
def spread_left(guess_spread: float, weight: float, likeness: float) -> float:
    """Standard deviation of a guess once a reading of something alike has been taken in."""
    at_least("Spread of the guess", guess_spread)
    at_least("Weight of the reading", weight)
    at_least("Weight of the reading, at most 1", 1.0 - weight + 1e-12)
    at_least("Likeness, at most 1", 1.0 - likeness**2 + 1e-9)
    return guess_spread * sqrt(max(1.0 - weight * likeness**2, 0.0))
