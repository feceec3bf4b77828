"""Calls to Adapter1."""

from dbus_fast import Message

from livemon.link.fake_bluez.description import Adapter
from livemon.link.fake_bluez.discovery import Discovery
from livemon.link.fake_bluez.dispatch import Methods, done
from livemon.link.fake_bluez.links import Links
from livemon.link.fake_bluez.objects import ADAPTER
from livemon.link.fake_bluez.refusals import does_not_exist, in_progress, not_ready
from livemon.link.fake_bluez.tree import ObjectTree


class AdapterCalls:
    """Scanning, and forgetting devices."""

    def __init__(
        self, tree: ObjectTree, adapter: Adapter, discovery: Discovery, links: Links
    ) -> None:
        self._tree = tree
        self._adapter = adapter
        self._discovery = discovery
        self._links = links

    def methods(self) -> Methods:
        """Return what is answered here."""
        return {
            (ADAPTER, "SetDiscoveryFilter"): self._set_filter,
            (ADAPTER, "StartDiscovery"): self._start,
            (ADAPTER, "StopDiscovery"): self._stop,
            (ADAPTER, "RemoveDevice"): self._remove_device,
        }

    def _set_filter(self, call: Message) -> Message:
        self._check_power(call)
        self._discovery.set_filter(call.sender or "", call.body[0])
        return done(call)

    def _start(self, call: Message) -> Message:
        self._check_power(call)
        if self._adapter.one_at_a_time and self._links.attempting:
            raise in_progress()
        self._discovery.start(call.sender or "")
        return done(call)

    def _stop(self, call: Message) -> Message:
        self._check_power(call)
        self._discovery.stop(call.sender or "")
        return done(call)

    def _remove_device(self, call: Message) -> Message:
        path = call.body[0]
        if path not in self._tree:
            raise does_not_exist()
        self._links.disconnect(path)
        self._tree.remove(path)
        return done(call)

    def _check_power(self, call: Message) -> None:
        if not self._tree.value(call.path or "/", ADAPTER, "Powered"):
            raise not_ready()
