"""From BlueZ to the Pace page: a whole live session over bleak's real Linux backend."""

import asyncio
import struct
import time
from collections.abc import Callable
from contextlib import nullcontext
from pathlib import Path
from random import Random

import pytest

pytest.importorskip("dbus_fast", reason="comes with bleak on Linux only")

from bluez_fixtures import MEASUREMENT, STRAP

from livemon.app.headless import snapshots_of
from livemon.app.kit_options import Kit, kit_of
from livemon.app.live import Live
from livemon.decode.adapter import parse_adapter
from livemon.decode.shipped import shipped_adapters
from livemon.events import Head
from livemon.link.bleak_radio import BleakRadio
from livemon.link.clocks import read_clocks
from livemon.link.fake_bluez.description import Characteristic, Peripheral, Service
from livemon.monitor.payload import snapshot_line
from livemon.record.reader import open_recording
from livemon.record.writer import Journal
from livemon.view.model import PaceModel, Tone
from livemon.view.present import present
from livemon.view.settings import ViewSettings

DEMO = parse_adapter(shipped_adapters()["invented-demo"], where="invented-demo")
OXI = Peripheral(
    "D0:00:00:00:00:01",
    "invented oximeter",
    (Service(DEMO.service, (Characteristic(DEMO.characteristic, ("notify",)),)),),
)


def kit() -> Kit:
    """Named as on the command line: the strap by its name, the oximeter by its address."""
    import argparse

    from livemon.app.kit_options import add_kit_options

    parser = argparse.ArgumentParser()
    add_kit_options(parser)
    words = ["--strap", "invented strap", "--oximeter", f"left thigh={OXI.address}"]
    arguments = parser.parse_args([*words, "--adapter", "invented-demo", "--band", "140-150"])
    return kit_of(arguments, "this computer", ())


async def test_values_reach_the_pace_page_again_after_a_drop(
    bluez: Callable, tmp_path: Path
) -> None:
    service = await bluez([STRAP, OXI])
    worn = kit()
    head = Head(
        "2026-11-25T10:00:00+00:00", "s", (worn.athlete,), worn.sensors, worn.adapters,
        worn.assigned,
    )  # fmt: skip
    start_ns = time.monotonic_ns()

    def now_ns() -> int:
        return time.monotonic_ns() - start_ns

    lines: list[str] = []
    live = Live(
        head,
        worn.plans,
        lambda: nullcontext(BleakRadio(now_ns, system="Linux", announce=lambda _: None)),
        worn.registry,
        host="this computer",
        now_ns=now_ns,
        chance=Random(1),
        journal=Journal(tmp_path / "session.jsonl", head, now_s=0.0),
        clocks=lambda: read_clocks(now_ns),
        each_tick=lambda session: lines.append(snapshot_line(session.snapshot())),
    )

    def page() -> PaceModel:
        assert live.latest is not None
        return present(live.latest.lanes[0], ViewSettings())

    async def until(claim: Callable[[PaceModel], bool], bpm: int, tenths: int) -> PaceModel:
        """Send readings, as sensors do, until the page shows what is claimed."""
        number = 0
        while not claim(page()):
            number += 1
            service.send(STRAP.address, MEASUREMENT, bytes((0x06, bpm)))
            packet = struct.pack("<HHBB", tenths, 0xFFFF, number % 256, 1)
            service.send(OXI.address, DEMO.characteristic, packet)
            await asyncio.sleep(0.02)  # the sensors' own pace, not a wait for anything
        return page()

    def shows(bpm: str, smo2: str) -> Callable[[PaceModel], bool]:
        return lambda at: at.heart_rate.text == bpm and at.sites[0].text == smo2

    running = asyncio.create_task(live.run())
    first = await until(shows("144", "61"), 144, 613)
    service.drop(OXI.address)
    again = await until(shows("145", "58"), 145, 581)
    running.cancel()
    await asyncio.wait({running})

    assert first.sites[0].name == "Left thigh"
    assert first.heart_rate.tone is again.sites[0].tone is Tone.FRESH
    assert first.heart_rate.band == (140, 150)
    recording = open_recording(tmp_path / "session.jsonl")
    assert list(snapshots_of(recording.head, recording.events())) == lines
    assert sum("link_down" in line for line in recording.path.read_text().splitlines()) == 3
