"""The services of linked devices: put up when resolved, read, written, taken down with the link."""

from dbus_fast import Variant

from livemon.link.fake_bluez.description import Peripheral
from livemon.link.fake_bluez.objects import CHARACTERISTIC, gatt_objects
from livemon.link.fake_bluez.refusals import not_permitted, not_supported
from livemon.link.fake_bluez.subscriptions import Subscriptions
from livemon.link.fake_bluez.tree import ObjectTree


class Gatt:
    """Characteristics by device and UUID, and the values they hold across links."""

    def __init__(self, tree: ObjectTree, subscriptions: Subscriptions) -> None:
        self._tree = tree
        self._subscriptions = subscriptions
        self._values: dict[str, dict[str, bytes]] = {}  # by address, then UUID
        self._paths: dict[str, dict[str, str]] = {}  # of linked devices: by device, then UUID

    def put_up(self, device: str, peripheral: Peripheral) -> None:
        """Show the services of a device that was just linked."""
        paths = self._paths.setdefault(device, {})
        values = self._values.get(peripheral.address, {})
        for path, interfaces in gatt_objects(device, peripheral, values).items():
            self._tree.add(path, interfaces)
            if properties := interfaces.get(CHARACTERISTIC):
                paths.setdefault(properties["UUID"].value, path)

    def take_down(self, device: str) -> None:
        """The link is gone: so are subscriptions and services, as BlueZ does without a bond."""
        self._paths.pop(device, None)
        for path in self._tree.below(device):
            self._subscriptions.clear(path)
            self._tree.remove(path)

    def path(self, device: str, uuid: str) -> str | None:
        """Where a characteristic of a linked device lives; None if it has none like that."""
        return self._paths.get(device, {}).get(uuid)

    def set_value(self, device: str, address: str, uuid: str, value: bytes) -> None:
        """Let reads give `value`, on this link and later ones."""
        self._values.setdefault(address, {})[uuid] = value
        if path := self.path(device, uuid):
            self._tree.properties(path, CHARACTERISTIC)["Value"] = Variant("ay", value)

    def read(self, path: str) -> bytes:
        """Read a value; subscribers are shown it too, which BlueZ does and clients trip over."""
        if "read" not in self._flags(path):
            raise not_permitted("Read not permitted")
        value: bytes = self._tree.value(path, CHARACTERISTIC, "Value")
        self._tree.change(path, CHARACTERISTIC, {"Value": Variant("ay", value)})
        return value

    def writable(self, path: str) -> str:
        """Return the UUID of a characteristic that may be written."""
        if not {"write", "write-without-response"} & self._flags(path):
            raise not_supported()
        uuid: str = self._tree.value(path, CHARACTERISTIC, "UUID")
        return uuid

    def _flags(self, path: str) -> set[str]:
        return set(self._tree.value(path, CHARACTERISTIC, "Flags"))
