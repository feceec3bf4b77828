"""A full class over bleak's Linux backend: thirty sensors at 10 Hz, in short; nothing is lost.

`benchmarks/fake_bluez.py` is the long form, with the sensors in a process of their own and delays
measured.
"""

import asyncio
from collections import defaultdict

import pytest

pytest.importorskip("dbus_fast", reason="comes with bleak on Linux only")

from supervised import Witness, supervised

from livemon.link.fake_bluez.description import Adapter, Characteristic, Peripheral, Service
from livemon.link.plan import Plan
from livemon.link.radio import Channel
from livemon.link.silence import Patience

SERVICE = "7a1c0001-51d5-4a3e-9f64-0e6c2a90b3d1"
VALUES = "7a1c0002-51d5-4a3e-9f64-0e6c2a90b3d1"
SENSORS, RATE_HZ, PACKETS = 30, 10.0, 20
CROWD = [
    Peripheral(
        f"C0:00:00:00:01:{n:02X}",
        f"sensor {n}",
        (Service(SERVICE, (Characteristic(VALUES, ("notify",)),)),),
    )
    for n in range(SENSORS)
]


def plan(peripheral: Peripheral) -> Plan:
    return Plan(peripheral.address, (Channel(VALUES, SERVICE),), patience=Patience.for_period(1.0))


async def test_thirty_sensors_lose_nothing_drop_together_and_return(bluez) -> None:
    witness = Witness()
    sent: dict[str, list[bytes]] = defaultdict(list)
    service = await bluez(CROWD, Adapter(advertising_interval_s=0.2))

    def all_read() -> bool:
        return all(service.subscribed(one.address, VALUES) for one in CROWD)

    async def send(packets: int) -> None:
        for _ in range(packets):
            for one in CROWD:
                payload = len(sent[one.address]).to_bytes(4, "little")
                assert service.send(one.address, VALUES, payload)
                sent[one.address].append(payload)
            await asyncio.sleep(1 / RATE_HZ)

    async with supervised(CROWD, witness, plan):
        await service.until(all_read)
        await send(PACKETS)
        for one in CROWD:
            service.drop(one.address)
        await service.until(all_read)
        await send(3)
        wanted = SENSORS * (PACKETS + 3)
        await witness.until(lambda: len(witness.notified()) >= wanted)

    assert {one.address: witness.payloads(one.address) for one in CROWD} == dict(sent)
    assert service.overlaps == 0
