"""`livemon scan`: which sensors are nearby, and which of them we know."""

import argparse
import asyncio
import json
import platform
import sys
import time
from dataclasses import asdict

from livemon.app.options import seconds
from livemon.app.places import data_folder, host_id
from livemon.app.remembered import load_sensors
from livemon.decode.adapter import parse_adapter
from livemon.decode.shipped import shipped_adapters
from livemon.link.bleak_radio import BleakRadio
from livemon.link.look import look_around
from livemon.link.nearby import NearbyDevice
from livemon.link.plan import HEART_RATE_SERVICE
from livemon.link.standard_work import WORK_KINDS


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what can stand behind the command."""
    parser.add_argument(
        "--seconds", type=seconds, default=10.0, help="how long to listen (default 10)"
    )
    parser.add_argument("--all", action="store_true", help="also what does not look like a sensor")
    parser.add_argument("--json", action="store_true", help="one JSON object per device")
    parser.add_argument("--radio", metavar="NAME", help="which Bluetooth adapter (Linux: hci1)")


def run(arguments: argparse.Namespace) -> int:
    """Do it; return 1 if nothing was found."""
    radio = BleakRadio(
        time.perf_counter_ns,
        system=platform.system(),
        announce=lambda line: print(line, file=sys.stderr, flush=True),
        adapter=arguments.radio,
    )
    look = look_around(
        radio,
        arguments.seconds,
        load_sensors(data_folder()),
        host_id(),
        kinds(),
        now_ns=time.perf_counter_ns,
        everything=arguments.all,
    )
    with asyncio.Runner(loop_factory=asyncio.SelectorEventLoop) as runner:
        devices = runner.run(look)
    if arguments.json:
        for device in devices:
            print(json.dumps(asdict(device)))
    else:
        print("\n".join(table(devices)))
    return 0 if devices else 1


def kinds() -> dict[str, str]:
    """Return the services that we can read, and what they stand for."""
    known = {HEART_RATE_SERVICE: "heart-rate strap", **WORK_KINDS}
    for name, text in shipped_adapters().items():
        known[parse_adapter(text, where=name).service] = f"oximeter ({name})"
    return known


def table(devices: tuple[NearbyDevice, ...]) -> list[str]:
    """Return the devices as lines of text."""
    if not devices:
        return [
            "No sensor heard. Straps wake up on wet skin; a sensor that is linked to a phone or a "
            "watch stays silent. `livemon scan --all` lists everything that was heard."
        ]
    rows = [("name", "address", "signal", "looks like", "known as")]
    rows += [
        (
            device.name or "–",
            device.address,
            "linked here" if device.rssi_dbm is None else f"{device.rssi_dbm} dBm",
            ", ".join(device.looks_like) or "–",
            device.sensor or "–",
        )
        for device in devices
    ]
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    return [
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]
