"""What can't be done is said in one paragraph, with what to do instead; never a traceback."""

import json
from pathlib import Path

import pytest

from livemon.app.cli import FAILED, main

HEAD = (
    '{"livemon":1,"started_utc":"2026-11-25T10:00:00+00:00","session":"s","athletes":[],'
    '"sensors":[],"assigned":[],"adapters":{}}\n'
)


@pytest.fixture(autouse=True)
def own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Keep the tests out of the user's own data, and off this computer's Bluetooth."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("DBUS_SYSTEM_BUS_ADDRESS", f"unix:path={tmp_path}/no-bus")


def failure(words: list[str], capsys: pytest.CaptureFixture[str]) -> str:
    """Run a command that can't be done; return what it says, on one line."""
    assert main(words) == FAILED
    told = capsys.readouterr()
    assert told.out == ""
    assert "Traceback" not in told.err
    return " ".join(told.err.split())


def test_a_recording_that_is_not_there(capsys: pytest.CaptureFixture[str]) -> None:
    assert "no recording called 'nowhere.jsonl'" in failure(["replay", "nowhere.jsonl"], capsys)


@pytest.mark.parametrize(
    ("content", "says"),
    [
        pytest.param("", "it is empty", id="empty file"),
        pytest.param(HEAD, "it holds no events", id="a head and nothing else"),
        pytest.param("once upon a time\n", "it is not a recording", id="another kind of file"),
        pytest.param(HEAD.replace(":1,", ":99,", 1), "format 99", id="a later format"),
        pytest.param(
            HEAD.replace('"sensors":[]', '"sensors":[{"sensor":"o","name":"O","adapter":"lost"}]'),
            "expected one of none, found 'lost'",
            id="an adapter that isn't there",
        ),
    ],
)
def test_a_recording_that_cannot_be_used(
    tmp_path: Path, content: str, says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "session.jsonl"
    path.write_text(content, encoding="utf-8")

    assert says in failure(["replay", str(path), "--json", "--speed", "max"], capsys)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        pytest.param(["live"], "no sensor is named", id="no sensor"),
        pytest.param(["live", "--oximeter", "thigh"], "expected SITE=WHO", id="no site"),
        pytest.param(["live", "--oximeter", "thigh=O"], "needs an adapter", id="no adapter"),
        pytest.param(
            ["live", "--oximeter", "thigh=O", "--adapter", "none.toml"],
            "none.toml: can't be read",
            id="adapter file missing",
        ),
        pytest.param(
            ["live", "--strap", "S", "--oximeter", "thigh=S", "--adapter", "invented-demo"],
            "",
            id="no Bluetooth",
        ),
        pytest.param(
            ["simulate", "--athletes", "0"], "expected 1 to 24, found 0", id="nobody in the gym"
        ),
        pytest.param(
            ["simulate", "--fault", "drop:tail:5"], "no sensor 'tail' here", id="no such sensor"
        ),
        pytest.param(["live", "--strap", "S", "--no-window"], "Bluetooth service", id="no bus"),
        pytest.param(["scan"], "Bluetooth service does not run", id="scan without a bus"),
        pytest.param(["adapter", "show", "mine"], "no adapter 'mine' comes with", id="show"),
        pytest.param(
            ["adapter", "try", "invented-demo", "--hex", "7"], "pairs of hex digits", id="half"
        ),
    ],
)
def test_what_cannot_be_done_is_said(
    words: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    recording = [] if words[0] != "live" else ["--no-record", "--no-window"]
    assert main(words + [w for w in recording if w not in words]) == FAILED

    told = capsys.readouterr().err
    assert "Traceback" not in told
    assert says in " ".join(told.split())


def test_one_strap_named_for_two_places(capsys: pytest.CaptureFixture[str]) -> None:
    words = ["live", "--no-record", "--no-window", "--adapter", "invented-demo"]

    told = failure([*words, "--oximeter", "l=AA:BB:CC:00:00:01", "--oximeter",
                    "r=aa:bb:cc:00:00:01"], capsys)  # fmt: skip

    assert "named twice" in told


@pytest.mark.parametrize("band", ["150", "150-140", "10-20", "a-b"])
def test_a_band_that_is_none(band: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["live", "--strap", "S", "--band", band])

    assert "found" in capsys.readouterr().err


def test_a_rejected_packet_is_shown_and_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["adapter", "try", "invented-demo", "--hex", "7A 02", "--json"]) == 1

    shown = json.loads(capsys.readouterr().out)
    assert shown["rejected"]
    assert shown["fields"][0]["value"] == 63.4
