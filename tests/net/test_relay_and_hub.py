"""Relays and a hub around a broker in memory, on virtual time: a night of trouble in a second."""

import asyncio
from collections.abc import Coroutine
from random import Random

import pytest
from memory_broker import MemoryBroker
from net_gym import GROUP, HubMachine, RelayMachine

from livemon.link.simulated.virtual_loop import VirtualTimeLoop, run_virtually
from livemon.net.hub import MOST_SESSIONS
from livemon.net.topics import Leaf, Topic


def now_ns() -> int:
    loop = asyncio.get_running_loop()
    assert isinstance(loop, VirtualTimeLoop)
    return loop.now_ns()


def a_hall(broker: MemoryBroker, relays: int) -> tuple[HubMachine, list[RelayMachine]]:
    """A hub and so many relays, started."""
    hub = HubMachine(broker.door, now_ns)
    machines = [RelayMachine(f"r{n}", broker.door, now_ns) for n in range(relays)]
    for machine in (hub, *machines):
        machine.start()
    return hub, machines


async def write(machine: RelayMachine, count: int, every_s: float = 0.02) -> None:
    for _ in range(count):
        number = sum(map(len, machine.disk.values())) + 1
        machine.write(f"{machine.name} {number}".encode())
        await asyncio.sleep(every_s)


async def settled(hub: HubMachine, machines: list[RelayMachine], within_s: float) -> None:
    async with asyncio.timeout(within_s):
        while not all(hub.has_all_of(one) for one in machines):  # noqa: ASYNC110 - virtual time
            await asyncio.sleep(0.05)


def virtually(main: Coroutine[None, None, None]) -> None:
    run_virtually(main)


def test_lines_are_shown_and_kept_in_order() -> None:
    async def main() -> None:
        hub, (one, two) = a_hall(MemoryBroker(), 2)
        await asyncio.gather(write(one, 200), write(two, 200))
        await settled(hub, [one, two], 1.0)

        assert hub.shown_of(one) == one.disk["r0-run-1"]
        assert hub.shown_of(two) == two.disk["r1-run-1"]
        # The broker's delay; and the times of each relay keep their distances.
        assert {(source.relay, ns) for source, ns, _ in hub.shown} == {
            ("r0", 1_000_000),
            ("r1", 1_000_000),
        }
        assert hub.there == {"r0": True, "r1": True}
        assert hub.meta == {"r0": b'{"session":"r0-run-1"}', "r1": b'{"session":"r1-run-1"}'}
        for machine in (one, two, hub):
            await machine.stop()
        assert asyncio.all_tasks() == {asyncio.current_task()}

    virtually(main())


def test_a_line_is_shown_within_a_few_hundredths_of_a_second() -> None:
    async def main() -> None:
        hub, (relay,) = a_hall(MemoryBroker(), 1)
        await asyncio.sleep(1)
        relay.write(b"now")
        await asyncio.sleep(0.03)

        assert hub.shown_of(relay) == [b"now"]
        await asyncio.gather(relay.stop(), hub.stop())

    virtually(main())


def test_lost_live_messages_are_kept_later_and_never_shown_late() -> None:
    async def main() -> None:
        broker = MemoryBroker(Random(5))
        hub, (relay,) = a_hall(broker, 1)
        broker.lose = 0.3
        await write(relay, 500)
        broker.lose = 0.0
        await settled(hub, [relay], 5.0)

        lines = relay.disk["r0-run-1"]
        shown = hub.shown_of(relay)
        assert 200 < len(shown) < 500
        assert [lines.index(line) for line in shown] == sorted(lines.index(line) for line in shown)
        assert hub.hub is not None
        assert hub.hub.skipped == 500 - len(shown) - lines.index(shown[0])
        await asyncio.gather(relay.stop(), hub.stop())

    virtually(main())


def test_after_an_hour_without_broker_live_comes_first_and_all_is_filled_in() -> None:
    async def main() -> None:
        broker = MemoryBroker()
        hub, (relay,) = a_hall(broker, 1)
        await write(relay, 10)
        broker.up = False
        broker.restart(forgets=True)
        await write(relay, 36_000, every_s=0.1)
        assert "down" in relay.told[-1]
        broker.up = True
        await asyncio.sleep(16)  # the longest wait between attempts
        assert relay.told[-1] == hub.told[-1] == ""
        before = len(hub.shown)
        await write(relay, 600)

        assert hub.shown_of(relay)[before:] == relay.disk["r0-run-1"][-600:]
        # Of the hour's 36,000 lines only the freshest two seconds can have been shown.
        assert before <= 10 + 20
        await settled(hub, [relay], 60.0)
        assert len(hub.shown) == before + 600
        assert relay.relay is not None
        await asyncio.sleep(2)
        assert relay.relay.behind == 0
        await asyncio.gather(relay.stop(), hub.stop())

    virtually(main())


@pytest.mark.parametrize("seed", range(4))
def test_fifty_restarts_and_fifty_cuts_lose_and_double_nothing(seed: int) -> None:
    async def trouble(
        broker: MemoryBroker, hub: HubMachine, machines: list[RelayMachine], chance: Random
    ) -> None:
        for _ in range(50):
            broker.restart(forgets=chance.random() < 0.5)
            await asyncio.sleep(chance.uniform(0, 3))
            broker.cut(chance.choice(["hub", "relay-r0", "relay-r1", "relay-r2"]))
            await asyncio.sleep(chance.uniform(0, 3))
            match chance.randrange(8):
                case 0:
                    await hub.stop()
                    hub.shown.clear()
                    hub.start()
                case 1:
                    machine = chance.choice(machines)
                    await machine.stop()
                    machine.start()

    async def main() -> None:
        chance = Random(seed)
        broker = MemoryBroker(chance)
        broker.lose = 0.05
        hub, machines = a_hall(broker, 3)
        writing = [asyncio.create_task(write(machine, 5000)) for machine in machines]
        await trouble(broker, hub, machines, chance)
        await asyncio.gather(*writing)
        broker.lose = 0.0
        await settled(hub, machines, 60.0)

        for machine in machines:
            shown = [int(line.split()[1]) for line in hub.shown_of(machine)]
            assert shown == sorted(set(shown))
        assert hub.hub is not None
        assert not hub.hub.refusals.reasons
        await asyncio.gather(hub.stop(), *(machine.stop() for machine in machines))

    virtually(main())


def test_a_relay_that_starts_again_also_sends_what_it_owed() -> None:
    async def main() -> None:
        broker = MemoryBroker()
        hub, (relay,) = a_hall(broker, 1)
        await write(relay, 10)
        broker.up = False
        broker.restart(forgets=False)
        await write(relay, 50)
        await relay.stop()
        relay.start()
        await write(relay, 50)
        broker.up = True
        await settled(hub, [relay], 30.0)

        assert [len(lines) for lines in relay.disk.values()] == [60, 50]
        await asyncio.gather(relay.stop(), hub.stop())

    virtually(main())


def test_whoever_leaves_in_good_order_says_so_and_whoever_is_cut_has_a_will() -> None:
    async def main() -> None:
        broker = MemoryBroker()
        hub, (one, two) = a_hall(broker, 2)
        await asyncio.sleep(1)
        await one.stop()
        broker.up = False
        broker.cut("relay-r1")
        await asyncio.sleep(1)

        assert hub.there == {"r0": False, "r1": False}
        broker.up = True
        await asyncio.sleep(20)
        assert hub.there == {"r0": False, "r1": True}  # the same id: no will of an old life
        await asyncio.gather(two.stop(), hub.stop())

    virtually(main())


@pytest.mark.parametrize(
    ("topic", "payload"),
    [
        pytest.param(f"livemon/1/{GROUP}/r0/live", b"nonsense", id="no batch"),
        pytest.param(f"livemon/1/{GROUP}/r0/live", b"x" * 70_000, id="too long"),
        pytest.param(f"livemon/1/{GROUP}/r0/state", b"{}", id="no state"),
        pytest.param(f"livemon/1/{GROUP}/R 0/live", b"", id="no topic of ours"),
    ],
)
def test_nonsense_is_counted_and_harms_nobody(topic: str, payload: bytes) -> None:
    async def main() -> None:
        broker = MemoryBroker()
        hub, (relay,) = a_hall(broker, 1)
        await asyncio.sleep(1)
        broker.published(topic, payload, qos=1)
        broker.published(str(Topic(GROUP, "r0", Leaf.HAVE)), b"[]", qos=1)
        await write(relay, 10)
        await settled(hub, [relay], 1.0)

        assert hub.hub is not None
        assert hub.hub.refusals.total == 1
        assert relay.relay is not None
        assert relay.relay.rejected == 1
        await asyncio.gather(relay.stop(), hub.stop())

    virtually(main())


def test_a_replayed_message_shows_and_keeps_nothing() -> None:
    async def main() -> None:
        broker = MemoryBroker()
        hub, (relay,) = a_hall(broker, 1)
        await write(relay, 10)
        await settled(hub, [relay], 1.0)
        before = list(hub.shown)
        for topic, payload in tuple(broker.log):
            if topic.endswith(("live", "fill")):
                broker.published(topic, payload, qos=1)
        await asyncio.sleep(1)

        assert hub.shown == before
        assert hub.has_all_of(relay)
        await asyncio.gather(relay.stop(), hub.stop())

    virtually(main())


def test_a_relay_that_invents_recordings_without_end_is_stopped() -> None:
    async def main() -> None:
        broker = MemoryBroker()
        hub, (relay,) = a_hall(broker, 1)
        await asyncio.sleep(1)
        for number in range(2 * MOST_SESSIONS):
            state = f'{{"state":1,"session":"s{number}","there":true}}'.encode()
            broker.published(str(Topic(GROUP, "r9", Leaf.STATE)), state, qos=1)
        await write(relay, 10)
        await settled(hub, [relay], 1.0)

        assert len(hub.disk) == MOST_SESSIONS + 1
        await asyncio.gather(relay.stop(), hub.stop())

    virtually(main())
