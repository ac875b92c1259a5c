"""Links and files that the page's script writes by itself are those that calc writes, letter by letter."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import api
from calc.data.versions import VERSION
from calc.plan import FIELDS, TABLES, Plan
from calc.render import link

ROOT = Path(__file__).resolve().parents[2]
SCRIPT = ROOT / "site_src" / "assets" / "js" / "linking.js"
RUN = """
import { createInterface } from "node:readline";
import { linkOf, fileOf, plainLine, withUnits } from "./linking.mjs";
let declared = null;
for await (const line of createInterface({ input: process.stdin })) {
  const given = JSON.parse(line);
  if (!declared) { declared = given; continue; }
  if (given.plan) {
    const said = Object.fromEntries([["link.by", plainLine(given.name, 60)], ["link.note", plainLine(given.note, 300)]]
      .filter(([, text]) => text));
    process.stdout.write(JSON.stringify({ link: linkOf(given.plan, declared, declared.version, said) }) + "\\n");
    continue;
  }
  const answer = { link: linkOf(given, declared), file: fileOf(given, declared),
    turned: withUnits(given, "us", declared),
    named: fileOf(given, declared, "Bath by the window"), first: linkOf(given, declared, 1) };
  process.stdout.write(JSON.stringify(answer) + "\\n");
}
"""


class Writer:
    """The page's script in a process of its own, one plan a line."""

    def __init__(self, folder: Path) -> None:
        from tools import defaults
        shutil.copyfile(SCRIPT, folder / "linking.mjs")
        (folder / "run.mjs").write_text(RUN, encoding="utf-8")
        self.process = subprocess.Popen(["node", str(folder / "run.mjs")], stdin=subprocess.PIPE,
                                        stdout=subprocess.PIPE, text=True, encoding="utf-8")
        self._say(defaults.declared())

    def _say(self, value: object) -> None:
        assert self.process.stdin is not None
        self.process.stdin.write(json.dumps(value) + "\n")
        self.process.stdin.flush()

    def write(self, plan: dict) -> dict:
        """What the script makes of a plan."""
        self._say(plan)
        assert self.process.stdout is not None
        return json.loads(self.process.stdout.readline())


@pytest.fixture(scope="module")
def writer(tmp_path_factory):
    """The script, kept running: a start costs more than a link."""
    made = Writer(tmp_path_factory.mktemp("linking"))
    yield made
    made.process.stdin.close()
    made.process.wait()
    made.process.stdout.close()


def here(plan: dict[str, str]) -> tuple[str, str]:
    """The link and the file as calc writes them."""
    file = json.loads(api.run(json.dumps({"op": "file_write", "plan": plan})))["text"]
    return link.write(Plan.from_mapping(plan)), file


def same(writer: Writer, plan: dict[str, str]) -> None:
    made = writer.write(plan)
    assert (made["link"], made["file"]) == here(plan)


CELLS = [f"{key}.{row}.{column.key}" for key, table in TABLES.items()
         for row in (1, 2, table.max_rows, table.max_rows + 1) for column in table.columns]
TEXTS = st.one_of(st.text(max_size=30), st.sampled_from([
    "metric", " Metric ", "48", "48 in", "60 cm", "", " ", "\x1c8 in\u3000", "\ufeff8 in",
    "a+b&c=d%", "!'()*~"]))
ODD_KEYS = st.sampled_from(["nothing.here", "\U0001f33f", "\uffee", "crops.rows.0.crop", "crops.rows.00001.crop"])
KEYS = st.one_of(st.sampled_from(sorted(FIELDS)), st.sampled_from(CELLS), ODD_KEYS)
PLANS = st.dictionaries(KEYS, TEXTS, max_size=12)


@settings(max_examples=400)
@given(PLANS)
def test_random_plans_give_one_link_and_one_file(writer, plan):
    same(writer, plan)


@settings(max_examples=100)
@given(st.sets(st.sampled_from(sorted(FIELDS)), max_size=20), st.sampled_from(["us", "metric"]))
def test_answers_that_say_the_default_are_left_out(writer, keys, system):
    plan = {key: FIELDS[key].default[system == "metric"] for key in keys} | {"units": system}
    same(writer, plan)


def test_the_written_plans_give_one_link_and_one_file(writer):
    found = sorted((ROOT / "tests" / "plans").glob("*.json"))
    assert len(found) > 5
    for file in found:
        given = json.loads(file.read_text(encoding="utf-8"))
        text = Plan.from_mapping(given.get("plan", given)).text
        assert text, file.name
        same(writer, text)


def test_half_characters_and_endless_answers_are_no_fault(writer):
    for plan in ({"bath.length": "4\ud800 ft"}, {"bath.length": "\udc00"},
                 {"bath.length": "9" * 2001, "bath.width": "5"}, {"bath.length": "\U0001f33f" * 2000}, {"\ud800": "x"}):
        same(writer, plan)


def test_a_link_of_an_earlier_version_says_so(writer):
    made = writer.write({"bath.length": "48 in"})["first"]
    assert made.startswith("#plan=1&bath.length=48+in&end=")
    plan, notes = link.read(made)
    assert plan["bath.length"] == "48 in" and notes == []


def test_a_file_may_carry_the_readers_own_name(writer):
    made = json.loads(writer.write({"bath.length": "5 ft"})["named"])
    assert made["name"] == "Bath by the window" and made["version"] == VERSION
    read = json.loads(api.run(json.dumps({"op": "file_read", "text": json.dumps(made)})))
    assert read["plan"] == {"bath.length": "5 ft"} and read["notes"] == [] and read["name"] == "Bath by the window"


def test_bare_numbers_take_units_where_no_reading_is_needed(writer):
    turned = writer.write({"bath.length": "48 1/2", "bath.width": "2 ft", "bath.shape": "box", "board.copies": "x",
                           "bath.legs": "4", "energy.tariff": "0.17", "today.ph": "6"})["turned"]
    assert turned["bath.length"] == "48 1/2 in" and turned["bath.width"] == "2 ft"
    assert (turned["bath.legs"], turned["energy.tariff"], turned["today.ph"]) == ("4", "0.17", "6")


@settings(max_examples=200)
@given(st.dictionaries(st.sampled_from(sorted(FIELDS)), st.text(max_size=12), max_size=3), st.text(max_size=90),
       st.text(max_size=400))
def test_a_maker_and_a_note_are_written_alike(writer, plan, name, note):
    made = writer.write({"plan": plan, "name": name, "note": note})["link"]
    assert made == link.write(Plan.from_mapping(plan), link.Maker(name, note))


@pytest.mark.parametrize("text", ["\ud800Ana\udfff", "x" * 10_000, "<script>alert(1)</script>",
                                  "a\u202eb\x00c\nd\u2066", "\ufeff \u3000", "🌿" * 301])
def test_odd_names_and_notes_are_written_alike(writer, text):
    made = writer.write({"plan": {"bath.length": "5 ft"}, "name": text, "note": text})["link"]
    assert made == link.write(Plan({"bath.length": "5 ft"}), link.Maker(text, text))
