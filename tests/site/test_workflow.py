"""The example that checks and publishes from a host of repositories says what the hosting guide promises."""

from __future__ import annotations

import re

import yaml
from tools import setup

FILE = setup.ROOT / "site_src" / "hosting" / "workflow.yml"


def test_the_workflow_runs_the_one_check_and_publishes_what_it_built():
    text = FILE.read_text(encoding="utf-8")
    jobs = yaml.safe_load(text)["jobs"]
    checks = jobs["check"]["steps"]
    place = next(number for number, step in enumerate(checks) if step.get("run") == ".ci/run")
    kept = [number for number, step in enumerate(checks) if step.get("with", {}).get("path") == "dist"]
    # What is published was checked first, in the same run.
    assert kept and kept[0] > place and jobs["publish"]["needs"] == "check"
    assert (setup.ROOT / ".ci" / "run").is_file()
    assert "secrets." not in text


def test_every_action_is_pinned_and_rights_are_few():
    found = yaml.safe_load(FILE.read_text(encoding="utf-8"))
    used = [step["uses"] for job in found["jobs"].values() for step in job["steps"] if "uses" in step]
    assert used and all(re.fullmatch(r"[\w-]+/[\w-]+@(v\d+|[0-9a-f]{40})", one) for one in used)
    assert found["permissions"] == {"contents": "read"}
    assert found["jobs"]["publish"]["permissions"] == {"pages": "write", "id-token": "write"}
    assert "permissions" not in found["jobs"]["check"]


def test_the_hosting_guide_links_to_it():
    assert "(site_src/hosting/workflow.yml)" in (setup.ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
