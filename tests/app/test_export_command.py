"""`livemon export` and what it refuses, on the invented session that goes over the line."""

import errno
import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from io import StringIO
from pathlib import Path
from typing import Protocol

import pandas as pd
import pytest

from livemon.app.cli import FAILED, main
from livemon.app.export_place import fresh_file, fresh_folder
from livemon.app.export_run import export
from livemon.errors import UsageError
from livemon.exchange.csv_dialect import Dialect
from livemon.exchange.csv_tables import CsvTables
from livemon.exchange.rows import Wish
from livemon.exchange.sink import Sink
from livemon.exchange.stamps import Stamps
from livemon.record.reader import open_recording

OVER_THE_LINE = Path(__file__).parents[2] / "replay_fixtures" / "over-the-line.jsonl"


@pytest.fixture(scope="module")
def short(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The first minutes of the session."""
    path = tmp_path_factory.mktemp("short") / "short.jsonl"
    lines = OVER_THE_LINE.read_text(encoding="utf-8").splitlines(keepends=True)
    path.write_text("".join(lines[:400]), encoding="utf-8")
    return path


class Run(Protocol):
    def __call__(self, *words: str | Path) -> int: ...


@pytest.fixture
def run(short: Path) -> Run:
    return lambda *words: main(["export", str(short), *map(str, words)])


def said(capsys: pytest.CaptureFixture[str]) -> str:
    """Return what was said on stderr, whose lines are folded, as one line."""
    return " ".join(capsys.readouterr().err.split())


def test_a_folder_gets_a_file_for_each_table(run: Run, tmp_path: Path) -> None:
    out = tmp_path / "out"

    assert run("--to", "csv", "--out", out) == 0

    assert sorted(file.name for file in out.iterdir()) == [
        "bouts.csv", "heart_rate.csv", "marks.csv", "oxygenation.csv", "rr_intervals.csv"
    ]  # fmt: skip
    assert len(pd.read_csv(out / "oxygenation.csv")) == 297


def test_the_warnings_are_those_of_the_replay(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["export", str(OVER_THE_LINE), "--to", "csv", "--out", str(tmp_path / "out")])
    assert ", 1 warning." in capsys.readouterr().out
    main(["replay", str(OVER_THE_LINE), "--json", "--speed", "max"])
    lines = pd.read_json(StringIO(capsys.readouterr().out), lines=True)

    warnings = pd.read_csv(tmp_path / "out" / "warnings.csv")
    seen = lines.drop_duplicates("t_s")["t_s"].tolist()
    assert len(warnings) == 1
    assert warnings["start_s"][0] in seen
    assert warnings["end_s"][0] in seen


def test_a_name_that_is_a_files_asks_for_one_file(run: Run, tmp_path: Path) -> None:
    assert run("--to", "csv", "--out", tmp_path / "all.csv", "--decimal", ",") == 0

    read = pd.read_csv(tmp_path / "all.csv", sep=";", decimal=",", encoding="utf-8-sig")
    assert read["value"].dtype == float
    assert not (tmp_path / "all.csv.part").exists()


@pytest.mark.parametrize("form", ["parquet", "snirf"])
def test_the_other_formats_go_the_same_way(run: Run, form: str, tmp_path: Path) -> None:
    assert run("--to", form, "--out", tmp_path / "folder") == 0
    assert run("--to", form, "--out", tmp_path / f"file.{form}") == 0

    assert (tmp_path / f"file.{form}").stat().st_size > 1000
    assert all(file.suffix == f".{form}" for file in (tmp_path / "folder").iterdir())


def test_without_out_it_lands_here_under_the_recordings_name(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)

    assert run("--to", "csv", "--one-file") == 0
    assert run("--to", "csv") == 0

    assert sorted(one.name for one in tmp_path.iterdir()) == [
        "short-csv", "short.csv",
    ]  # fmt: skip


def test_names_are_said_out_loud(
    run: Run, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run("--to", "csv", "--out", tmp_path / "with.csv", "--names")
    warned = said(capsys)
    run("--to", "csv", "--out", tmp_path / "without.csv")

    assert "names and notes" in warned
    assert "Lane 3" in (tmp_path / "with.csv").read_text(encoding="utf-8")
    assert "Lane 3" not in (tmp_path / "without.csv").read_text(encoding="utf-8")


@pytest.mark.parametrize("out", ["there", "there.csv"])
def test_what_is_there_is_written_over_only_when_asked(
    run: Run, out: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run("--to", "csv", "--out", tmp_path / out)

    assert run("--to", "csv", "--out", tmp_path / out) == FAILED
    assert "is there already" in said(capsys)
    assert run("--to", "csv", "--out", tmp_path / out, "--overwrite") == 0
    assert [one.name for one in tmp_path.iterdir()] == [out]


def test_a_folder_with_other_things_is_never_replaced(
    run: Run, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "thesis.txt").write_text("irreplaceable", encoding="utf-8")

    assert run("--to", "csv", "--out", tmp_path, "--overwrite") == FAILED

    assert "other things" in said(capsys)
    assert (tmp_path / "thesis.txt").read_text(encoding="utf-8") == "irreplaceable"


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        (("--athlete", "Nobody"), "nobody in this recording is called 'Nobody'; it has Lane 3"),
        (("--decimal", ",", "--separator", ","), "told apart"),
        (("--separator", "x"), "separator"),
        (("--out", "/dev/null/out"), "can't be written"),
        (("--out", "no/such/folder/out"), "can't be written"),
    ],
)
def test_what_cannot_be_done_is_said(
    run: Run,
    asked: tuple[str, ...],
    words: str,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(tmp_path)

    assert run("--to", "csv", *asked) == FAILED

    assert words in said(capsys)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(("form", "module"), [("parquet", "pyarrow"), ("snirf", "h5py")])
def test_a_missing_library_is_named_with_what_to_install(
    run: Run, form: str, module: str, tmp_path: Path
) -> None:
    code = (
        f"import sys; sys.modules[{module!r}] = None; from livemon.app.cli import main; "
        f"sys.exit(main(['export', {str(OVER_THE_LINE)!r}, '--to', {form!r}, '--out', 'out']))"
    )

    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, cwd=tmp_path, check=False
    )

    assert done.returncode == FAILED
    assert f"pip install 'livemon[{form}]'" in " ".join(done.stderr.split())
    assert list(tmp_path.iterdir()) == []


def test_an_empty_recording_has_nothing_to_export(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    head = OVER_THE_LINE.read_text(encoding="utf-8").splitlines()[0]
    (tmp_path / "empty.jsonl").write_text(f"{head}\n", encoding="utf-8")

    code = main(
        ["export", str(tmp_path / "empty.jsonl"), "--to", "csv", "--out", str(tmp_path / "o")]
    )

    assert code == FAILED
    assert "nothing to export" in said(capsys)
    assert [one.name for one in tmp_path.iterdir()] == ["empty.jsonl"]


class FullDisk(StringIO):
    """A file on a disk that has no room."""

    def __init__(self, room: int) -> None:
        super().__init__()
        self.room = room

    def write(self, text: str) -> int:
        self.room -= len(text)
        if self.room < 0:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        return super().write(text)


@pytest.mark.parametrize("room", [0, 100_000])
def test_a_full_disk_leaves_nothing_behind(room: int, tmp_path: Path) -> None:
    path = tmp_path / "out"

    @contextmanager
    def on_a_full_disk() -> Iterator[Sink]:
        with fresh_folder(path, ".csv", overwrite=False) as folder:
            (folder / "begun.csv").write_text("t_s", encoding="utf-8")
            yield CsvTables(lambda _: FullDisk(room), Dialect(), Stamps("", None))

    with pytest.raises(UsageError, match="the disk is full; make room"):
        export(open_recording(OVER_THE_LINE), Wish(), path, on_a_full_disk, lambda _: None)
    assert list(tmp_path.iterdir()) == []


def test_a_full_disk_leaves_what_was_there(tmp_path: Path) -> None:
    path = tmp_path / "old.csv"
    path.write_text("old", encoding="utf-8")

    def fail() -> None:
        with fresh_file(path, overwrite=True) as fresh:
            fresh.write_text("new", encoding="utf-8")
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with pytest.raises(UsageError, match="disk is full"):
        fail()
    assert path.read_text(encoding="utf-8") == "old"
    assert list(tmp_path.iterdir()) == [path]


def test_no_permission_is_said_with_what_to_do(tmp_path: Path) -> None:
    """Root may write anywhere, so the system's refusal is raised by hand."""
    with (
        pytest.raises(UsageError, match="you are not allowed to"),
        fresh_file(tmp_path / "out.csv", overwrite=False),
    ):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))


def test_a_run_that_was_killed_does_not_stand_in_the_way(run: Run, tmp_path: Path) -> None:
    (tmp_path / "out.part").mkdir()
    (tmp_path / "out.part" / "oxygenation.csv").write_text("half", encoding="utf-8")
    (tmp_path / "all.csv.part").write_text("half", encoding="utf-8")

    assert run("--to", "csv", "--out", tmp_path / "out") == 0
    assert run("--to", "csv", "--out", tmp_path / "all.csv") == 0

    assert sorted(one.name for one in tmp_path.iterdir()) == ["all.csv", "out"]
