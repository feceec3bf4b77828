"""The objects that are on the bus and their properties; every change is announced.

This is the one place where the state that clients see is kept. It knows D-Bus's standard
interfaces (ObjectManager, Properties) and nothing of Bluetooth.
"""

from collections.abc import Callable
from typing import Any, Final

from dbus_fast import Message, Variant

from livemon.link.fake_bluez.refusals import no_such_object

OBJECT_MANAGER: Final = "org.freedesktop.DBus.ObjectManager"
PROPERTIES: Final = "org.freedesktop.DBus.Properties"

Properties = dict[str, Variant]
Interfaces = dict[str, Properties]


class ObjectTree:
    """Path → interface → property."""

    def __init__(self, emit: Callable[[Message], None]) -> None:
        self._emit = emit
        self._objects: dict[str, Interfaces] = {}

    def __contains__(self, path: str) -> bool:
        return path in self._objects

    def objects(self) -> dict[str, Interfaces]:
        """Everything there is, as GetManagedObjects gives it."""
        return self._objects

    def below(self, path: str) -> tuple[str, ...]:
        """Paths under `path`, the deepest first."""
        return tuple(sorted((p for p in self._objects if p.startswith(f"{path}/")), reverse=True))

    def properties(self, path: str, interface: str) -> Properties:
        """Return an object's properties.

        Raises:
            DBusError: no such object, or not of that kind.
        """
        try:
            return self._objects[path][interface]
        except KeyError:
            raise no_such_object(path) from None

    def value(self, path: str, interface: str, name: str) -> Any:  # noqa: ANN401 - D-Bus's any
        """Return one property's bare value."""
        return self.properties(path, interface)[name].value

    def add(self, path: str, interfaces: Interfaces) -> None:
        """Put up an object."""
        self._objects[path] = interfaces
        self._announce(OBJECT_MANAGER, "InterfacesAdded", "oa{sa{sv}}", [path, interfaces])

    def remove(self, path: str) -> None:
        """Take down an object, if it is there."""
        if interfaces := self._objects.pop(path, None):
            body = [path, list(interfaces)]
            self._announce(OBJECT_MANAGER, "InterfacesRemoved", "oas", body)

    def change(self, path: str, interface: str, changed: Properties) -> None:
        """Set properties; announced even if nothing differs, as BlueZ does for notifications."""
        self.properties(path, interface).update(changed)
        body = [interface, changed, []]
        self._announce(PROPERTIES, "PropertiesChanged", "sa{sv}as", body, path)

    def invalidate(self, path: str, interface: str, name: str) -> None:
        """Withdraw a property, if it is there."""
        if self.properties(path, interface).pop(name, None) is not None:
            body = [interface, {}, [name]]
            self._announce(PROPERTIES, "PropertiesChanged", "sa{sv}as", body, path)

    def _announce(
        self, interface: str, member: str, signature: str, body: list[Any], path: str = "/"
    ) -> None:
        self._emit(Message.new_signal(path, interface, member, signature, body))
