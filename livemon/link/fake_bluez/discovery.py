"""Scanning: each client has a session with its own filter; free peripherals are heard in turn."""

import asyncio
from collections.abc import Callable, Mapping
from typing import Final

from dbus_fast import Variant

from livemon.link.fake_bluez.air import Air
from livemon.link.fake_bluez.description import Adapter, Peripheral
from livemon.link.fake_bluez.objects import (
    ADAPTER,
    DEVICE,
    adapter_path,
    device_object,
    device_path,
)
from livemon.link.fake_bluez.refusals import failed, in_progress
from livemon.link.fake_bluez.tree import ObjectTree

#: A scan hears nobody before its client has the answer to StartDiscovery in hand; bleak would not
#: pass on what comes in the same breath.
_FIRST_HEARD_S: Final = 0.01


class Discovery:
    """Who scans, and what they are shown.

    `has_room` says whether the adapter could hold another link: a full one hears nobody.
    """

    def __init__(
        self, tree: ObjectTree, adapter: Adapter, air: Air, has_room: Callable[[], bool]
    ) -> None:
        self._tree = tree
        self._adapter = adapter
        self._air = air
        self._has_room = has_room
        self._wanted: dict[str, frozenset[str]] = {}  # UUIDs by client; empty means all
        self._sessions: set[str] = set()
        self._next: asyncio.TimerHandle | None = None

    @property
    def active(self) -> bool:
        """Whether anybody scans."""
        return bool(self._sessions)

    def set_filter(self, client: str, wanted: Mapping[str, Variant]) -> None:
        """Take note of what a client wants to hear; only the UUIDs matter here."""
        uuids = wanted.get("UUIDs")
        self._wanted[client] = frozenset(uuids.value if uuids else ())

    def start(self, client: str) -> None:
        """Open a client's session.

        Raises:
            DBusError: it has one already.
        """
        if client in self._sessions:
            raise in_progress()
        self._sessions.add(client)
        if len(self._sessions) == 1:
            self._show_discovering()
        if self._next is None:
            self._next = asyncio.get_running_loop().call_later(_FIRST_HEARD_S, self._hear_all)

    def stop(self, client: str) -> None:
        """Close a client's session.

        Raises:
            DBusError: it has none.
        """
        if client not in self._sessions:
            raise failed("No discovery started")
        self.forget_client(client)

    def forget_client(self, client: str) -> None:
        """Close a client's session, if it has one: it said so, or left the bus."""
        self._wanted.pop(client, None)
        if client in self._sessions:
            self._sessions.remove(client)
            self._end_if_idle()

    def stop_all(self) -> None:
        """The adapter goes off."""
        self._wanted.clear()
        if self._sessions:
            self._sessions.clear()
            self._end_if_idle()

    def hear(self, address: str) -> None:
        """One advertisement arrives, if somebody scans and the device is free and within reach."""
        if not self.active or not self._air.heard(address) or not self._has_room():
            return
        peripheral = self._air[address]
        path = device_path(self._adapter, address)
        if not self._is_wanted(peripheral):
            return
        if path not in self._tree:
            self._tree.add(path, device_object(self._adapter, peripheral))
        elif not self._tree.value(path, DEVICE, "Connected"):
            self._tree.change(path, DEVICE, {"RSSI": Variant("n", peripheral.rssi_dbm)})

    def _hear_all(self) -> None:
        for peripheral in self._air:
            self.hear(peripheral.address)
        loop = asyncio.get_running_loop()
        self._next = loop.call_later(self._adapter.advertising_interval_s, self._hear_all)

    def _is_wanted(self, peripheral: Peripheral) -> bool:
        wishes = [self._wanted.get(client, frozenset()) for client in self._sessions]
        return any(not uuids or uuids.intersection(peripheral.advertised) for uuids in wishes)

    def _end_if_idle(self) -> None:
        if self._sessions:
            return
        if self._next is not None:
            self._next.cancel()
            self._next = None
        self._show_discovering()
        for path in self._tree.below(adapter_path(self._adapter)):
            if DEVICE in self._tree.objects()[path]:
                self._tree.invalidate(path, DEVICE, "RSSI")  # BlueZ forgets it with the scan

    def _show_discovering(self) -> None:
        discovering = {"Discovering": Variant("b", self.active)}
        self._tree.change(adapter_path(self._adapter), ADAPTER, discovering)
