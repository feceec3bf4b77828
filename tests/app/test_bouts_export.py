"""Export from the Bouts page, and the page beside a session that still writes its recording."""

import csv
import shutil
import sys
from collections.abc import Iterator
from pathlib import Path
from threading import Event

import pytest
from class_recording import class_recording

from livemon.app.bouts_beside import BoutsBeside
from livemon.app.bouts_desk import BoutsDesk, BoutsWish
from livemon.app.cli import main
from livemon.errors import UsageError
from livemon.record.at_once import write_recording
from livemon.view.bouts_commands import BoutEntry
from livemon.view.bouts_source import BoutKey

FIXTURE = Path(__file__).parent.parent.parent / "replay_fixtures" / "in-balance.jsonl"


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[BoutsDesk]:
    made = BoutsDesk(BoutsWish((Path(shutil.copy(FIXTURE, tmp_path / "monday.jsonl")),)))
    made.start()
    assert made.wait()
    yield made
    made.stop()


def first_bout(desk: BoutsDesk) -> BoutKey:
    return BoutKey(desk.latest().sessions[0].recording, 1)


def test_an_export_holds_what_the_command_writes(desk: BoutsDesk, tmp_path: Path) -> None:
    """The command's CSV is tested against the csv module and pandas; see test_export_command."""
    desk.export(first_bout(desk), tmp_path / "page.csv")
    assert desk.wait()

    command = ["export", str(tmp_path / "monday.jsonl"), "--to", "csv"]
    assert main([*command, "--out", str(tmp_path / "command.csv")]) == 0
    assert (tmp_path / "page.csv").read_bytes() == (tmp_path / "command.csv").read_bytes()
    assert desk.latest().said.startswith("Wrote page.csv: ")
    assert not desk.latest().doing


def test_only_the_athlete_who_is_shown_is_exported(tmp_path: Path) -> None:
    path = tmp_path / "class.jsonl"
    write_recording(path, *class_recording())
    desk = BoutsDesk(BoutsWish((path,)))
    desk.start()
    assert desk.wait()
    desk.export(first_bout(desk), tmp_path / "one.csv")
    assert desk.wait()
    desk.stop()

    with (tmp_path / "one.csv").open(encoding="utf-8", newline="") as file:
        athletes = {row["athlete"] for row in csv.DictReader(file)}
    assert athletes == {"a1", ""}  # without an athlete: what is about everybody


def test_nothing_is_written_over(desk: BoutsDesk, tmp_path: Path) -> None:
    there = tmp_path / "there.csv"
    there.write_text("mine")

    with pytest.raises(UsageError, match="is there already"):
        desk.export(first_bout(desk), there)
    assert there.read_text() == "mine"


def test_what_came_there_meanwhile_is_not_written_over(desk: BoutsDesk, tmp_path: Path) -> None:
    place = tmp_path / "late.csv"
    asked = Event()
    desk._tasks.put(asked.wait)  # between asking and writing
    desk.export(first_bout(desk), place)
    place.write_text("mine")
    asked.set()
    assert desk.wait()

    assert place.read_text() == "mine"
    assert any("is there already" in trouble for trouble in desk.latest().troubles)


def test_a_name_that_says_no_format_is_told_those_there_are(
    desk: BoutsDesk, tmp_path: Path
) -> None:
    with pytest.raises(UsageError, match=r"\.csv, \.parquet, \.snirf"):
        desk.export(first_bout(desk), tmp_path / "page.xls")


def test_a_missing_library_is_told_with_what_to_say(
    desk: BoutsDesk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "pyarrow", None)
    monkeypatch.setitem(sys.modules, "pyarrow.parquet", None)
    desk.export(first_bout(desk), tmp_path / "page.parquet")
    assert desk.wait()

    assert any("pip install" in trouble for trouble in desk.latest().troubles)
    assert not (tmp_path / "page.parquet").exists()


def test_a_recording_is_read_while_it_is_written(tmp_path: Path) -> None:
    """The last line is still half on its way to the disk."""
    whole = FIXTURE.read_bytes()
    growing = tmp_path / "now.jsonl"
    growing.write_bytes(whole[: len(whole) // 2])
    beside = BoutsBeside(growing, growing=True)
    desk = beside.open()
    assert desk.wait()
    before = len(desk.latest().sessions[0].analysis.bouts)
    with growing.open("ab") as file:
        file.write(whole[len(whole) // 2 :])
    again = beside.open()
    assert again.wait()
    beside.close()

    assert 0 < before < len(again.latest().sessions[0].analysis.bouts)
    assert growing.read_bytes() == whole


def test_a_session_that_runs_is_not_written_into(tmp_path: Path) -> None:
    path = Path(shutil.copy(FIXTURE, tmp_path / "now.jsonl"))
    beside = BoutsBeside(path, growing=True)
    desk = beside.open()
    assert desk.wait()
    with pytest.raises(UsageError, match="session still runs"):
        desk.correct(first_bout(desk), BoutEntry(rpe="5"))
    beside.close()

    assert path.read_bytes() == FIXTURE.read_bytes()


def test_the_end_waits_for_an_export_that_was_asked_for(tmp_path: Path) -> None:
    beside = BoutsBeside(Path(shutil.copy(FIXTURE, tmp_path / "now.jsonl")), growing=True)
    desk = beside.open()
    assert desk.wait()
    desk.export(first_bout(desk), tmp_path / "now.csv")
    desk.stop()  # the window closes, and nobody waits
    beside.close()

    assert (tmp_path / "now.csv").exists()
