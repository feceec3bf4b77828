"""The plans to choose from in the window and on the command line; a wrong file hides no other."""

import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from livemon.app.cli import main
from livemon.app.plan_desk import PlanDesk
from livemon.app.plan_shelf import shelf
from livemon.app.trainings import Trainings
from livemon.monitor.plan import Plan

GOOD = 'name = "Tuesday"\nabout = "Ours."\n[[step]]\ndo = "bout"\nwork = "row"\nduration_s = 60\n'
BAD = 'name = "Wednesday"\n[[step]]\ndo = "bout"\nduration_s = -3\n'


class Session:
    """Notes which plan is chosen."""

    def __init__(self) -> None:
        self.chosen: list[tuple[str | None, str | None]] = []

    @property
    def names(self) -> dict[str, str]:
        return {"a1": "Zoë"}

    def choose_plan(self, whom: str | None, plan: Plan | None) -> None:
        self.chosen.append((whom, None if plan is None else plan.name))


def at_once(function: Callable[[], object]) -> None:
    function()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "tuesday.toml").write_text(GOOD, encoding="utf-8")
    (tmp_path / "wednesday.toml").write_text(BAD, encoding="utf-8")
    (tmp_path / "binary.toml").write_bytes(b"\xff\xfe")
    (tmp_path / "steps.toml").write_text(GOOD, encoding="utf-8")
    (tmp_path / "readme.txt").write_text("no plan", encoding="utf-8")
    return tmp_path


def test_own_plans_come_first_and_stand_for_ready_made_ones_of_the_same_name(folder: Path) -> None:
    found = {one.name: one for one in shelf(folder)}

    assert [*found][:4] == ["binary", "steps", "tuesday", "wednesday"]
    assert {name for name, one in found.items() if not one.own} == {
        "by-refilling",
        "one-heart-rate",
    }
    assert found["tuesday"].plan is not None
    assert found["steps"].plan == found["tuesday"].plan
    assert found["wednesday"].plan is None
    assert found["wednesday"].problem.startswith("wednesday.toml: step")
    assert "duration_s" in found["wednesday"].problem
    assert "can't be read" in found["binary"].problem


def test_without_a_folder_there_are_the_ready_made_ones(tmp_path: Path) -> None:
    assert [one.name for one in shelf(tmp_path / "none")] == [
        "by-refilling", "one-heart-rate", "steps"
    ]  # fmt: skip


def test_the_window_gets_them_in_words_and_chooses_by_name(folder: Path) -> None:
    session = Session()
    desk = PlanDesk(Trainings(), session, at_once, place=folder)
    choices = {one.key: one for one in desk.choices()}

    assert choices["tuesday"].steps == ("row, 1 min",)
    assert choices["tuesday"].total == "1 step, 1 min"
    assert choices["tuesday"].about == "Ours."
    assert "duration_s" in choices["wednesday"].problem
    assert desk.folder() == str(folder)
    desk.choose("a1", "tuesday")
    desk.choose(None, None)
    assert session.chosen == [("a1", "Tuesday"), (None, None)]
    assert desk.standing() == ()


@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere no variable moves the folder")
def test_the_command_line_lists_own_plans_and_says_what_is_wrong_with_them(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    plans = tmp_path / "livemon" / "plans"
    plans.mkdir(parents=True)
    (plans / "tuesday.toml").write_text(GOOD, encoding="utf-8")
    (plans / "wednesday.toml").write_text(BAD, encoding="utf-8")
    assert main(["plan", "list"]) == 0

    said = capsys.readouterr().out
    assert "tuesday: Tuesday (your own)" in said
    assert "wednesday: WRONG" in said
    assert "duration_s" in said
    assert main(["plan", "check", "tuesday"]) == 0
    assert "row, 1 min" in capsys.readouterr().out
