"""The seven steps of the planner: which topics each groups, what it asks first, and which answers it puts in front.

A step knows topics, fields and results by their keys and works nothing out; another grouping is another table here.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Key:
    """One answer that a step shows large.

    ``label`` is said above the number; ``note`` beneath it, where ``{key}`` stands for another result or input as it is
    shown; ``several`` takes its place where there is more than one bath, the first of them that can be filled. A note
    one of whose keys has no answer is left out, and so is an answer that the plan does not have, one
    that says nothing where it is nought, and one whose place another (``unless``) takes.
    """

    result: str
    label: str
    note: str = ""
    several: tuple[str, ...] = ()
    nought: bool = True
    unless: str = ""


@dataclass(frozen=True)
class Step:
    """One sheet of the planner.

    ``name`` is its name in addresses; ``title`` its heading and ``short`` its name in narrow places; ``topics`` are in
    the order told; ``asks`` are the fields (or tables) that decide, ``ask_title`` and ``ask_note`` stand over them;
    ``keys`` the three to six answers in front; ``settings`` says in a few words what the fold holds, ``caption`` what
    the drawing shows. Of the cautions ``standing`` for every such bath the first that the plan has is said in one line.
    Where the physics of others goes round and takes its time, ``quick`` are the topics that do not wait for it.
    """

    name: str
    title: str
    short: str
    question: str
    topics: tuple[str, ...]
    ask_title: str
    ask_note: str
    asks: tuple[str, ...]
    keys: tuple[Key, ...]
    settings: str
    caption: str
    standing: tuple[str, ...] = ()
    quick: tuple[str, ...] = ()


STEPS: tuple[Step, ...] = (
    Step(
        "tank", "Bath", "Bath", "How much water, how heavy, and where does it go when the pump stops?",
        ("water", "place"), "Measure these", "inside, in any unit",
        ("water.scheme", "bath.shape", "bath.length", "bath.width", "bath.base_length", "bath.base_width",
         "bath.diameter", "bath.base_diameter", "bath.depth", "bath.water_depth", "bath.known_volume",
         "reservoir.known_volume", "reservoir.brim_volume", "bath.stands_on"),
        (Key("water.working_volume", "Water in all", "bath {water.bath_volume}, reservoir {water.reservoir_volume}",
             ("all {bath.count} baths and the reservoir, {water.reservoir_volume}", "all {bath.count} baths")),
         Key("water.bath_volume", "Water in one bath", "filled {bath.water_depth} deep"),
         Key("water.drain_back_volume", "Runs back when it stops", "there is room for {water.reservoir_headroom}",
             ("from all {bath.count} baths; there is room for {water.reservoir_headroom}",)),
         Key("water.bath_mass", "One full bath", "{water.leg_load} on each of {bath.legs} legs")),
        "reservoir, height, floor, legs, air and place",
        "Cut through and from above, to one scale. Purple sizes are yours.",
        ("open-water",)),
    Step(
        "raft", "Raft", "Raft", "What grows on it, where do the holes go, and does it float?",
        ("crops", "board"), "What you grow, and on what", "inside the board",
        ("crops.rows", "board.pot", "board.thickness", "board.spacing"),
        (Key("board.sites", "Holes in each bath", "{board.spacing_used} from center to center"),
         Key("board.hole_diameter", "Each hole", "hole saw {board.saw}"),
         Key("board.diameter", "Each disc, across", "boards in each bath: {board.count}"),
         Key("board.length", "Each board, long side", "boards in each bath: {board.count}", unless="board.diameter"),
         Key("board.width", "Each board, short side", "{board.thickness} thick", unless="board.diameter"),
         Key("board.freeboard", "Foam above water", "at harvest, fully grown"),
         Key("board.mass", "Heaviest board", "at harvest, with plants")),
        "pattern, notches, foam sheet, weights", "The raft from above, to scale. Crosses mark the centers of holes."),
    Step(
        "air", "Air and flow", "Air", "Do the roots get their oxygen, and does the water go round and come back?",
        ("air", "oxygen", "circulation"), "What you have", "read it on the plates, or keep our guess",
        ("air.depth", "air.stone_height", "circulation.lift", "circulation.hose_bore", "circulation.hose_length",
         "circulation.turnover"),
        (Key("air.delivered", "Air at the stones", "{air.oxygen_need} needed, with margin",
             ("{air.oxygen_need} needed for all {bath.count} baths, with margin",)),
         Key("oxygen.bath_hottest", "Oxygen, hottest hour",
             "water can hold {oxygen.saturation_hottest}; aim {oxygen.target}"),
         Key("circulation.flow", "Water round", "each bath turned over {circulation.turnover}"),
         Key("circulation.overflow_pipe", "Each overflow", "or wider; it must take {circulation.drain_flow}"),
         Key("air.stones", "Air stones", "in each bath: {air.stones_per_bath}"),
         Key("energy.power", "Draws day and night, all", "{energy.cost_per_year} a year")),
        "pumps, stones, hose, elbows, overflow, oxygen", "Air down, water up and back, to scale.",
        ("mains",), quick=("circulation",)),
    Step(
        "nutrients", "Nutrients and pH", "Nutrients", "What do I add to fresh water, and how much?",
        ("feed", "acidity"), "Your water and your fertilizer", "a water report or a test kit tells",
        ("feed.way", "acidity.alkalinity", "acidity.start_ph", "acidity.target_ph", "acidity.acid",
         "acidity.strength_percent"),
        (Key("feed.ec", "EC, first fill", "ppm on the 500 scale: {feed.ppm500}"),
         Key("feed.pour", "Pour, first fill", "into {feed.batch} of water"),
         Key("feed.total_mass", "Fertilizer, first fill", "for {feed.batch} of water"),
         Key("acidity.volume", "Acid or base, first fill", "{acidity.product}; pour half, stir, measure"),
         Key("acidity.rebound_ph", "pH after some days", "of bubbling, with no more added")),
        "target, strength, salts, bottles, water report, meters",
        "The first fill; heaps are to scale with one another.",
        ("acidity-pouring", "feed-oxidiser", "feed-labels")),
    Step(
        "light", "Light and warmth", "Light", "Is there light enough, and does the water stay in its band?",
        ("light", "heat"), "Light and air about the bath", "a guess will do at first",
        ("light.by", "light.sun", "light.hours", "light.lamp_power", "light.have", "place.setting",
         "place.air_temperature"),
        (Key("light.dli_target", "Light the plants need"),
         Key("light.dli", "Light of a day", "aim {light.dli_target}"),
         Key("light.lamps", "Lamps", "{light.hours} a day", nought=False),
         Key("heat.high", "Warmest water", "at {heat.high_hour}; wanted up to {heat.band_high}"),
         Key("heat.low", "Coolest water", "at {heat.low_hour}; wanted from {heat.band_low}"),
         Key("light.power", "Lamps draw", "{energy.lamps_cost_per_year} a year", nought=False)),
        "readings, sun, insulation, chiller", "The day of the water's temperature, and light beside its aim.",
        ("light-over-water",), quick=("light",)),
    Step(
        "running", "Running it", "Running", "What does it cost, when do I plant, and what if the power fails?",
        ("outage", "energy", "use", "schedule", "today"), "Money, days and power cuts", "your bill, your wishes",
        ("energy.tariff", "outage.hours", "schedule.start", "schedule.weeks", "use.holiday"),
        (Key("energy.all_cost_per_year", "Electricity cost per year", "{energy.all_per_year}, all together"),
         Key("outage.plan_for", "Power cut, likely lasts", "you want to bridge {outage.hours}"),
         Key("use.days_to_top_up", "Top up within", "{use.gone} gone in a day, drunk and evaporated"),
         Key("use.replace_after", "Full change after", "decided by: {use.replace_reason}"),
         Key("schedule.heads_per_week", "Heads each week", "first harvest {schedule.first_harvest}"),
         Key("schedule.sowings", "Sowings", "{schedule.seeds_per_batch} seeds each")),
        "circuit, battery, plant use, salts, calendar, today", "When the power fails, and the weeks to come.",
        ("outage-generator", "outage-battery")),
    Step(
        "shop", "Shop and build", "Shop", "What to buy, what to cut, and where to drill?",
        ("parts",), "How many", "the list counts them all",
        ("parts.copies", "parts.spare_share"),
        (Key("board.sites", "Holes in each bath", "every center stands in a table"),
         Key("board.saw", "Hole saw", "try it in a scrap first"),
         Key("board.sheets", "Foam sheets", "left over: {board.waste}"),
         Key("parts.cost", "Priced so far", "lines without a price: {parts.unpriced}")),
        "prices, what you own", "Sizes to the edge; a cross marks each center.",
        ("hole-saw",)),
)
BY_NAME: dict[str, Step] = {step.name: step for step in STEPS}
OF_TOPIC: dict[str, Step] = {topic: step for step in STEPS for topic in step.topics}
