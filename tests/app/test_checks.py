"""`livemon doctor` says what is well, and of what is not what to do."""

import json
import socket
import sys
from pathlib import Path

import pytest

from livemon.app.checks import (
    Finding,
    check_bluetooth,
    check_folder,
    check_port,
    check_python,
    check_qt,
    check_system,
)
from livemon.app.cli import main
from livemon.app.commands.doctor import in_lines


def test_python_and_system_are_told() -> None:
    assert check_python() == Finding("Python", True, sys.version.split()[0])
    assert check_system().well


def test_qt_is_tried_in_a_process_of_its_own() -> None:
    assert check_qt() == Finding("Qt", True, "starts, and keeps its references")


def test_room_for_recordings_is_looked_for_where_the_folder_will_be(tmp_path: Path) -> None:
    found = check_folder(tmp_path / "not yet" / "there")

    assert found.well
    assert "GB free" in found.words


def test_a_port_is_free_or_taken() -> None:
    with socket.create_server(("127.0.0.1", 0)) as server:
        port = server.getsockname()[1]
        assert "something listens" in check_port(port).words
    assert check_port(port) == Finding(f"Port {port}", True, "free")


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="BlueZ is Linux's service")
def test_without_a_bluetooth_service_it_says_so_and_the_code_is_1(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("DBUS_SYSTEM_BUS_ADDRESS", f"unix:path={tmp_path / 'nobody'}")

    assert not check_bluetooth().well
    assert main(["doctor", "--json"]) == 1
    lines = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    told = {line["what"]: line for line in lines}
    assert set(told) >= {"Python", "System", "Qt", "Window", "Bluetooth", "Recordings"}
    assert told["Bluetooth"]["words"]
    assert not told["Bluetooth"]["well"]


def test_what_to_do_stands_below_its_line() -> None:
    said = in_lines(Finding("Bluetooth", False, "it is off; " + "switch it on " * 10)).splitlines()

    assert said[0].startswith("NO  Bluetooth   it is off")
    assert len(said) > 1
    assert all(line.startswith(" " * 16) for line in said[1:])
