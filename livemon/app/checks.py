"""What could stop livemon on this computer: each look is one function and gives one finding."""

import asyncio
import os
import platform
import shutil
import socket
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from livemon.errors import LinkLost, RadioError
from livemon.link.bleak_radio import BleakRadio
from livemon.link.look import check_radio
from livemon.record.place import LOW_BYTES
from livemon.view.qt.availability import why_no_window

_OLDEST_PYTHON: Final = (3, 11)
#: Qt ends the process where it cannot start, so it is tried in another one.
_QT_WITHIN_S: Final = 30.0
#: The port that MQTT brokers listen on by default (IANA: mqtt).
MQTT_PORT: Final = 1883

_QT_TRIAL: Final = (
    "import sys; from PySide6.QtWidgets import QApplication; app = QApplication(['x', '-platform',"
    "'offscreen']); from livemon.view.qt.canary import qt_binding_is_sane; "
    "sys.exit(0 if qt_binding_is_sane() else 3)"
)
_LOSES_REFERENCES: Final = 3


@dataclass(frozen=True, slots=True)
class Finding:
    """One line of `livemon doctor`."""

    what: str
    well: bool
    words: str  #: what was found, or what to do


def check_python() -> Finding:
    """Is this Python new enough?"""
    found = platform.python_version()
    if sys.version_info[:2] < _OLDEST_PYTHON:
        return Finding("Python", False, f"{found} is too old; install Python 3.11 or newer.")
    return Finding("Python", True, found)


def check_system() -> Finding:
    """Say which system this is; nothing to be wrong about it, but helpers ask."""
    return Finding("System", True, f"{platform.system()} {platform.release()} {platform.machine()}")


def check_qt() -> Finding:
    """Does Qt start here, and does its binding keep count of references?"""
    command = [sys.executable, "-c", _QT_TRIAL]
    try:
        done = subprocess.run(command, capture_output=True, timeout=_QT_WITHIN_S, check=False)
    except subprocess.TimeoutExpired:
        return Finding("Qt", False, f"does not start within {_QT_WITHIN_S:g} s.")
    if done.returncode == 0:
        return Finding("Qt", True, "starts, and keeps its references")
    if done.returncode == _LOSES_REFERENCES:
        cure = 'pip install "PySide6-Essentials>=6.8,<6.12"'
        return Finding("Qt", False, f"the installed PySide6 would end the program; {cure}")
    last = done.stderr.decode(errors="replace").strip().splitlines()[-1:]
    return Finding("Qt", False, f"does not start: {' '.join(last) or 'no reason given'}")


def check_display() -> Finding:
    """Can a window be opened?"""
    obstacle = why_no_window(os.environ)
    return Finding("Window", obstacle is None, obstacle or "can be opened")


def check_bluetooth() -> Finding:
    """Can a scan be started?"""
    radio = BleakRadio(
        time.perf_counter_ns,
        system=platform.system(),
        announce=lambda line: print(line, file=sys.stderr, flush=True),
    )
    try:
        with asyncio.Runner(loop_factory=asyncio.SelectorEventLoop) as runner:
            runner.run(check_radio(radio))
    except (RadioError, LinkLost) as error:
        return Finding("Bluetooth", False, str(error))
    return Finding(
        "Bluetooth", True, "a scan starts; most adapters hold 5 to 8 sensors at the same time"
    )


def check_folder(folder: Path) -> Finding:
    """Can recordings be written, and is there room?"""
    nearest = folder
    while not nearest.exists():
        nearest = nearest.parent
    if not os.access(nearest, os.W_OK):
        return Finding("Recordings", False, f"{folder} can't be written; check its permissions.")
    free = shutil.disk_usage(nearest).free
    if free < LOW_BYTES:
        need = LOW_BYTES // 1_000_000
        return Finding(
            "Recordings", False, f"only {free // 1_000_000} MB free; make room for {need} MB."
        )
    return Finding("Recordings", True, f"{free // 1_000_000_000} GB free in {folder}")


def check_port(port: int = MQTT_PORT) -> Finding:
    """Is the broker's port on this computer free, or does something listen on it?"""
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as probe:
        probe.settimeout(1.0)
        taken = probe.connect_ex(("127.0.0.1", port)) == 0
    words = "something listens on it, a broker most likely" if taken else "free"
    return Finding(f"Port {port}", True, words)
