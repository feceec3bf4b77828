"""A recording with nothing but heart rate goes every way: replay, bouts, sheet, export, import."""

from pathlib import Path

import pandas as pd
import pytest

from livemon.app.cli import FAILED, main

MAPPING = """\
livemon_mapping = 1
started = "2026-03-02T17:30:00+01:00"

[time]
column = "t"
format = "s"

[[series]]
column = "bpm"
quantity = "heart_rate"

[[bout]]
start_s = 30
end_s = 270
work = "step-ups"
"""


def bpm_at(second: int) -> int:
    return 90 + min(60, max(0, second - 30)) - max(0, min(40, second - 270))


@pytest.fixture(scope="module")
def recording(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("hr")
    rows = "".join(f"{second},{bpm_at(second)}\n" for second in range(330))
    (folder / "old.csv").write_text(f"t,bpm\n{rows}", encoding="utf-8")
    (folder / "map.toml").write_text(MAPPING, encoding="utf-8")
    out = folder / "old.jsonl"
    words = ["import", str(folder / "old.csv"), "--mapping", str(folder / "map.toml")]
    assert main([*words, "--out", str(out)]) == 0
    return out


def test_it_replays(recording: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["replay", str(recording), "--snapshots", "--speed", "max"]) == 0

    assert '"bpm":150' in capsys.readouterr().out.replace(" ", "").replace(".0", "")


def test_its_bouts_are_compared(recording: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["bouts", str(recording)]) == 0

    assert "Bout 1, step-ups, 4:00" in capsys.readouterr().out


def test_it_gets_a_sheet(recording: Path, tmp_path: Path) -> None:
    assert main(["sheet", str(recording), "--to", str(tmp_path / "sheet.html")]) == 0

    assert "step-ups" in (tmp_path / "sheet.html").read_text(encoding="utf-8")


@pytest.mark.parametrize("form", ["csv", "parquet"])
def test_it_is_exported(form: str, recording: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"

    assert main(["export", str(recording), "--to", form, "--out", str(out)]) == 0

    assert sorted(file.stem for file in out.iterdir()) == ["bouts", "heart_rate", "marks"]
    read = pd.read_csv if form == "csv" else pd.read_parquet
    assert read(out / f"heart_rate.{form}")["bpm"].tolist() == [bpm_at(s) for s in range(330)]


def test_snirf_says_why_it_is_not_for_this(
    recording: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code = main(["export", str(recording), "--to", "snirf", "--out", str(tmp_path / "out")])

    assert code == FAILED
    assert "has muscle oxygenation" in " ".join(capsys.readouterr().err.split())
    assert list(tmp_path.iterdir()) == []


def test_import_writes_over_nothing_unasked(
    recording: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = recording.parent
    words = ["import", str(folder / "old.csv"), "--mapping", str(folder / "map.toml")]

    assert main([*words, "--out", str(recording)]) == FAILED
    assert "is there already" in " ".join(capsys.readouterr().err.split())
    assert main([*words, "--out", str(recording), "--overwrite"]) == 0
    assert main([*words, "--out", str(folder / "old.csv")]) == FAILED
    assert main(["import", "no.csv", *words[2:], "--out", str(folder / "x.jsonl")]) == FAILED
