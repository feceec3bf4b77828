"""Connections: one attempt at a time, links up and down, as Device1 shows them.

An attempt goes: Connected → the caller is answered → services appear → ServicesResolved.
"""

import asyncio
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from dbus_fast import DBusError, Variant

from livemon.link.fake_bluez.air import Air
from livemon.link.fake_bluez.description import Adapter
from livemon.link.fake_bluez.gatt import Gatt
from livemon.link.fake_bluez.objects import DEVICE
from livemon.link.fake_bluez.refusals import failed, in_progress, no_such_object
from livemon.link.fake_bluez.tree import ObjectTree

#: Told how an attempt ended: None means linked.
Answer = Callable[[DBusError | None], None]


@dataclass(slots=True)
class _Attempt:
    accepted: asyncio.Task[bool]
    answer: Answer


class Links:
    """Which devices are linked, and which are about to be."""

    def __init__(self, tree: ObjectTree, adapter: Adapter, air: Air, gatt: Gatt) -> None:
        self._tree = tree
        self._adapter = adapter
        self._air = air
        self._gatt = gatt
        self._attempts: dict[str, _Attempt] = {}
        self._resolving: dict[str, asyncio.TimerHandle] = {}

    @property
    def attempting(self) -> bool:
        """Whether a connection is being made."""
        return bool(self._attempts)

    @property
    def up(self) -> tuple[str, ...]:
        """Paths of the devices that are linked."""
        objects = self._tree.objects().items()
        return tuple(p for p, kinds in objects if DEVICE in kinds and self._connected(p))

    def has_room(self) -> bool:
        """Whether the adapter could hold another link."""
        return self._adapter.max_links is None or len(self.up) < self._adapter.max_links

    def connect(self, path: str, answer: Answer) -> None:
        """Begin an attempt; `answer` is called once when it is over.

        Raises:
            DBusError: another attempt is under way, or the adapter is full; then it also forgets
                the device, which is how a full adapter looks to a program.
        """
        if self._connected(path):
            answer(None)
            return
        if path in self._attempts or (self._adapter.one_at_a_time and self._attempts):
            raise in_progress()
        if not self.has_room():
            self._tree.remove(path)
            raise no_such_object(path)
        accepted = asyncio.create_task(self._air.answers(self._address(path)))
        self._attempts[path] = _Attempt(accepted, answer)
        accepted.add_done_callback(partial(self._settle, path))

    def disconnect(self, path: str) -> None:
        """End the link or the attempt, if there is one."""
        if attempt := self._attempts.get(path):
            attempt.accepted.cancel()
        if path not in self._tree or not self._connected(path):
            return
        if resolving := self._resolving.pop(path, None):
            resolving.cancel()
        self._gatt.take_down(path)
        down = {"ServicesResolved": Variant("b", False), "Connected": Variant("b", False)}
        self._tree.change(path, DEVICE, down)

    def disconnect_all(self) -> None:
        """The adapter goes off, or everybody leaves the room."""
        for path in (*self._attempts, *self.up):
            self.disconnect(path)

    def _settle(self, path: str, accepted: asyncio.Task[bool]) -> None:
        answer = self._attempts.pop(path).answer
        if accepted.cancelled():
            answer(failed("le-connection-canceled"))
        elif path not in self._tree:
            answer(no_such_object(path))
        elif not accepted.result():
            answer(failed("le-connection-refused"))
        else:
            self._link(path, answer)

    def _link(self, path: str, answer: Answer) -> None:
        self._tree.change(path, DEVICE, {"Connected": Variant("b", True)})
        answer(None)
        loop = asyncio.get_running_loop()
        delay_s = self._air[self._address(path)].resolve_delay_s
        self._resolving[path] = loop.call_later(delay_s, self._resolve, path)

    def _resolve(self, path: str) -> None:
        del self._resolving[path]
        self._gatt.put_up(path, self._air[self._address(path)])
        self._tree.change(path, DEVICE, {"ServicesResolved": Variant("b", True)})

    def _connected(self, path: str) -> bool:
        return bool(self._tree.value(path, DEVICE, "Connected"))

    def _address(self, path: str) -> str:
        return str(self._tree.value(path, DEVICE, "Address"))
