"""The command line keeps its contract."""

import json
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
NAMED_RESULTS = """water.bath_volume water.reservoir_volume water.working_volume water.mass water.floor_pressure
water.drain_back_volume water.reservoir_headroom board.length board.width board.count board.hole_diameter board.sites
board.site_density board.draught board.freeboard air.practice_optimum air.practice_floor air.target air.back_pressure
air.delivered air.power circulation.target_flow circulation.head circulation.flow circulation.turnover
circulation.overflow_bore circulation.power energy.per_day energy.per_year energy.cost_per_year""".split()
NAMED_INPUTS = """bath.shape bath.length bath.width bath.depth bath.water_depth bath.base_length bath.base_width
bath.diameter bath.base_diameter bath.known_volume reservoir.shape reservoir.length reservoir.width reservoir.depth
reservoir.water_depth reservoir.base_length reservoir.base_width reservoir.diameter reservoir.base_diameter
reservoir.known_volume board.thickness board.clearance board.margin board.spacing board.pot board.pattern air.rule
air.depth air.pumps circulation.turnover circulation.lift circulation.hose_bore circulation.hose_length
circulation.pump""".split()


def run(*arguments, given=""):
    return subprocess.run([sys.executable, "-m", "calc", *arguments], input=given, capture_output=True, text=True,
                          cwd=ROOT, timeout=60)


def test_solve_reads_standard_input_and_answers_every_named_result():
    done = run("solve", "-", given='{"bath.length": "50 in"}')
    answer = json.loads(done.stdout)
    assert done.returncode == 0 and done.stderr == ""
    given_values = {key: result["value"] for key, result in answer["results"].items()}
    assert [key for key in NAMED_RESULTS if not isinstance(given_values.get(key), (int, float))] == []
    for result in answer["results"].values():
        assert {"value", "unit", "label", "relation", "source"} <= set(result)
    assert answer["plan"] == {"bath.length": "50 in"} and answer["faults"] == [] and answer["cautions"]


def test_solve_reads_a_file_and_a_link(tmp_path):
    file = tmp_path / "plan.json"
    file.write_text('{"plan": {"bath.length": "50 in"}}')
    by_file = json.loads(run("solve", str(file)).stdout)["results"]
    by_link = json.loads(run("solve", "#start=2&bath.length=50+in").stdout)["results"]
    assert by_file == by_link


def test_a_fault_names_field_text_and_what_is_allowed():
    answer = json.loads(run("solve", "-", given='{"bath.length": "5 gal"}').stdout)
    assert answer["faults"][0]["field"] == "bath.length" and answer["faults"][0]["typed"] == "5 gal"
    assert "water.reservoir_volume" in answer["results"] and "water.bath_volume" not in answer["results"]


def test_mends_are_worked_out_when_asked_for():
    plan = '{"bath.fill": "floor"}'
    asked = json.loads(run("solve", "-", "--mends", given=plan).stdout)
    assert "mends" not in json.loads(run("solve", "-", given=plan).stdout)
    assert asked["mends"]["water"][0]["changes"] == {"bath.fill": "rim"}
    line = json.loads(run("solve", "--lines", "-", "--workers", "1", "--mends", given=plan + "\n").stdout)
    assert line["mends"] == asked["mends"]


def test_what_cannot_be_read_gets_one_sentence():
    for arguments, given in ((["solve", "-"], "{"), (["solve", "nowhere.json"], "")):
        done = run(*arguments, given=given)
        assert done.returncode == 2 and done.stderr.startswith("PLAN") and "Traceback" not in done.stderr


def test_fields_and_results_are_listed_with_units():
    fields = {field["key"]: field for field in json.loads(run("fields").stdout)}
    results = {result["key"]: result for result in json.loads(run("results").stdout)}
    assert [key for key in NAMED_INPUTS if key not in fields] == []
    assert [key for key in NAMED_RESULTS if key not in results] == []
    assert fields["bath.length"]["unit"] == "m" and results["water.mass"]["unit"] == "kg"
