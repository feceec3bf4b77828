"""What BlueZ answers when it won't: names and words as in its src/error.c."""

from dbus_fast import DBusError, ErrorType


def failed(reason: str) -> DBusError:
    """It was tried and went wrong."""
    return DBusError("org.bluez.Error.Failed", reason)


def in_progress() -> DBusError:
    """The radio, or the thing asked for, is busy."""
    return DBusError("org.bluez.Error.InProgress", "In Progress")


def not_ready() -> DBusError:
    """The adapter is switched off."""
    return DBusError("org.bluez.Error.NotReady", "Resource Not Ready")


def not_supported() -> DBusError:
    """The characteristic can't do that."""
    return DBusError("org.bluez.Error.NotSupported", "Operation is not supported")


def not_permitted(reason: str) -> DBusError:
    """The characteristic doesn't let it happen."""
    return DBusError("org.bluez.Error.NotPermitted", reason)


def does_not_exist() -> DBusError:
    """Nothing like that can be removed."""
    return DBusError("org.bluez.Error.DoesNotExist", "Does Not Exist")


def no_such_object(path: str) -> DBusError:
    """The device, or the part of it, is not known (any more)."""
    return DBusError(ErrorType.UNKNOWN_OBJECT, f"no object {path}")


def no_such_method(interface: str | None, member: str | None) -> DBusError:
    """The object is there but doesn't do that."""
    return DBusError(ErrorType.UNKNOWN_METHOD, f"no method {interface}.{member}")
