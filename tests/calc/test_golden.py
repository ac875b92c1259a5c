"""Every answer of the whole plans, as last agreed to; and that a change is told in words."""

import json
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "site_src"))

from tools import golden  # noqa: E402  (the tools are not a package that is installed)

PLANS = sorted(golden.PLANS.glob("*.json"))
SHOWN = 5


@pytest.mark.parametrize("file", PLANS, ids=lambda file: file.stem)
def test_answers_are_as_agreed(file):
    _, found = golden.compare(file)
    if found:
        pytest.fail(f"{len(found)} answers of {file.stem} changed. If each is meant, run `python3 build.py golden "
                    "--renew` and say why in the commit. The first are:\n" + "\n".join(map(str, found[:SHOWN])),
                    pytrace=False)


def test_there_is_one_golden_file_for_each_plan():
    assert len(PLANS) >= 12
    assert {file.name for file in golden.GOLDEN.glob("*.json")} == {file.name for file in PLANS}


def test_a_change_is_told_in_the_readers_words():
    told, _ = golden.compare(golden.PLANS / "us_tote.json")
    before = json.loads(json.dumps(told))
    before["results"]["water.bath_volume"] *= 1.0 + 1e-6
    before["results"]["air.pumps_running"][0]["watts"] += 1.0
    before["cautions"]["made-up"] = "note: no more"
    one, two, three = golden.differences("us_tote", before, told, "us")
    assert "Air pumps that run [air.pumps_running], row 1, watts" in str(one) and "before: 7.0" in str(one)
    assert "[water.bath_volume]" in str(two) and str(two).count(" gal (") == 2
    assert "cautions made-up" in str(three) and "after:  nothing" in str(three)


def test_rounding_of_the_machine_is_no_change():
    assert golden.same({"a": [1.0, {"b": 2}]}, {"a": [1.0 + 1e-12, {"b": 2}]})
    for other in ({"a": [1.0 + 1e-6, {"b": 2}]}, {"a": [1.0, {"b": True}]}, {"a": [1.0, {"b": "2"}]}, {"a": [1.0]}):
        assert not golden.same({"a": [1.0, {"b": 2}]}, other)


def test_a_number_in_the_middle_of_a_long_table_shows():
    rows = [{"x": float(number), "word": "a"} for number in range(40)]
    changed = [dict(row) for row in rows]
    changed[20]["x"] += 0.001
    assert not golden.same(golden._short(rows), golden._short(changed))
    changed = [dict(row) for row in rows]
    changed[20]["word"] = "b"
    assert not golden.same(golden._short(rows), golden._short(changed))


def test_renewing_writes_and_then_all_is_as_agreed(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(golden, "GOLDEN", tmp_path / "golden")
    monkeypatch.setattr(golden, "PLANS", tmp_path)
    (tmp_path / "one.json").write_text(json.dumps({"about": "", "plan": {"bath.length": "50 in"}}))
    assert golden.run(renew=False) == 1 and not (tmp_path / "golden").exists()
    assert golden.run(renew=True) == 0
    assert golden.run(renew=False) == 0
    assert "as agreed" in capsys.readouterr().out
