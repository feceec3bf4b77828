"""docs/python.md is run, block by block, and says what it is meant to say."""

import re
import subprocess
import sys
from contextlib import redirect_stdout
from io import StringIO
from pathlib import Path

import numpy as np
import pytest

import livemon
from livemon.errors import RecordingError, UsageError
from livemon.exchange.extra import needed

ROOT = Path(__file__).parents[2]
OVER_THE_LINE = ROOT / "replay_fixtures" / "over-the-line.jsonl"


@pytest.fixture(scope="module")
def printed() -> list[str]:
    page = (ROOT / "docs" / "python.md").read_text(encoding="utf-8")
    blocks = re.findall(r"```python\n(.*?)```", page, flags=re.DOTALL)
    fixtures = (ROOT / "replay_fixtures").as_posix()
    code = "\n".join(blocks).replace('"replay_fixtures/', f'"{fixtures}/')
    out = StringIO()
    with redirect_stdout(out):
        exec(compile(code, "docs/python.md", "exec"), {})
    return out.getvalue().splitlines()


def test_the_page_runs_and_tells_the_session(printed: list[str]) -> None:
    assert printed[:2] == ["2026-03-02T17:30:00+00:00", "('a1',)"]
    assert [line.partition(":")[0] for line in printed if re.search(r": \d+ %$", line)] == [
        "rowing", "step-ups", "sled push", "sled push, heavier"
    ]  # fmt: skip
    assert any(line.startswith("left thigh: falling ") for line in printed)


def test_importing_livemon_stays_cheap() -> None:
    code = "import livemon, sys; print('numpy' in sys.modules, 'livemon.app' in sys.modules)"

    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert done.stdout.split() == ["False", "False"]


def test_frames_hold_what_the_arrays_hold() -> None:
    table = livemon.open_recording(OVER_THE_LINE).oxygenation
    pandas, polars = table.to_pandas(), table.to_polars()

    assert np.array_equal(pandas["smo2_pct"], table["smo2_pct"], equal_nan=True)
    assert polars["smo2_pct"].null_count() == np.isnan(table["smo2_pct"]).sum()
    assert pandas.attrs["units"]["smo2_pct"] == "%"
    assert polars["site"].to_list() == table["site"].tolist()


def test_names_come_on_request() -> None:
    assert "athlete_name" not in livemon.open_recording(OVER_THE_LINE).heart_rate
    named = livemon.open_recording(OVER_THE_LINE, names=True).heart_rate

    assert set(named["athlete_name"]) == {"Lane 3"}


def test_refused_readings_are_there_until_left_out() -> None:
    table = livemon.open_recording(OVER_THE_LINE.with_name("trouble.jsonl")).oxygenation

    assert 0 < table.used().rows < table.rows
    assert set(table.used()["refused"].tolist()) == {None}


def test_a_file_that_is_not_there_is_a_typed_error() -> None:
    with pytest.raises(RecordingError, match="no such file"):
        livemon.open_recording("no-such-recording.jsonl")


def test_a_library_that_is_not_there_is_named() -> None:
    with pytest.raises(UsageError, match="pip install 'livemon\\[x\\]'"):
        needed("no_such_library_at_all", "livemon[x]")
