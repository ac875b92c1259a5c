"""Money: how it is read, which currency it is shown in, and the question about cents."""

import json

import pytest

from calc import api, currencies, units
from calc.plan import Plan
from calc.solve import as_json, solve


def design(**plan):
    return solve(Plan({name.replace("__", "."): text for name, text in plan.items()}))


@pytest.mark.parametrize("typed, price, sign", [
    ("0.17", 0.17, ""), ("17¢", 0.17, ""), ("17 ¢/kWh", 0.17, ""), ("17 ct", 0.17, ""), ("17c", 0.17, ""),
    ("17 c/kWh", 0.17, ""), ("17 cents", 0.17, ""), ("17 cents per kWh", 0.17, ""), ("16.9 Cents", 0.169, ""),
    ("¢17", 0.17, ""), ("28p", 0.28, "£"), ("28 pence", 0.28, "£"), ("28 p per kWh", 0.28, "£"), ("$0.17", 0.17, "$"),
    ("0,31 €/kWh", 0.31, "€"), ("31 euro cents", 0.31, "€"), ("EUR 0.31", 0.31, "€"),
    ("1,80 kr", 1.8, "kr"), ("kr 1,80", 1.8, "kr"), ("180 öre", 1.8, "kr"), ("1.80 SEK", 1.8, "SEK"),
    ("SEK 1.80 per kWh", 1.8, "SEK"), ("0,75 zł", 0.75, "zł"), ("75 groszy", 0.75, "zł"),
    ("₹8", 8.0, "₹"), ("Rs. 8/kWh", 8.0, "₹"), ("¥31", 31.0, "¥"), ("31 yen", 31.0, "¥"),
    ("CHF 0.27", 0.27, "CHF"), ("27 Rappen", 0.27, "CHF"), ("R$ 0,95", 0.95, "R$"), ("R 2.5", 2.5, "R"),
    ("A$0.30", 0.3, "A$"), ("0.30 AUD", 0.3, "A$"), ("₦225", 225.0, "₦"), ("170 $/MWh", 0.17, "$"),
])
def test_a_price_of_electricity_is_read_with_its_currency(typed, price, sign):
    assert units.parse(typed, "tariff", "us") == pytest.approx(price)
    assert units.beside(typed).sign == sign
    one = design(energy__tariff=typed)
    assert one.faults == {} and one.value("energy.money") == (sign or "$")
    assert one.value("energy.cost_per_year") == pytest.approx(one.value("energy.per_year") * price)


@pytest.mark.parametrize("typed", ["17 cm", "17 $ €", "cents", "17 cents cents", "$", "confirmed", "c 17"])
def test_what_is_no_price_is_told(typed):
    assert design(energy__tariff=typed).faults["energy.tariff"].startswith("Price of electricity per kWh")


def test_no_currency_word_stands_for_two_things():
    words = [word for one in currencies.CURRENCIES for word in {one.sign.lower(), *one.names, *one.hundredths}]
    assert len(words) == len(set(words)) and not set(words) & set(currencies.CENTS)


@pytest.mark.parametrize("typed, asks", [
    ("17", "do you mean 17 cents? Type 0.17, or 17 cents. If one kWh really costs $17.00, type "
           "“17 $ confirmed”"),
    ("2.5 €", "do you mean 2.5 cents? Type 0.025, or 2.5 cents. If one kWh really costs €2.50, type "
                    "“2.5 € confirmed”"),
    ("£28", "do you mean 28 pence? Type 0.28, or 28 pence. If one kWh really costs £28.00, type "
                  "“28 £ confirmed”"),
])
def test_what_looks_like_cents_is_asked_about_and_costs_nothing_until_then(typed, asks):
    one = design(energy__tariff=typed)
    assert one.faults["energy.tariff"] == (
        f"Price of electricity per kWh: {asks}. No cost is worked out until then.")
    for key in ("energy.cost_per_year", "energy.lamps_cost_per_year", "energy.all_cost_per_year",
                "energy.flood_saving", "energy.price_read"):
        assert one.value(key) is None
    assert one.value("energy.per_year") > 0 and one.value("energy.all_per_year") > 0
    answer = json.loads(api.run(json.dumps({"op": "solve", "plan": {"energy.tariff": typed}})))
    (_, cheap), (_, sure) = answer["offers"]["energy.tariff"]
    dear = units.parse(typed, "tariff", "us")
    assert design(energy__tariff=cheap).value("energy.cost_per_year") == pytest.approx(
        one.value("energy.per_year") * dear / 100)
    assert design(energy__tariff=sure).value("energy.cost_per_year") == pytest.approx(
        one.value("energy.per_year") * dear)


def test_a_confirmation_holds_for_the_amount_confirmed_and_is_kept_in_the_plan():
    assert design(energy__tariff="17 $ confirmed").faults == {}
    assert "energy.tariff" in design(energy__tariff="18 $").faults
    assert Plan({"energy.tariff": "17 $ confirmed"}).changed() == {"energy.tariff": "17 $ confirmed"}


def test_the_example_of_the_purse():
    # 1,000 W all year are 8,760 kWh; at 17 cents 1,489.20, never 148,920.
    plan = {"energy__other_power": "1000 W", "water__scheme": "still"}
    assert design(**plan, energy__tariff="17¢").value("energy.cost_per_year") == pytest.approx(1489.2)
    assert design(**plan, energy__tariff="17").value("energy.cost_per_year") is None


@pytest.mark.parametrize("typed, currency", [("17", "kr"), ("17 kr", "$"), ("17 ₹", "$"), ("150", "₩"),
                                             ("1500 Rp", "$"), ("2", "$"), ("1.99", "£")])
def test_other_currencies_and_small_prices_are_not_asked_about(typed, currency):
    assert design(energy__tariff=typed, energy__currency=currency).faults == {}


def test_an_amount_without_a_currency_is_asked_about_too():
    assert "energy.tariff" in design(energy__tariff="17", energy__currency="none").faults


def test_every_amount_is_shown_with_the_one_currency_of_the_plan():
    for plan, sign in (({}, "$"), ({"units": "metric"}, "€"), ({"energy.tariff": "1.9 kr"}, "kr"),
                       ({"energy.currency": "CHF"}, "CHF")):
        one = solve(Plan(plan))
        amounts = {key: result for key, result in as_json(one)["results"].items()
                   if one.answers[key].spec.kind == "money"}
        assert "parts.cost" in amounts and "energy.cost_per_year" in amounts
        assert all(sign in result["text"] and result["unit"] == sign for result in amounts.values())
        assert sign in one.shown("energy.price_read")


@pytest.mark.parametrize("value, sign, digits, text", [
    (1234.5, "$", 2, "$1,234.50"), (-5.0, "$", 2, "-$5.00"),
    (-0.001, "€", 2, "€0.00"), (12.0, "R$", 0, "R$12"),
    (1234.5, "kr", 2, "1,234.50\u00a0kr"), (12.0, "none", 2, "12.00"), (12.0, "", 2, "12.00")])
def test_an_amount_in_words(value, sign, digits, text):
    assert currencies.amount(value, sign, digits) == text


def test_prices_in_another_currency_are_told_not_exchanged():
    mixed = design(air__pumps__1__price="5 £", energy__tariff="0.2 €")
    told = next(one.text for one in mixed.cautions if one.code == "mixed-money")
    assert "£" in told and "€" in told and mixed.value("energy.money") == "€"
    same = design(air__pumps__1__price="5 €", energy__tariff="0.2 €")
    assert "mixed-money" not in {one.code for one in same.cautions}


def test_a_change_of_units_keeps_the_currency_of_what_was_typed():
    turned = json.loads(api.run(json.dumps({"op": "switch_system", "plan": {"energy.tariff": "0.2"}, "to": "metric"})))
    assert solve(Plan(turned["plan"])).value("energy.money") == "$"
    untyped = json.loads(api.run(json.dumps({"op": "switch_system", "plan": {"bath.length": "50"}, "to": "metric"})))
    assert "energy.currency" not in untyped["plan"]


def test_heater_and_cooler_belong_to_all_together_and_to_the_circuit():
    hot = design(place__setting="summer greenhouse", energy__season_days="90")
    assert hot.value("energy.warmth_per_year") == pytest.approx(hot.value("heat.cooler_energy") * 90)
    assert hot.value("energy.all_per_year") == pytest.approx(
        hot.value("energy.per_year") + hot.value("energy.lamps_per_year") + hot.value("energy.warmth_per_year"))
    assert hot.value("energy.all_cost_per_year") == pytest.approx(hot.value("energy.all_per_year") * 0.17)
    assert hot.value("energy.circuit_load") == pytest.approx(
        hot.value("energy.power") + hot.value("light.power") + hot.value("heat.cooler_draw"))
    cold = design(place__setting="cool basement")
    assert cold.value("energy.warmth_per_year") == pytest.approx(cold.value("heat.heater_energy") * 365)
    assert cold.value("energy.circuit_load") == pytest.approx(
        cold.value("energy.power") + cold.value("light.power") + cold.value("heat.warm_peak"))
    assert design().value("energy.warmth_per_year") == 0
