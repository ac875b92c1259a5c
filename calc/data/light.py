"""What is assumed about light: what a lux is worth for each source, what sun and lamps carry, what crops want."""

from __future__ import annotations

from dataclasses import dataclass

from ..relations.base import MEMORY

JUDGMENT = "engineering judgment, no source"
THIMIJAN_HEINS = ("Thimijan R.W., Heins R.D. (1983) HortScience 18(6):818-822, factor read in two reprints of the "
                  "table; the paper's own table was not opened")
CIE_LED = ("computed from the CIE 015:2018 spectra of white LEDs with colour-science 0.4.7; these are reference "
           "spectra, not your lamp")


@dataclass(frozen=True)
class Source:
    """A source of light: lux for each µmol/m2/s (likely, and the range seen), and where that is from."""

    words: str
    lux_per_umol: float
    low: float
    high: float
    source: str


SOURCES: dict[str, Source] = {
    "sun": Source("Sunlight", 54.0, 50.0, 56.0, f"54: {THIMIJAN_HEINS}; blue sky 52. The CIE daylight spectra D50 to "
                                                "D75 give 54 to 56 with colour-science 0.4.7"),
    "white led": Source("White LED", 70.0, 53.0, 73.0, f"53 to 73: {CIE_LED}; 70 is the middle of the common kind"),
    "fluorescent": Source("Cool-white fluorescent", 74.0, 60.0, 81.0,
                          f"{THIMIJAN_HEINS}; CIE fluorescent spectra give 60 to 81 with colour-science 0.4.7"),
    "sodium": Source("High-pressure sodium", 82.0, 77.0, 86.0,
                     f"{THIMIJAN_HEINS}; the CIE sodium spectrum HP1 gives 86 with colour-science 0.4.7"),
    "metal halide": Source("Metal halide", 71.0, 59.0, 71.0,
                           f"{THIMIJAN_HEINS}; ceramic kinds 59 to 65, by a maker of light meters, whose name was "
                           "not kept"),
}

# Share of sunshine that plants use 0.45 (0.42 to 0.50), from memory; the clear sky of ASTM G173-03 gives 0.43 (pvlib
# 0.16.1), and cloud and what pyranometers miss raise it; 4.57 µmol/J of that light: Thimijan & Heins.
# Moles of plant light in each MJ of what a lamp without infrared shines.
LAMP_MOL_PER_MJ = 4.7
LAMP_MOL_SOURCE = "4.5 to 4.9 µmol/J " + CIE_LED

TARGET_MOL = 14.0
TARGET_SOURCE = f"12 to 17 mol/m²/d for lettuce and most leaf crops, {MEMORY}; 14 is in the middle"
# Cornell CEA lettuce handbook, quoted second hand.
TIPBURN_MOL = 17.0

KUSUMA = ("Kusuma, Pattison & Bugbee 2020, Horticulture Research 7:56, abstract; the low end is the tenth less that a "
          "sealed fixture gives")

# Shares of the light that shade cloths keep out, as sold.
CLOTHS = (0.3, 0.4, 0.5, 0.6, 0.7, 0.8)
CLOTHS_SOURCE = ("30 to 80 % are the usual cloths (biologyinsights.com on shade of greenhouses); 10 to 90 % are made "
                 "(Bartok, Greenhouse Management, July 2019)")

# (what it is, low, high, source) in µmol/J
EFFICACIES: tuple[tuple[str, float, float, str], ...] = (
    ("LED, two best of ten in 2014", 1.66, 1.70, "Nelson & Bugbee 2014, PLoS ONE 9(6):e99010, abstract"),
    ("LED of 2020, the most a fixture can reach, white and red", 3.06, 3.4, KUSUMA),
    ("LED of 2020, the most a fixture can reach, blue and red", 3.7, 4.1, KUSUMA),
    ("Sodium, double-ended, two best in 2014", 1.66, 1.70, "Nelson & Bugbee 2014, PLoS ONE 9(6):e99010, abstract"),
    ("Sodium, the common screw base", 1.02, 1.02, "Nelson & Bugbee 2014, PLoS ONE 9(6):e99010, abstract"),
    ("Ceramic metal halide, best in 2014", 1.46, 1.46, "Nelson & Bugbee 2014, PLoS ONE 9(6):e99010, abstract"),
    ("Fluorescent, best in 2014", 0.95, 0.95, "Nelson & Bugbee 2014, PLoS ONE 9(6):e99010, abstract"),
)
