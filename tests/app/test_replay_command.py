"""`livemon replay` as a pipe: every line at once, unless somebody asks for a pace."""

import json
from pathlib import Path

import pytest

from livemon.app.cli import main

IN_BALANCE = Path(__file__).parents[2] / "replay_fixtures" / "in-balance.jsonl"


def test_json_lines_come_at_full_speed_unless_a_pace_is_asked_for(
    capsys: pytest.CaptureFixture[str],
) -> None:
    # In real time this would take a quarter of an hour.
    assert main(["replay", str(IN_BALANCE), "--snapshots"]) == 0

    last = json.loads(capsys.readouterr().out.splitlines()[-1])
    assert last["t_s"] > 1000


def test_the_lines_keep_the_pace_that_was_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["replay", str(IN_BALANCE), "--snapshots", "--speed", "100000"]) == 0
    paced = capsys.readouterr().out

    main(["replay", str(IN_BALANCE), "--snapshots", "--speed", "max"])

    assert paced == capsys.readouterr().out
