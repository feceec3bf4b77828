"""Who is within reach and who answers: the world the adapter stands in."""

import asyncio
from collections import Counter
from collections.abc import Iterable, Iterator

from livemon.link.fake_bluez.description import Peripheral


class Air:
    """Peripherals by address, and what is wrong with them."""

    def __init__(self, peripherals: Iterable[Peripheral]) -> None:
        self._peripherals = {peripheral.address: peripheral for peripheral in peripherals}
        self._away: dict[str, asyncio.Event] = {}  # set when the peripheral is back
        self._refusals: Counter[str] = Counter()

    def __iter__(self) -> Iterator[Peripheral]:
        return iter(self._peripherals.values())

    def __getitem__(self, address: str) -> Peripheral:
        return self._peripherals[address]

    def add(self, peripheral: Peripheral) -> None:
        """A sensor is switched on; one with the same address is replaced."""
        self._peripherals[peripheral.address] = peripheral

    def leave(self, address: str) -> None:
        """Out of reach, asleep, or held by somebody else's phone."""
        self._away.setdefault(address, asyncio.Event())

    def come(self, address: str) -> None:
        """Within reach again."""
        if address in self._away:
            self._away.pop(address).set()

    def heard(self, address: str) -> bool:
        """Whether it advertises."""
        return address in self._peripherals and address not in self._away

    def refuse(self, address: str, times: int) -> None:
        """Let the next `times` connections to it fail."""
        self._refusals[address] += times

    async def answers(self, address: str) -> bool:
        """Wait for it to answer a connection request; True if it accepts.

        One that is away keeps the caller waiting, as a real one does.
        """
        await asyncio.sleep(self[address].connect_delay_s)
        if back := self._away.get(address):
            await back.wait()
        if self._refusals[address] > 0:
            self._refusals[address] -= 1
            return False
        return True
