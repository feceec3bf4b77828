"""`livemon relay` itself, in a process of its own, killed without a word and started again.

Mosquitto carries it. Nothing older than a second may be lost, and the relay stays who it is.
"""

import asyncio
import json
import os
import signal
import sys
import time
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from pathlib import Path
from random import Random

import pytest
from mosquitto_fixtures import Mosquitto

from livemon.app.hub_copies import HubCopies
from livemon.app.hub_inflow import HubInflow
from livemon.app.hub_post import HubPost
from livemon.app.relay_broker import CODE, USER
from livemon.events import AthleteChanged
from livemon.net.address import BrokerAddress
from livemon.net.mqtt import MqttBroker

GROUP = "class-a"


@asynccontextmanager
async def hub_at(port: int, folder: Path) -> AsyncIterator[tuple[HubPost, HubInflow]]:
    address = BrokerAddress("127.0.0.1", port, False, GROUP, "hub", "code of hub")
    inflow = HubInflow()
    copies = HubCopies(folder)
    broker = MqttBroker(address, "hub")
    post = HubPost(GROUP, broker, copies, inflow, now_ns=time.monotonic_ns, chance=Random(1))
    task = asyncio.create_task(post.run())
    try:
        yield post, inflow
    finally:
        task.cancel()
        await asyncio.wait({task})
        copies.close()


async def relay(port: int, data: Path) -> asyncio.subprocess.Process:
    places = {"XDG_DATA_HOME": str(data), "XDG_CONFIG_HOME": str(data / "config")}
    return await asyncio.create_subprocess_exec(
        sys.executable,
        "-m",
        "livemon",
        "relay",
        "--to",
        f"mqtt://127.0.0.1:{port}/{GROUP}",
        "--simulate",
        "1",
        env=os.environ | places | {USER: "r0", CODE: "code of r0"},
        stdout=asyncio.subprocess.PIPE,
        stderr=asyncio.subprocess.PIPE,
    )


async def until(claim: Callable[[], bool]) -> None:
    async with asyncio.timeout(20):
        while not claim():  # noqa: ASYNC110 - other processes are part of it
            await asyncio.sleep(0.02)


def lines_of(folder: Path) -> dict[str, list[bytes]]:
    """Return the event lines of each recording by its session; a last one cut off doesn't count."""
    found = {}
    for path in folder.glob("*.jsonl"):
        head, *lines = path.read_bytes().split(b"\n")[:-1]
        events = [line for line in lines if not line.startswith(b'{"livemon"')]
        found[json.loads(head)["session"]] = events
    return found


@pytest.mark.skipif(sys.platform != "linux", reason="where data are kept is told as on Linux")
async def test_a_relay_that_is_killed_loses_nothing_and_stays_who_it_is(
    mosquitto: Mosquitto, tmp_path: Path
) -> None:
    data, copies = tmp_path / "relay", tmp_path / "hub"
    recordings = data / "livemon" / "recordings"
    async with hub_at(mosquitto.port, copies) as (hub, inflow):

        def heard() -> list[str]:
            return [one.relay for one in hub.standing().relays if not one.left]

        first = await relay(mosquitto.port, data)
        await until(lambda: any(len(lines) > 8 for lines in lines_of(copies).values()))
        first.send_signal(signal.SIGKILL)
        killed_utc_s = time.time()
        await first.wait()
        await until(lambda: heard() == [])  # its will
        second = await relay(mosquitto.port, data)
        await until(lambda: len(lines_of(copies)) == 2 and heard() == ["r0"])
        await until(lambda: min(map(len, lines_of(copies).values())) > 3)
        assert heard() == ["r0"]
        second.send_signal(signal.SIGTERM)
        said, complained = await asyncio.wait_for(second.communicate(), 10)

        assert second.returncode == 0, complained
        assert b"the hub has all" in said
        assert b"Traceback" not in complained
        await until(lambda: lines_of(copies) == lines_of(recordings))
        # The killed one's recording goes on to its last second.
        (killed,) = (path for path in recordings.iterdir() if path.stat().st_mtime < killed_utc_s)
        assert killed_utc_s - killed.stat().st_mtime < 1
        # One relay, one lane: whoever it was before the kill.
        joined = [event for event in inflow.due(2**62) if isinstance(event, AthleteChanged)]
        athletes = {event.athlete.athlete for event in joined}
        assert athletes == {"r0.a1"}
        assert hub.refusals.total == 0
        assert json.loads((data / "livemon" / "owed.json").read_text()) == []
