"""Calls to GattCharacteristic1 and GattDescriptor1."""

from dbus_fast import Message

from livemon.link.fake_bluez.dispatch import Methods, done
from livemon.link.fake_bluez.gatt import Gatt
from livemon.link.fake_bluez.objects import CHARACTERISTIC, DESCRIPTOR, MTU_BYTES
from livemon.link.fake_bluez.subscriptions import Subscriptions
from livemon.link.fake_bluez.tree import ObjectTree


class GattCalls:
    """Reading, writing, subscribing."""

    def __init__(self, tree: ObjectTree, gatt: Gatt, subscriptions: Subscriptions) -> None:
        self._tree = tree
        self._gatt = gatt
        self._subscriptions = subscriptions
        #: UUID and bytes of each write, in order.
        self.writes: list[tuple[str, bytes]] = []

    def methods(self) -> Methods:
        """Return what is answered here."""
        return {
            (CHARACTERISTIC, "ReadValue"): self._read,
            (CHARACTERISTIC, "WriteValue"): self._write,
            (CHARACTERISTIC, "StartNotify"): self._start_notify,
            (CHARACTERISTIC, "StopNotify"): self._stop_notify,
            (CHARACTERISTIC, "AcquireNotify"): self._acquire_notify,
            (DESCRIPTOR, "ReadValue"): self._read_descriptor,
        }

    def _read(self, call: Message) -> Message:
        return Message.new_method_return(call, "ay", [self._gatt.read(call.path or "")])

    def _read_descriptor(self, call: Message) -> Message:
        value = self._tree.value(call.path or "", DESCRIPTOR, "Value")
        return Message.new_method_return(call, "ay", [value])

    def _write(self, call: Message) -> Message:
        uuid = self._gatt.writable(call.path or "")
        self.writes.append((uuid, bytes(call.body[0])))
        return done(call)

    def _start_notify(self, call: Message) -> Message:
        self._subscriptions.start(call.path or "", call.sender or "")
        return done(call)

    def _stop_notify(self, call: Message) -> Message:
        self._subscriptions.stop(call.path or "", call.sender or "")
        return done(call)

    def _acquire_notify(self, call: Message) -> Message:
        theirs = self._subscriptions.acquire(call.path or "")
        return Message.new_method_return(call, "hq", [0, MTU_BYTES], [theirs.detach()])
