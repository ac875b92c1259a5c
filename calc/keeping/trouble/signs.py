"""The signs of trouble: where to look, how each is called in plain words, and how it is asked about."""

from __future__ import annotations

from dataclasses import dataclass

from .sources import JUDGEMENT


@dataclass(frozen=True)
class Sign:
    """One sign. ``often`` is the share of baths that show it whatever is wrong; ``status`` what that number is worth.

    ``said`` are other plain words for it; ``ask`` the question and ``how`` the way to find out. A sign with ``drawn``
    has a picture of that name.
    """

    key: str
    where: str
    title: str
    more: str
    ask: str
    how: str
    often: float
    said: tuple[str, ...] = ()
    drawn: str = ""
    status: str = JUDGEMENT


LEAVES, ROOTS, WATER, EQUIPMENT, SEEDLINGS, READINGS = ("leaves", "roots", "water", "equipment", "seedlings",
                                                        "readings")
# Of these only one can be so: who has seen it is not asked for the others.
EITHER = (frozenset(("slimy", "white", "tan")), frozenset(("warm", "cold")), frozenset(("ph-high", "ph-low")),
          frozenset(("ec-high", "ec-low")), frozenset(("ph-climbs", "ph-falls")),
          frozenset(("no-bubbles", "one-stone")))
WHERE = {LEAVES: ("Leaves", "which leaves, and where on the leaf"), ROOTS: ("Roots", "lift one net pot and look"),
         WATER: ("Water", "surface, smell, color"), EQUIPMENT: ("Equipment", "stop and listen for a minute"),
         SEEDLINGS: ("Seeds and seedlings", "in the nursery, or just moved"),
         READINGS: ("Readings", "from your log or your meters; untick what you doubt")}

SIGNS: dict[str, Sign] = {one.key: one for one in (
    Sign("old-yellow", LEAVES, "Old leaves yellow", "from the bottom up, all over",
         "Do the oldest leaves turn yellow all over?", "Look at the lowest two leaves of three plants.", 0.10,
         ("yellow lower leaves", "bottom leaves yellow", "yellow leaves"), "old-yellow"),
    Sign("young-yellow", LEAVES, "Young leaves yellow", "veins stay green",
         "Are the youngest leaves yellow with green veins?", "Hold a heart leaf against the light.", 0.05,
         ("new leaves yellow", "top leaves yellow", "interveinal chlorosis young"), "young-yellow"),
    Sign("all-pale", LEAVES, "All leaves pale", "young ones too, veins and all",
         "Are all leaves pale, the youngest as well?", "Compare with a photo of a good week.", 0.06,
         ("pale all over", "light green plant")),
    Sign("old-veins", LEAVES, "Old leaves marbled", "yellow between green veins",
         "Are old leaves yellow between veins that stay green?", "Hold an old leaf against the light.", 0.04,
         ("old leaves yellow between veins", "marbled leaves")),
    Sign("tips-brown", LEAVES, "Tips and edges brown", "dry, on the inner leaves",
         "Are the edges of the innermost leaves brown and dry?", "Open the heart of one head.", 0.05,
         ("tipburn", "tip burn", "brown tips", "inner leaves brown"), "tips-brown"),
    Sign("old-edges", LEAVES, "Old leaves scorched", "edges brown, the inner ones well",
         "Are the edges of old leaves scorched?", "The lowest leaves, at tip and rim.", 0.05,
         ("leaf edges scorched", "brown edges old leaves", "burnt edges")),
    Sign("specks", LEAVES, "Small brown specks", "scattered, on older leaves",
         "Are there small brown specks scattered over older leaves?", "Near the rim first; no web, no insects.", 0.04,
         ("brown spots", "speckles", "bronze spots")),
    Sign("purple", LEAVES, "Dark or purple", "small, stiff leaves",
         "Are leaves darker than usual, or purple at rim and stem?", "Not on sorts that are red anyway.", 0.03,
         ("purple leaves", "red stems", "purplish")),
    Sign("wilt", LEAVES, "Leaves hang at noon", "and stand again at night",
         "Do leaves hang although there is water?", "Look at noon and again after dark.", 0.07,
         ("wilting", "wilted", "drooping leaves", "limp leaves", "hanging leaves")),
    Sign("stretched", LEAVES, "Pale and stretched", "long stems, few leaves",
         "Are plants long, thin and pale?", "The gap between leaves is longer than a finger is wide.", 0.04,
         ("leggy", "spindly", "stretched plants")),
    Sign("bleached", LEAVES, "Bleached patches", "on top, nearest the lamp",
         "Are the leaves nearest the lamp bleached?", "Shaded leaves of the same plant are green.", 0.02,
         ("white patches", "light burn", "bleaching")),
    Sign("stunted", LEAVES, "Growth stands still", "smaller than the batch before",
         "Has growth all but stopped?", "Compare with the batch before, at the same age.", 0.12,
         ("stunted", "slow growth", "not growing", "small plants")),
    Sign("twisted", LEAVES, "Young leaves twisted", "curled, sticky or crippled",
         "Are young leaves curled or crippled?", "Feel for stickiness; look underneath.", 0.03,
         ("curled leaves", "sticky leaves", "distorted leaves", "honeydew")),
    Sign("insects", LEAVES, "Insects, holes or webs", "also underneath",
         "Are there insects, holes, webs or silvery dots?", "Turn leaves over; shake one over white paper.", 0.02,
         ("bugs", "aphids", "mites", "thrips", "webs", "holes in leaves", "stippling", "silvery speckles", "flies")),
    Sign("powder", LEAVES, "White powder or gray fur", "that rubs off",
         "Is there a white powder or gray fur on leaves?", "Rub it with a finger.", 0.02,
         ("mildew", "white powder", "mold", "white fuzz", "gray fur")),
    Sign("bolting", LEAVES, "A stalk shoots up", "leaves turn bitter",
         "Does a stalk rise from the heart?", "Taste a leaf: bitter?", 0.03,
         ("bolting", "flowering", "bitter leaves", "going to seed")),
    Sign("slimy", ROOTS, "Brown and slimy", "cling together, come off in the hand",
         "Are roots brown and slimy?", "Pull gently: the outside slips off and leaves a thread.", 0.04,
         ("brown roots", "slimy roots", "rotten roots", "mushy roots", "black roots", "rat tail roots"), "slimy"),
    Sign("smell", ROOTS, "Smell bad", "like a drain",
         "Do the roots smell bad, like a drain?", "Lift two net pots, one far from the stone. Well roots smell of "
         "soil or of nothing.", 0.04, ("bad smell", "roots smell", "stink", "rotten smell", "foul smell")),
    Sign("tan", ROOTS, "Tan, but firm", "stained, with white tips",
         "Are roots tan but firm, with white tips?", "Rub one: does it hold?", 0.08, ("stained roots", "tan roots")),
    Sign("stubby", ROOTS, "Short and stubby", "brown tips, few side roots",
         "Are roots short, with brown tips and few side roots?", "Compare with the batch before.", 0.04,
         ("short roots", "burnt root tips", "stubby roots")),
    Sign("white", ROOTS, "White and crisp", "this is what well roots look like",
         "Are the roots white and crisp?", "Lift two net pots.", 0.50, ("white roots", "healthy roots"), "white"),
    Sign("green", WATER, "Green, or a green skin", "on water, roots or board",
         "Is the water green, or is there a green skin?", "Look at the rim, the holes and the reservoir.", 0.05,
         ("green water", "algae", "green slime", "green skin")),
    Sign("foam", WATER, "Foam that stays", "more than a hand wide",
         "Is there foam that stays?", "Wait ten minutes with the air off.", 0.05, ("foam", "foaming", "froth"), "foam"),
    Sign("water-smell", WATER, "The water smells", "of eggs or a drain",
         "Does the water smell?", "Smell a cup of it, away from the roots.", 0.03, ("water smells", "smelly water")),
    Sign("crust", WATER, "White crust", "at the rim or the pots",
         "Is there a white crust at rim or pots?", "Scratch it: salt crumbles.", 0.06, ("salt crust", "white crust")),
    Sign("falls", WATER, "Below its mark again", "within a day",
         "Does the water fall below its mark within a day?", "Mark the level with tape, look tomorrow.", 0.04,
         ("losing water", "water level drops", "level falls", "leak")),
    Sign("fresh", WATER, "Fresh tap water", "in the last three days",
         "Was much tap water filled in within the last three days?", "A full change, or more than a third.", 0.10,
         ("changed the water", "new water", "tap water added")),
    Sign("no-bubbles", EQUIPMENT, "Few or no bubbles", "at all stones",
         "Are there few or no bubbles at all stones?", "Lift the board at each stone.", 0.03,
         ("no bubbles", "few bubbles", "air pump dead", "stones do not bubble")),
    Sign("one-stone", EQUIPMENT, "One stone is dead", "the others bubble",
         "Is one stone dead while others bubble?", "Lift the board at each stone.", 0.03,
         ("one stone does not bubble", "uneven bubbles")),
    Sign("hiss", EQUIPMENT, "Air hisses", "at a joint or a valve",
         "Does air hiss at a joint?", "Run a wet finger along the air line.", 0.02, ("hissing", "air leak")),
    Sign("pump", EQUIPMENT, "A pump is loud, hot or silent", "the water pump, or no flow",
         "Is the water pump loud, hot or silent, or is there no flow?", "Unplug it before your hand goes in.", 0.03,
         ("pump loud", "pump silent", "no flow", "pump hot", "noise", "pump stopped", "humming")),
    Sign("high", EQUIPMENT, "Water stands high", "higher than its mark",
         "Does the water in the bath stand higher than its mark?", "Measure from the rim.", 0.02,
         ("water too high", "overflowing", "bath too full", "high level")),
    Sign("floor", EQUIPMENT, "Water on the floor", "below bath or reservoir",
         "Is there water on the floor?", "Cut the power at the breaker first if it reaches a plug.", 0.02,
         ("wet floor", "puddle", "dripping", "flood")),
    Sign("after-stop", EQUIPMENT, "It runs back when the pump stops", "the reservoir fills or spills",
         "Does much water run back when the pump stops?", "Unplug it and watch the reservoir for two minutes.", 0.02,
         ("runs back", "siphon", "drains when off", "reservoir overflows")),
    Sign("power", EQUIPMENT, "Power was off", "within two days",
         "Was the power off within the last two days?", "Clocks that blink tell.", 0.03,
         ("power cut", "outage", "blackout", "power failure")),
    Sign("no-seedlings", SEEDLINGS, "Seeds do not come up", "less than half, after a week",
         "Did less than half of the seeds come up in a week?", "Count the tray.", 0.02,
         ("no germination", "seeds not sprouting", "poor germination")),
    Sign("fall-over", SEEDLINGS, "Seedlings fall over", "thin and brown at the base",
         "Do seedlings fall over, pinched at the base?", "Look at the stem where it leaves the plug.", 0.02,
         ("damping off", "seedlings die", "seedlings fall over")),
    Sign("old-seedling", SEEDLINGS, "Moved late", "roots wound round in the cell",
         "Were the seedlings older than four weeks when moved?", "The log or the calendar tells.", 0.05,
         ("old seedlings", "root bound", "transplanted late")),
    Sign("warm", READINGS, "Water warm", "above its band", "Is the water above its band?", "A thermometer, a hand "
         "deep, at noon.", 0.12, ("warm water", "hot water", "high temperature", "heat")),
    Sign("cold", READINGS, "Water cold", "below its band", "Is the water below its band?",
         "A thermometer, early in the morning.", 0.06, ("cold water", "low temperature")),
    Sign("ph-high", READINGS, "pH high", "above its band", "Is the pH above its band?", "A checked meter.", 0.12,
         ("high ph", "alkaline")),
    Sign("ph-low", READINGS, "pH low", "below its band", "Is the pH below its band?", "A checked meter.", 0.06,
         ("low ph", "acid water")),
    Sign("ph-climbs", READINGS, "pH climbs", "faster than the plan says", "Does the pH climb from day to day?",
         "Two readings two days apart, nothing poured between.", 0.15, ("ph rises", "ph climbs", "ph goes up")),
    Sign("ph-falls", READINGS, "pH falls", "faster than the plan says", "Does the pH fall from day to day?",
         "Two readings two days apart, nothing poured between.", 0.08, ("ph falls", "ph drops", "ph goes down")),
    Sign("ec-high", READINGS, "EC high", "above its band", "Is the EC above its band?", "A checked meter.", 0.07,
         ("high ec", "ec too high", "strong solution")),
    Sign("ec-low", READINGS, "EC low", "below its band", "Is the EC below its band?", "A checked meter.", 0.08,
         ("low ec", "ec too low", "weak solution")),
    Sign("ec-rises", READINGS, "EC rises", "between top-ups", "Does the EC rise while water is topped up?",
         "Two readings a week apart, at the mark.", 0.08, ("ec rises", "ec climbs")),
    Sign("oxygen-low", READINGS, "Oxygen low", "below what you keep", "Is dissolved oxygen below what you keep?",
         "A meter, in the warmest hour, away from the stones.", 0.05, ("low oxygen", "low do", "oxygen falls")),
    Sign("dim", READINGS, "Little light", "dark weeks, or lamps weak", "Is there less light than your plan asks for?",
         "A light meter or the hours of lamp and sun.", 0.08, ("dark", "cloudy", "low light")),
    Sign("still-air", READINGS, "Still, damp air", "leaves do not move", "Is the air over the leaves still and damp?",
         "Hold a thread over the heart: does it move?", 0.12, ("no airflow", "humid", "still air", "high humidity")),
)}
