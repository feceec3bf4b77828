"""Calls that any object answers: D-Bus's ObjectManager and Properties."""

from collections.abc import Callable

from dbus_fast import Message, Variant

from livemon.link.fake_bluez.dispatch import Methods, done
from livemon.link.fake_bluez.objects import ADAPTER
from livemon.link.fake_bluez.refusals import no_such_object
from livemon.link.fake_bluez.tree import OBJECT_MANAGER, PROPERTIES, ObjectTree


class ObjectCalls:
    """Read the tree; set what clients may set."""

    def __init__(self, tree: ObjectTree, power: Callable[[bool], None]) -> None:
        self._tree = tree
        self._power = power

    def methods(self) -> Methods:
        """Return what is answered here."""
        return {
            (OBJECT_MANAGER, "GetManagedObjects"): self._managed_objects,
            (PROPERTIES, "Get"): self._get,
            (PROPERTIES, "GetAll"): self._get_all,
            (PROPERTIES, "Set"): self._set,
        }

    def _managed_objects(self, call: Message) -> Message:
        return Message.new_method_return(call, "a{oa{sa{sv}}}", [self._tree.objects()])

    def _get(self, call: Message) -> Message:
        interface, name = call.body
        properties = self._tree.properties(call.path or "/", interface)
        if name not in properties:
            raise no_such_object(f"{call.path} {interface}.{name}")
        return Message.new_method_return(call, "v", [properties[name]])

    def _get_all(self, call: Message) -> Message:
        properties = self._tree.properties(call.path or "/", call.body[0])
        return Message.new_method_return(call, "a{sv}", [properties])

    def _set(self, call: Message) -> Message:
        interface, name, value = call.body
        if (interface, name) == (ADAPTER, "Powered"):
            self._power(value.value)
        else:
            changed: dict[str, Variant] = {name: value}
            self._tree.change(call.path or "/", interface, changed)
        return done(call)
