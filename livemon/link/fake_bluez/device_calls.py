"""Calls to Device1."""

from collections.abc import Callable

from dbus_fast import DBusError, Message, Variant

from livemon.link.fake_bluez.description import Adapter
from livemon.link.fake_bluez.discovery import Discovery
from livemon.link.fake_bluez.dispatch import Methods, done
from livemon.link.fake_bluez.links import Links
from livemon.link.fake_bluez.objects import ADAPTER, DEVICE, adapter_path
from livemon.link.fake_bluez.refusals import in_progress, not_ready
from livemon.link.fake_bluez.tree import ObjectTree


class DeviceCalls:
    """Connecting, disconnecting, pairing."""

    def __init__(
        self,
        tree: ObjectTree,
        adapter: Adapter,
        discovery: Discovery,
        links: Links,
        answer: Callable[[Message], None],
    ) -> None:
        self._tree = tree
        self._adapter = adapter
        self._discovery = discovery
        self._links = links
        self._answer = answer

    def methods(self) -> Methods:
        """Return what is answered here."""
        return {
            (DEVICE, "Connect"): self._connect,
            (DEVICE, "Disconnect"): self._disconnect,
            (DEVICE, "Pair"): self._pair,
        }

    def _connect(self, call: Message) -> None:
        if not self._tree.value(adapter_path(self._adapter), ADAPTER, "Powered"):
            raise not_ready()
        if self._adapter.one_at_a_time and self._discovery.active:
            raise in_progress()

        def answer(refusal: DBusError | None) -> None:
            self._answer(
                Message.new_error(call, refusal.type, refusal.text) if refusal else done(call)
            )

        self._links.connect(call.path or "", answer)

    def _disconnect(self, call: Message) -> Message:
        path = call.path or ""
        self._links.disconnect(path)
        self._discovery.hear(self._tree.value(path, DEVICE, "Address"))
        return done(call)

    def _pair(self, call: Message) -> Message:
        paired = {"Paired": Variant("b", True), "Bonded": Variant("b", True)}
        self._tree.change(call.path or "", DEVICE, paired)
        return done(call)
