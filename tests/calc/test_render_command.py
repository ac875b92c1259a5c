"""The command render: a name chooses what is written; a sentence and a status for whatever goes wrong."""

import json

import pytest

from calc import command_line
from calc.render.paper import files


@pytest.fixture
def plan(tmp_path):
    file = tmp_path / "my-tote.json"
    file.write_text(json.dumps({"plan": {"bath.length": "50 in"}, "version": 2}), encoding="utf-8")
    return file


def run(*arguments):
    return command_line.main(["render", *map(str, arguments)])


@pytest.mark.parametrize("name", [f"{kind}.html" for kind in files.SHEETS])
def test_each_page_is_written_under_its_name(plan, tmp_path, name):
    assert run(plan, "--to", tmp_path / name) == 0
    text = (tmp_path / name).read_text(encoding="utf-8")
    assert text.startswith("<!DOCTYPE html>") and "my-tote" in text and "<style>" in text


def test_the_same_plan_gives_the_same_bytes(plan, tmp_path):
    made = []
    for folder in ("one", "two"):
        (tmp_path / folder).mkdir()
        assert run(plan, "--to", tmp_path / folder / "sheet.html") == 0
        made.append((tmp_path / folder / "sheet.html").read_bytes())
    assert made[0] == made[1]


def test_a_name_is_that_of_the_plan_or_as_told(plan, tmp_path):
    plan.write_text(json.dumps({"plan": {}, "version": 2, "name": "Tote by the wall"}), encoding="utf-8")
    run(plan, "--to", tmp_path / "list.html")
    assert "Tote by the wall" in (tmp_path / "list.html").read_text(encoding="utf-8")
    run(plan, "--to", tmp_path / "list.html", "--name", "Another")
    assert "Another" in (tmp_path / "list.html").read_text(encoding="utf-8")
    run("#start=2&bath.length=50+in", "--to", tmp_path / "list.html")
    assert "Your raft bath" in (tmp_path / "list.html").read_text(encoding="utf-8")


def test_what_cannot_be_done_is_told_in_a_sentence(plan, tmp_path, capsys):
    assert run(plan, "--to", tmp_path / "board.pdf") == 2
    assert "is not a file that can be written; the names are" in capsys.readouterr().err
    assert run(tmp_path / "none.json", "--to", tmp_path / "list.html") == 2
    assert "PLAN cannot be read" in capsys.readouterr().err
    assert run(plan, "--to", tmp_path / "nowhere" / "list.html") == 1
    assert "could not be written" in capsys.readouterr().err


def test_what_was_left_aside_of_a_plan_is_told(tmp_path, capsys):
    assert run("#start=2&bath.color=red&bath.length=50+in", "--to", tmp_path / "list.html") == 0
    assert "bath.color" in capsys.readouterr().err
