"""Where the rows on causes are from: only what was opened, and as far as it was; what stands on memory says so.

Of most guides the beginning was read, which holds the signs; what such a guide says of cures was not all read. The
weights are nobody's but ours.
"""

from __future__ import annotations

from ...relations.base import ABSTRACT, MEMORY, PUBLISHED, SECOND_HAND

JUDGEMENT = "engineering judgment, no source"
PYTHIUM = ("Mattson 2018, Pythium root rot on hydroponically grown basil and spinach, e-GRO Edible Alert 3(1), Cornell "
           "University", PUBLISHED)
TIPBURN = ("Mattson 2021, Tipburn of hydroponic lettuce, e-GRO blog, Cornell University; Dickson & Quick, Inner leaf "
           "tip-burn in lettuce, e-GRO Edible Alert, University of Arkansas, as carried by a trade paper", PUBLISHED)
IRON = ("Iron deficiency of hydroponic leafy greens and herbs, e-GRO Edible Alert 1(8), April 2016", PUBLISHED)
LOCKOUT = ("Edible crop species differ in their pH effect in hydroponics, on trials of the University of Florida, "
           "Produce Grower; Iron deficiency, Texas A&M Aggie Horticulture vegetable problem solver", PUBLISHED)
MAGNESIUM = ("Mattson 2018, Magnesium deficiency of hydroponic and container grown basil, e-GRO, Cornell University, "
             "its summary", ABSTRACT)
NITROGEN = ("Butterhead lettuce, nitrogen deficiency, USDA Agricultural Research Service, Wooster, Ohio", PUBLISHED)
PHOSPHORUS = ("Butterhead lettuce, phosphorus deficiency, USDA Agricultural Research Service, Wooster, Ohio; "
              "Phosphorus deficiency of vegetables, University of Maryland Extension (cold)", PUBLISHED)
MILDEW = ("Powdery mildew of greenhouse-grown lettuce, Ohio State University Extension ANR-56", PUBLISHED)
AMMONIUM = ("Ammonium toxicity of lettuce, University of California IPM guidelines; Greenhouse updates May 10, 2019, "
            "UMass Extension", PUBLISHED)
APHIDS = ("Aphids, PestSense, Washington State University Extension; Aphids in the greenhouse, NC State Extension; "
          "Spider mites, Texas A&M Aggie Horticulture and University of Delaware Weekly Crop Update", PUBLISHED)
CHLORINE = ("McGehee & Raudales 2023, HortTechnology 33(1):125-130, University of Connecticut; chloramine and brown "
            "roots: Journal of the Japanese Society for Horticultural Science 71(4):485", ABSTRACT)
SEED = ("Thermotolerance in lettuce, University of Florida, HortScience 30(4):777A", ABSTRACT)
SALT = ("Electrical conductivity and pH guide for hydroponics, Oklahoma State University Extension, its beginning",
        PUBLISHED)
LOW_PH = ("Greenhouse: low pH can lead to toxicities, Delaware Cooperative Extension, Kent County, after the New "
          "England Greenhouse Update; on bedding plants", SECOND_HAND)
BORON = ("Boron toxicity, NC State Extension catalog; on tobacco", SECOND_HAND)
RECALLED = ("nutrient signs as plant physiology texts give them", MEMORY)
PRACTICE = ("how such equipment fails", JUDGEMENT)
