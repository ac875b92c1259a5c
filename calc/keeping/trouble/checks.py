"""What to check or do first in trouble: each once, with the minutes that it takes, for several causes share them."""

from __future__ import annotations

from dataclasses import dataclass

from ...relations.base import PRACTICE


@dataclass(frozen=True)
class Check:
    """Bold words, the rest of the sentence, minutes, and what can hurt while doing it.

    ``status`` is what all of them are worth: no guide that was opened gives them in these words.
    ``tells`` are signs that it would show; once one of them is known, the check is not asked for again.
    """

    lead: str
    text: str
    minutes: float
    caution: str = ""
    tells: tuple[str, ...] = ()
    status: str = PRACTICE


HANDS = "Unplug pumps before your hands go in."
CHECKS: dict[str, Check] = {
    "bubbles": Check("Bubbles", "from every stone? If one is dead, that is oxygen, and it is mended in a minute.", 2,
                     tells=("no-bubbles", "one-stone")),
    "air-line": Check("The air line:", "run a wet finger along it, from the pump to each stone; press joints home.", 3),
    "air-pump": Check("The air pump:", "does it hum, is its filter clean? Hold a finger over its outlet.", 3),
    "stone": Check("The dead stone:", "open its valve; if nothing comes, take it out, soak and brush it, or change "
                   "it.", 5, HANDS),
    "thermometer": Check("Measure the water", "now and in the warmest hour.", 2, tells=("warm", "cold")),
    "cool": Check("Cool the water", "into its band: shade, frozen closed bottles. It helps in either case.", 10),
    "warm-up": Check("Warm the water", "into its band: cover, wrap, a heater with a thermostat.", 10,
                     "A heater made for water, on a GFCI (residual-current) outlet."),
    "roots": Check("Lift two net pots,", "one near a stone and one far from it, and look at the roots.", 3,
                   tells=("slimy", "tan", "stubby", "white")),
    "cut-roots": Check("Cut off", "what is slimy with clean scissors; rinse the rest in fresh solution.", 15, HANDS),
    "ph-meter": Check("Check the pH meter", "in two buffers, then measure again.", 5),
    "ph-down": Check("Bring the pH into its band,", "in the pours of Today.", 10, "Goggles and gloves for acid."),
    "ph-up": Check("Bring the pH up,", "in the pours of Today.", 10, "Goggles and gloves for pH-up."),
    "ec-meter": Check("Measure the EC", "at the mark with a checked meter, and that of your tap water.", 5,
                      tells=("ec-high", "ec-low")),
    "feed": Check("Bring the EC into its band,", "with the amounts of Today.", 10),
    "thin": Check("Exchange some solution", "for water, as Today says; change it all if salt has built up.", 15),
    "change": Check("Change the solution", "and mix it anew by your plan.", 90, "Unplug pumps and heater first."),
    "recipe": Check("The recipe:", "was each part weighed in, each bottle poured? Compare with the plan's list.", 5),
    "air-flow": Check("Move the air", "over the leaves: a small fan that just stirs the heart leaves.", 5,
                      "A fan and its plug stay out of reach of the water."),
    "light": Check("Measure the light", "at the leaves, in the hour it is brightest; count the hours.", 5,
                   tells=("dim",)),
    "raise-lamp": Check("Raise the lamp", "or dim it, and look at the new leaves in four days.", 5,
                        "Switch it off before you touch it."),
    "lower-lamp": Check("Bring the lamp nearer", "or run it longer, as your plan's light says.", 5,
                        "Switch it off before you touch it."),
    "leaf-under": Check("Turn leaves over", "and shake one over white paper; a lens helps.", 3),
    "take-out": Check("Take out", "the leaves or plants that have it, in a bag, before you touch others.", 10),
    "water-pump": Check("The water pump:", "unplug it, take it out, clean its strainer and rotor.", 10, HANDS),
    "flow": Check("Look at the inlet:", "does water come, as much as usual?", 1, tells=("pump",)),
    "strainer": Check("Clean the overflow strainer", "and see that water runs off at once.", 5, HANDS),
    "siphon": Check("Watch a stop:", "unplug the pump; water must stop running back within two minutes. Lift the inlet "
                    "over the water or clear its air hole.", 5),
    "leak": Check("Mark the level", "with tape, dry the floor, and look along every joint with a paper towel.", 10,
                  "Cut the power at the breaker first if water is near a plug."),
    "cover": Check("Keep out the light:", "cover holes, rim, hoses and reservoir.", 15),
    "chlorine": Check("Chlorine:", "test the tap water. A day of bubbling drives it off before it goes in; chloramine "
                      "needs carbon.", 5),
    "seed-cool": Check("Germinate cool:", "a new tray at 59 to 72 °F (15 to 22 °C); try ten seeds on wet paper.", 5),
    "nursery": Check("The nursery:", "water less, move the air, clean trays; sow anew in a fresh tray.", 10),
    "calendar": Check("Look at the calendar:", "how old was the tray when it was moved, and the seed when sown?", 2,
                      tells=("old-seedling",)),
    "wait": Check("Look again", "in two days, and note it in the log.", 1),
}
