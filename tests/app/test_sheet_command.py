"""`livemon sheet`: HTML and PDF into the place that was named, warnings from the recording."""

import argparse
import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from babel.messages import Catalog
from babel.messages.mofile import write_mo
from class_recording import class_recording

from livemon.app.cli import main
from livemon.app.commands.sheet import add_arguments, run
from livemon.record.at_once import write_recording
from livemon.tongue import ENGLISH, speak

FIXTURES = Path(__file__).parent.parent.parent / "replay_fixtures"


@pytest.fixture
def recording(tmp_path: Path) -> Path:
    return Path(shutil.copy(FIXTURES / "over-the-line.jsonl", tmp_path / "r.jsonl"))


@pytest.fixture
def class_of_two(tmp_path: Path) -> Path:
    path = tmp_path / "class.jsonl"
    write_recording(path, *class_recording())
    return path


def warn(path: Path, athlete: str, at_s: float, priority: str = "drain") -> None:
    line = {
        "t_ns": int(at_s * 1e9), "type": "warning", "athlete": athlete, "site": "left thigh",
        "priority": priority, "fall_rate_pct_per_min": 4.1, "falling_for_s": 24.0, "bpm": 150.0,
        "what": "on",
    }  # fmt: skip
    with path.open("a") as file:
        file.write(json.dumps(line, separators=(",", ":")) + "\n")


def test_a_pdf_has_pages_fonts_and_a_title(recording: Path, tmp_path: Path) -> None:
    """PDF by ISO 32000: header, page objects, embedded font files, the end mark."""
    to = tmp_path / "sheet.pdf"
    assert main(["sheet", str(recording), "--to", str(to)]) == 0

    written = to.read_bytes()
    assert written.startswith(b"%PDF-1.")
    assert written.rstrip().endswith(b"%%EOF")
    assert len(re.findall(rb"/Type\s*/Page\b", written)) == 1
    assert re.search(rb"/FontFile[23]?\b", written)
    assert list(tmp_path.glob("*.new")) == []


def test_a_pdf_needs_no_display(recording: Path, tmp_path: Path) -> None:
    bare = {k: v for k, v in os.environ.items()
            if k not in {"QT_QPA_PLATFORM", "DISPLAY", "WAYLAND_DISPLAY"}}  # fmt: skip
    command = [sys.executable, "-m", "livemon", "sheet", str(recording), "--to", "sheet.pdf"]
    done = subprocess.run(command, cwd=tmp_path, env=bare, capture_output=True, text=True)

    assert done.returncode == 0, done.stderr
    assert (tmp_path / "sheet.pdf").read_bytes().startswith(b"%PDF")


def in_languages(folder: Path, recording: Path, to: Path) -> int:
    parser = argparse.ArgumentParser()
    add_arguments(parser)
    return run(parser.parse_args([str(recording), "--to", str(to)]), folder)


@pytest.fixture
def english_again() -> Iterator[None]:
    yield
    speak(ENGLISH)


@pytest.mark.usefixtures("english_again")
def test_the_sheet_speaks_the_language_that_the_environment_asks_for(
    recording: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    catalogue = Catalog(locale="de")
    catalogue.add("Bout by bout", "Serie um Serie")
    folder = tmp_path / "de" / "LC_MESSAGES"
    folder.mkdir(parents=True)
    with (folder / "livemon.mo").open("wb") as file:
        write_mo(file, catalogue)
    monkeypatch.setenv("LANGUAGE", "de")
    to = tmp_path / "sheet.html"

    assert in_languages(tmp_path, recording, to) == 0
    assert '<html lang="de"' in to.read_text(encoding="utf-8")
    assert "Serie um Serie" in to.read_text(encoding="utf-8")
    assert capsys.readouterr().out.startswith("Wrote ")


@pytest.mark.usefixtures("english_again")
def test_a_damaged_translation_is_told_and_the_sheet_is_english(
    recording: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    folder = tmp_path / "de" / "LC_MESSAGES"
    folder.mkdir(parents=True)
    (folder / "livemon.mo").write_bytes(b"cut off")
    monkeypatch.setenv("LANGUAGE", "de")
    to = tmp_path / "sheet.html"

    assert in_languages(tmp_path, recording, to) == 0
    assert '<html lang="en"' in to.read_text(encoding="utf-8")
    assert capsys.readouterr().err == "translation de is damaged and not used\n"


def test_a_file_that_is_there_is_kept(recording: Path, tmp_path: Path) -> None:
    to = tmp_path / "sheet.pdf"
    to.write_text("mine")

    assert main(["sheet", str(recording), "--to", str(to)]) != 0
    assert to.read_text() == "mine"


def test_another_ending_is_refused(
    recording: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["sheet", str(recording), "--to", str(tmp_path / "sheet.doc")]) != 0
    assert "ends in .html or .pdf" in capsys.readouterr().err


def test_of_a_class_one_has_to_be_named(
    class_of_two: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    to = tmp_path / "sheet.html"
    assert main(["sheet", str(class_of_two), "--to", str(to)]) != 0
    assert "name one with --athlete: Ada, Bo" in capsys.readouterr().err

    assert main(["sheet", str(class_of_two), "--to", str(to), "--athlete", "Bo"]) == 0
    assert "Bo" in to.read_text()
    assert "Ada" not in to.read_text()


def test_the_bouts_text_counts_the_warnings_of_each_athlete(
    class_of_two: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    warn(class_of_two, "a2", 120 + 134)
    warn(class_of_two, "a2", 120 + 200, "caution")
    warn(class_of_two, "a2", 120 + 210, "information")
    warn(class_of_two, "a1", 120 + 60)

    assert main(["bouts", str(class_of_two), "--athlete", "Bo"]) == 0
    said = capsys.readouterr().out
    assert "drain warnings: 2, the first 2:14 into the bout" in said
    assert said.count("drain warnings") == 1


def test_one_of_a_class_by_id_or_name_and_all_are_the_same(
    class_of_two: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said = []
    for who in (["--athlete", "Bo"], ["--athlete", "a2"], []):
        assert main(["bouts", str(class_of_two), *who, "--json"]) == 0
        said.append(capsys.readouterr().out.splitlines())

    assert said[0] == said[1] == said[2][1:]


def test_who_is_not_there_is_told(class_of_two: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["bouts", str(class_of_two), "--athlete", "Cy"]) != 0
    assert "it has Ada, Bo" in capsys.readouterr().err


@pytest.mark.skipif(sys.platform != "linux", reason="the folder is told by XDG_DATA_HOME")
def test_without_a_name_the_newest_recording_is_taken(
    recording: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    assert main(["bouts"]) != 0
    assert "the library is empty" in capsys.readouterr().err

    folder = tmp_path / "data" / "livemon" / "recordings"
    folder.mkdir(parents=True)
    shutil.copy(recording, folder / "older.jsonl")
    write_recording(folder / "newer.jsonl", *class_recording())  # a day before, by its head
    first, rest = recording.read_text().split("\n", 1)
    later = json.loads(first) | {"started_utc": "2026-05-02T10:00:00+00:00", "session": "may"}
    (folder / "may.jsonl").write_text(f"{json.dumps(later)}\n{rest}")
    assert main(["bouts", "--json"]) == 0
    (said,) = capsys.readouterr().out.splitlines()
    assert json.loads(said)["bouts"][0]["bout"]["recording"] == "may"
