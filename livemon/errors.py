"""Every error livemon raises on purpose, sorted by who can do something about it.

LivemonError
├── DecodeError      a payload does not fit its characteristic: counted, dropped, carried on
├── AdapterError     an adapter file is wrong: told to the user with file, key and cure
├── RecordingError   a recording cannot be read or written: told to the user with file and line
├── ConfigError      a settings, roster or plan file is wrong: told with file, key and cure
├── UsageError       what was asked for cannot be done: told with what to do instead
├── LinkLost         a device went away: retried
└── RadioError       Bluetooth itself cannot be used: told to the user, says what to do

The text is for people. Programs act on the type and the attributes, never on the text.
"""


class LivemonError(Exception):
    """Base of the tree; catch it only at the top of a program."""


class DecodeError(LivemonError):
    """A payload does not fit the characteristic it came from."""

    def __init__(self, characteristic: str, problem: str, payload: bytes) -> None:
        super().__init__(f"{characteristic}: {problem} (payload {payload.hex(' ') or 'empty'})")
        self.characteristic = characteristic
        self.problem = problem
        self.payload = payload


class _FileError(LivemonError):
    """Something in a file, at a key or line, is not what was expected."""

    def __init__(self, where: str, path: str, problem: str) -> None:
        super().__init__(f"{where}: {path}: {problem}" if path else f"{where}: {problem}")
        self.where = where  #: the file, as the user named it
        self.path = path  #: key or line inside the file; empty when the file as a whole is meant
        self.problem = problem


class AdapterError(_FileError):
    """An adapter file can't be used; the message says where and what was expected."""


class RecordingError(_FileError):
    """A recording can't be read or written."""


class ConfigError(_FileError):
    """A settings, roster or plan file can't be used."""


class UsageError(LivemonError):
    """What was asked for can't be done; the message says what to do instead."""


class LinkLost(LivemonError):  # noqa: N818 - an event of radio life, not a fault
    """The device can't be reached, or stopped answering; worth another try."""


class RadioError(LivemonError):
    """Bluetooth can't be used on this computer as it stands; the message says what to do."""
