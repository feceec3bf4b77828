"""A relay's way to the broker, in a thread and a loop of its own.

Apart from Bluetooth's loop, because what the MQTT library does to its loop when a connection
breaks must not touch the sensors' links. Lines come in from the other thread by `wrote`, which
never waits.
"""

import asyncio
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from random import Random
from typing import Final

from livemon.app.engine import Engine
from livemon.app.relay_lines import NumberedLines
from livemon.app.relay_owed import Owed, OwedFile
from livemon.errors import ConfigError, RecordingError
from livemon.events import Head
from livemon.monitor.snapshot import SessionSnapshot
from livemon.net.broker import Broker, Will
from livemon.net.journal import Journal
from livemon.net.keep_connected import keep_connected
from livemon.net.relay import Clocks, Relay
from livemon.record.head import encode_head
from livemon.record.reader import open_recording

#: How often to look which recordings the hub has all of.
_LOOK_S: Final = 0.2
#: Whoever ends the program waits this long at most for the last lines to be taken.
_LAST_LINES_S: Final = 2.0


class RelayPost:
    """Fulfils `Program`: sends what is written, and what earlier runs still owe.

    Args:
        head: of this session, under own ids.
        path: of its recording, which was begun and holds no event yet.
        owed: where this session and earlier ones are remembered.
        to: broker, group and relay, as `owed` knows them.
        way: makes the way to the broker with our last will.
    """

    latest: SessionSnapshot | None = None

    def __init__(
        self,
        group: str,
        relay: str,
        head: Head,
        path: Path,
        owed: OwedFile,
        to: str,
        way: Callable[[Will], Broker],
        clocks: Clocks,
        chance: Random,
    ) -> None:
        earlier = [_earlier_journal(one) for one in owed.to(to)]
        owed.add(Owed(to, head.session, str(path.absolute())))
        self._owed = owed
        self._earlier = tuple(one for one in earlier if one is not None)
        head_line = encode_head(head).encode()
        self._journal = Journal(head.session, head_line, NumberedLines(path).read)
        self._relay = Relay(group, relay, self._journal, clocks, earlier=self._earlier)
        self._broker = way(self._relay.will)
        self._chance = chance
        self._stopping = asyncio.Event()
        self._engine = Engine(self, name="livemon-mqtt")
        self.trouble = "not connected yet"  #: what is wrong with the connection; empty if nothing

    @property
    def behind(self) -> int:
        """Lines that the hub doesn't have, as far as is known."""
        return self._relay.behind

    @property
    def heard(self) -> bool:
        """Whether a hub has said on this connection what it has."""
        return self._journal.outlet.heard

    @property
    def failure(self) -> BaseException | None:
        """What ended it for good."""
        return self._engine.failure

    def start(self) -> None:
        """Begin, in the other thread."""
        self._engine.start()

    def wrote(self, line: bytes) -> None:
        """Take a line that was written; from any thread, never waits."""
        self._engine.call(lambda: self.take(line))

    def take(self, line: bytes) -> None:
        """Take a line that was written; in the thread of `run`."""
        self._relay.wrote(line)

    def stop(self) -> None:
        """Send what is left, if somebody takes it, say goodbye, and end."""
        self._engine.call(self.finish)
        self._engine.wait(2 * _LAST_LINES_S)
        self._engine.stop()

    def finish(self) -> None:
        """Let `run` end once what is left was sent; in its thread."""
        self._stopping.set()

    async def run(self) -> None:
        """Stay connected until told to stop; see `Program`."""
        work = keep_connected(self._broker, self._relay.work, chance=self._chance, tell=self._tell)
        connected = asyncio.create_task(work, name="mqtt")
        try:
            while not self._stopping.is_set() and not connected.done():
                self._forget_what_the_hub_has(self._earlier)
                with suppress(TimeoutError):
                    async with asyncio.timeout(_LOOK_S):
                        await self._stopping.wait()
            with suppress(TimeoutError):
                async with asyncio.timeout(_LAST_LINES_S):
                    # The hub's word and the end of the connection have no event in common.
                    while self.heard and self.behind and not connected.done():  # noqa: ASYNC110
                        await asyncio.sleep(_LOOK_S / 10)
        finally:
            self._forget_what_the_hub_has((*self._earlier, self._journal))
            connected.cancel()
            with suppress(asyncio.CancelledError):
                await connected

    def _forget_what_the_hub_has(self, journals: tuple[Journal, ...]) -> None:
        for journal in journals:
            if journal.outlet.complete and journal.outlet.heard:
                try:
                    self._owed.done(journal.session)
                except ConfigError as error:  # it is only sent once more, then
                    self._tell(str(error))

    def _tell(self, trouble: str) -> None:
        self.trouble = trouble


def _earlier_journal(owed: Owed) -> Journal | None:
    """Return an earlier recording as it is sent; None if it can't be read any more."""
    path = Path(owed.path)
    try:
        head = encode_head(open_recording(path).head).encode()
    except RecordingError:
        return None
    lines = NumberedLines(path)
    return Journal(owed.session, head, lines.read, lines.count())
