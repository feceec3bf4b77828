"""`livemon plan`, and what `--plan` accepts."""

from pathlib import Path

import pytest

from livemon.app.cli import FAILED, main
from livemon.app.plan_option import load_plan, shipped_plans


def test_lists_the_ready_made_plans(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", "list"]) == 0

    text = capsys.readouterr().out
    assert set(shipped_plans()) == {"by-refilling", "one-heart-rate", "steps"}
    assert all(f"{name}: " in text for name in shipped_plans())
    assert "invented" in text


def test_what_is_shown_can_be_kept_as_a_file_and_checked(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    assert main(["plan", "show", "by-refilling"]) == 0
    mine = tmp_path / "mine.toml"
    mine.write_text(capsys.readouterr().out, encoding="utf-8")

    assert load_plan(str(mine)) == load_plan("by-refilling")
    assert main(["plan", "check", str(mine)]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[2].split(maxsplit=1) == [
        "2", "recovery, until refilled to 95 % of baseline, at most 5 min"
    ]  # fmt: skip
    assert lines[-1] == "12 steps, at most 36 min"


def test_a_step_that_ends_by_hand_is_not_counted_as_time(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    mine = tmp_path / "mine.toml"
    mine.write_text(
        'name = "Row"\n[[step]]\ndo = "bout"\ndistance_m = 500\n'
        '[[step]]\ndo = "recovery"\nduration_s = 90\n',
        encoding="utf-8",
    )
    main(["plan", "check", str(mine)])

    assert capsys.readouterr().out.splitlines()[-1] == (
        "2 steps, 1 min 30 s, and the steps that end by hand"
    )


@pytest.mark.parametrize(
    ("written", "says"),
    [
        pytest.param(None, "no plan", id="missing"),
        pytest.param(b"\xff\xfe", "can't be read", id="no text"),
        pytest.param(b'name = "x"\n', "at least one", id="no step"),
    ],
)
def test_what_is_no_plan_is_refused_before_anything_runs(
    written: bytes | None, says: str, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    path = tmp_path / "plan.toml"
    if written is not None:
        path.write_bytes(written)

    assert main(["simulate", "--no-window", "--no-record", "--plan", str(path)]) == FAILED
    assert says in " ".join(capsys.readouterr().err.split())
