"""The causes of trouble: how common, how grave, which signs they show how often, what to check, and when to give up.

Weights are engineering judgment and no source gives them; that a sign belongs to a cause is from the source named.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from . import sources

# How often a cause shows a sign: nearly always, mostly, sometimes, rarely.
A, M, S, R = 0.9, 0.6, 0.3, 0.1


@dataclass(frozen=True)
class Cause:
    """One cause. ``weight`` is how common it is beside the others, ``harm`` 1 (a week is lost) to 4 (all dies today).

    ``signs`` is the share of baths with this cause that show a sign; a sign left out shows as often as anywhere.
    ``checks`` are keys of ``checks.CHECKS``, the first first. ``stop`` says when to throw away, "" for never.
    """

    key: str
    name: str
    lead: str
    weight: float
    harm: int
    signs: Mapping[str, float]
    checks: tuple[str, ...]
    cure: str
    source: tuple[str, str]
    stop: str = ""


ROT_STOP = ("if half the roots come off in your hand, or if new roots are brown again 5 days after cooling. Then "
            "plants, plugs and solution go out, and the bath is cleaned and disinfected before the next.")
CAUSES: dict[str, Cause] = {one.key: one for one in (
    Cause("root-rot", "Root rot, begun in warm water", "It is early: most plants can be kept.", 8, 4,
          {"slimy": A, "smell": M, "warm": M, "wilt": M, "stunted": M, "old-yellow": S, "all-pale": S, "oxygen-low": S,
           "white": 0.02, "tan": 0.03, "water-smell": S, "ph-climbs": S, "foam": S},
          ("roots", "bubbles", "cool", "cut-roots", "change"),
          "Cool the water, bring air, cut off what is slimy, change the solution; plant no healthy roots beside it.",
          sources.PYTHIUM, ROT_STOP),
    Cause("oxygen", "Too little oxygen at the roots", "Air first: it is mended in minutes.", 7, 4,
          {"oxygen-low": A, "no-bubbles": R, "one-stone": R, "warm": M, "wilt": M, "slimy": 0.4, "tan": S, "stubby": M,
           "stunted": M, "white": 0.1, "smell": 0.2, "power": R, "old-yellow": R},
          ("bubbles", "roots", "air-line", "cool"),
          "More air at depth, cooler water, fewer roots in the corner that has no stone.", sources.RECALLED, ROT_STOP),
    Cause("air-pump", "The air pump has failed", "Start a spare, or pour water back by hand until then.", 3, 4,
          {"no-bubbles": A, "oxygen-low": M, "wilt": S, "one-stone": 0.02, "power": S, "hiss": 0.05, "white": 0.5},
          ("air-pump", "bubbles", "air-line"),
          "Clean its filter; change the membrane or the pump. Keep a spare.", sources.PRACTICE),
    Cause("stone", "A stone or its line is blocked", "Mended in a minute.", 4, 2,
          {"one-stone": A, "no-bubbles": R, "oxygen-low": S, "wilt": R, "slimy": R},
          ("stone", "bubbles", "air-line"), "Open the valve, brush or change the stone.", sources.PRACTICE),
    Cause("air-leak", "The air line leaks", "Press the joint home.", 2, 3,
          {"hiss": A, "no-bubbles": S, "one-stone": M, "oxygen-low": S},
          ("air-line", "bubbles"), "Cut off the stiff end of the line and press it on anew.", sources.PRACTICE),
    Cause("water-pump", "The water pump has failed or is blocked", "Water stands still; stones carry the bath "
          "meanwhile.", 4, 3,
          {"pump": A, "falls": R, "oxygen-low": S, "power": S, "warm": R, "wilt": R},
          ("flow", "water-pump"), "Clean strainer and rotor; change the pump if it still hums.", sources.PRACTICE),
    Cause("power-cut", "The power cut", "What it did shows within two days.", 3, 2,
          {"power": A, "oxygen-low": S, "wilt": S, "no-bubbles": R, "warm": S, "pump": S},
          ("bubbles", "flow", "roots"), "See that all runs again, and lift a pot each day for three days.",
          sources.PRACTICE),
    Cause("heat", "Water too warm", "Cool it before anything else.", 6, 3,
          {"warm": A, "wilt": M, "oxygen-low": S, "bolting": R, "tips-brown": R, "slimy": R, "stunted": S,
           "white": 0.4, "no-bubbles": 0.01},
          ("thermometer", "cool", "bubbles"), "Shade, insulation, frozen closed bottles; a chiller if it stays.",
          sources.RECALLED),
    Cause("cold", "Water too cold", "Growth waits for warmth.", 4, 1,
          {"cold": A, "stunted": M, "purple": M, "wilt": R, "white": 0.6},
          ("thermometer", "warm-up"), "Cover, insulation, a heater with a thermostat.", sources.PHOSPHORUS),
    Cause("overflow", "The overflow is blocked", "Stop the pump first, then clear it.", 3, 4,
          {"high": A, "floor": M, "falls": S, "pump": 0.05, "after-stop": R},
          ("strainer", "flow"), "Clear roots from the strainer; fit a wider one or a second overflow.",
          sources.PRACTICE),
    Cause("siphon", "A siphon through the supply hose", "It empties the bath when the pump stops.", 2, 4,
          {"after-stop": A, "floor": S, "falls": S, "power": S, "high": 0.02},
          ("siphon", "leak"), "Let the inlet end over the water, or drill the air hole your plan shows.",
          sources.PRACTICE),
    Cause("leak", "A leak", "Find it before the pump runs dry.", 3, 3,
          {"falls": A, "floor": M, "high": 0.01, "pump": R},
          ("leak", "siphon"), "Tighten, seal or change the joint; foam and liner are not mended under water.",
          sources.PRACTICE),
    Cause("thirst", "Nothing but thirst", "Full-grown plants on a hot day drink that much.", 3, 1,
          {"falls": M, "floor": 0.01, "warm": S, "ec-rises": S, "white": 0.7},
          ("leak", "calendar"), "Top up more often, or a larger reservoir.", sources.PRACTICE),
    Cause("algae", "Algae", "Ugly, seldom deadly: keep out the light.", 5, 1,
          {"green": A, "ph-climbs": S, "foam": R, "insects": R, "water-smell": R},
          ("cover", "roots"), "Cover every hole and hose; wipe it off at the next change; nothing is poured in.",
          sources.RECALLED),
    Cause("salt", "Salt build-up", "Thin it before leaves scorch.", 5, 2,
          {"ec-high": A, "ec-rises": M, "crust": M, "old-edges": M, "wilt": S, "stubby": S, "stunted": S,
           "tips-brown": S, "ec-low": 0.01},
          ("ec-meter", "thin", "change"), "Exchange solution for water; change it all when sodium or chloride is the "
          "reason.", sources.SALT, "the solution, not the plants: mix it anew."),
    Cause("weak", "The solution is too weak", "Nutrients today; green again in a week.", 5, 1,
          {"ec-low": A, "old-yellow": M, "all-pale": M, "stunted": M, "ec-high": 0.01, "white": 0.7},
          ("ec-meter", "feed", "recipe"), "Bring the EC into its band in steps of a day.", sources.RECALLED),
    Cause("lockout", "pH lockout: iron and manganese stay in the water", "Bring the pH down; do not add iron yet.", 6,
          2, {"ph-high": A, "young-yellow": M, "ph-climbs": M, "all-pale": R, "white": 0.6, "ec-low": 0.05,
              "stunted": S, "ph-low": 0.01},
          ("ph-meter", "ph-down", "roots"), "pH into its band; new leaves are green in a week.", sources.LOCKOUT),
    Cause("low-ph", "pH too low: too much iron and manganese get in", "Bring the pH up slowly.", 3, 2,
          {"ph-low": A, "ph-falls": M, "specks": M, "stubby": S, "ph-high": 0.01},
          ("ph-meter", "ph-up", "recipe"), "pH-up in pours; less ammonium in the recipe.", sources.LOW_PH),
    Cause("nitrogen", "Nitrogen short", "The young leaves take it from the old ones.", 4, 1,
          {"old-yellow": A, "stunted": M, "ec-low": S, "all-pale": S, "white": 0.7, "ph-high": 0.08},
          ("ec-meter", "recipe", "feed"), "Full strength of your plan; look whether calcium nitrate went in.",
          sources.NITROGEN),
    Cause("phosphorus", "Phosphorus short", "Often cold, not lack.", 2, 1,
          {"purple": A, "stunted": M, "cold": S, "specks": S, "old-edges": R, "white": 0.6},
          ("thermometer", "recipe", "ph-meter"), "Warm the water; look whether the phosphate went in.",
          sources.PHOSPHORUS),
    Cause("potassium", "Potassium short", "Old leaves scorch from the rim.", 2, 1,
          {"old-edges": A, "old-veins": R, "specks": S, "ec-low": S, "stunted": S, "ec-high": 0.02},
          ("recipe", "ec-meter", "change"), "Look whether the potassium salts went in; change the solution if not.",
          sources.RECALLED),
    Cause("magnesium", "Magnesium short", "Old leaves give theirs to the young.", 3, 1,
          {"old-veins": A, "old-yellow": S, "ec-low": R, "white": 0.7},
          ("recipe", "ec-meter", "change"), "Look whether the Epsom salt went in; too much potassium keeps it out.",
          sources.MAGNESIUM),
    Cause("sulfur", "Sulfur short", "Pale all over, the young first.", 1, 1,
          {"all-pale": A, "stunted": S, "ec-low": S, "young-yellow": R},
          ("recipe", "ec-meter"), "Look whether sulfates went in.", sources.RECALLED),
    Cause("iron", "Iron short", "The pH is the first suspect; the chelate the second.", 3, 1,
          {"young-yellow": A, "ph-high": S, "cold": R, "white": 0.7, "all-pale": R},
          ("ph-meter", "recipe", "roots"), "pH first; then iron chelate by the recipe, kept dark.", sources.IRON),
    Cause("tipburn", "Tipburn: calcium does not reach the heart", "It is air and pace, seldom the recipe.", 5, 1,
          {"tips-brown": A, "still-air": M, "warm": S, "ec-high": S, "white": 0.7, "bleached": R},
          ("air-flow", "light", "ec-meter"), "Move the air, shade on bright days, EC no higher than its band; burnt "
          "tips do not heal.", sources.TIPBURN),
    Cause("calcium", "Calcium missing in the mix", "Young leaves crippled all over the bath.", 1, 2,
          {"tips-brown": M, "twisted": M, "stubby": M, "ec-low": S, "still-air": 0.08},
          ("recipe", "change", "ec-meter"), "Look whether the calcium nitrate went in, and whether A and B met "
          "undiluted.", sources.RECALLED),
    Cause("ammonium", "Too much ammonium", "Roots are burnt, leaves dull.", 2, 2,
          {"old-edges": M, "wilt": M, "stubby": A, "stunted": M, "ph-falls": M, "ph-low": S, "purple": R},
          ("recipe", "roots", "change"), "A recipe with at most 10 to 15 % of its nitrogen as ammonium; no urea.",
          sources.AMMONIUM),
    Cause("boron", "Too much boron", "A slip of the scale at the trace elements.", 1, 2,
          {"old-edges": M, "old-veins": S, "specks": M, "stunted": S},
          ("recipe", "change"), "Change the solution; weigh trace elements from a stock.", sources.BORON),
    Cause("dark", "Too little light", "Plants reach for it.", 4, 1,
          {"stretched": A, "dim": M, "all-pale": S, "stunted": S, "white": 0.6},
          ("light", "lower-lamp"), "More hours or nearer lamps; wider spacing.", sources.RECALLED),
    Cause("bright", "Too much light, or a lamp too near", "Raise it.", 2, 1,
          {"bleached": A, "tips-brown": S, "wilt": S, "dim": 0.01},
          ("light", "raise-lamp"), "Raise or dim the lamp, shade at noon.", sources.RECALLED),
    Cause("pests", "Pests that suck or chew", "Find which before anything is sprayed on a salad.", 4, 2,
          {"insects": A, "twisted": S, "specks": R, "stunted": R, "white": 0.6},
          ("leaf-under", "take-out"), "Wipe or rinse off, take out the worst, yellow cards; only what is allowed on "
          "food crops, by its label.", sources.APHIDS,
          "heads that are full of them; they go into a bag, not beside the bath."),
    Cause("mildew", "Mildew or gray mold", "Dry air that moves.", 2, 2,
          {"powder": A, "still-air": M, "old-yellow": R},
          ("take-out", "air-flow"), "Take out what has it, move the air, wider spacing.", sources.MILDEW,
          "heads with gray mold at the stem."),
    Cause("bolting", "Bolting", "It does not go back: eat it today.", 2, 1,
          {"bolting": A, "warm": M, "wilt": 0.03, "stretched": R},
          ("calendar", "thermometer"), "Cut earlier in warm months; sorts that bolt late.", sources.RECALLED,
          "what is bitter."),
    Cause("seed-heat", "Seed asleep from heat, or too old", "Cool tray, fresh seed.", 2, 1,
          {"no-seedlings": A, "warm": S, "fall-over": 0.02},
          ("seed-cool", "calendar"), "Germinate below 72 °F (22 °C); seed no older than two years.", sources.SEED),
    Cause("damping-off", "Damping off", "A wet tray in still air.", 1, 2,
          {"fall-over": A, "no-seedlings": S, "still-air": M, "green": R},
          ("nursery", "air-flow"), "Clean trays, less water, moving air.", sources.PYTHIUM,
          "the tray, plugs and all; scrub it before the next."),
    Cause("late", "Seedlings moved too late", "They stand still for a week.", 2, 1,
          {"old-seedling": A, "stunted": M, "bolting": S, "stretched": S, "white": 0.6},
          ("calendar", "roots"), "Move at the plan's age; sow less and more often.", sources.RECALLED),
    Cause("chlorine", "Chlorine or chloramine in the tap water", "It burns roots within days.", 3, 2,
          {"fresh": A, "stubby": M, "bleached": R, "old-edges": S, "tan": S, "stunted": M, "wilt": S, "slimy": 0.05},
          ("chlorine", "roots", "change"), "Let tap water bubble for a day; chloramine needs carbon or a pinch of "
          "vitamin C.", sources.CHLORINE),
    Cause("stain", "Stain from fertilizer or growing medium", "Leave it: firm roots are well roots.", 5, 1,
          {"tan": A, "slimy": R, "smell": 0.01, "wilt": 0.02, "white": R, "stunted": 0.05},
          ("roots", "wait"), "Nothing to do.", sources.RECALLED),
    Cause("other", "Something that is not in this table", "Note it in the log and ask a plant clinic.", 6, 1, {},
          ("wait",), "The extension service of your county or a university plant clinic looks at a sample.",
          sources.PRACTICE),
)}
