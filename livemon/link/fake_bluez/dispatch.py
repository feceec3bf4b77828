"""Method calls that arrive: who answers which, and what becomes of a refusal."""

from collections.abc import Callable, Mapping
from typing import Final

from dbus_fast import DBusError, Message, MessageFlag, MessageType

from livemon.link.fake_bluez.refusals import in_progress, no_such_method, no_such_object
from livemon.link.fake_bluez.tree import OBJECT_MANAGER, PROPERTIES, ObjectTree

#: Carries out a call and answers it; None means that the answer comes later.
Method = Callable[[Message], Message | None]
#: By interface and member.
Methods = Mapping[tuple[str, str], Method]

_ANY_OBJECT: Final = (OBJECT_MANAGER, PROPERTIES)
_IN_PROGRESS: Final = in_progress().type


def done(call: Message) -> Message:
    """Answer a call that gives nothing back."""
    return Message.new_method_return(call)


class Dispatch:
    """Hands each call to its method."""

    def __init__(
        self, tree: ObjectTree, methods: Methods, answer: Callable[[Message], None]
    ) -> None:
        self._tree = tree
        self._methods = methods
        self._answer = answer
        #: How often something was asked for while the radio was busy with something else.
        self.overlaps = 0

    def take(self, call: Message) -> bool:
        """Carry out a call; False if `call` is another kind of message."""
        if call.message_type is not MessageType.METHOD_CALL:
            return False
        try:
            reply = self._method(call)(call)
        except DBusError as refusal:
            self.overlaps += refusal.type == _IN_PROGRESS
            reply = Message.new_error(call, refusal.type, refusal.text)
        if reply is not None and MessageFlag.NO_REPLY_EXPECTED not in call.flags:
            self._answer(reply)
        return True

    def _method(self, call: Message) -> Method:
        interface, member, path = call.interface or "", call.member or "", call.path or "/"
        if interface not in _ANY_OBJECT and interface not in self._tree.objects().get(path, {}):
            raise no_such_object(path)
        try:
            return self._methods[interface, member]
        except KeyError:
            raise no_such_method(interface, member) from None
