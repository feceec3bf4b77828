"""livemon: muscle oxygenation live beside heart rate, and a warning when it keeps falling.

The names below are the whole public interface. They are looked up when they are first used, so
that the command line starts without numpy.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from livemon.app.opened import open_recording
    from livemon.decode.samples import HeartRateSample, OxygenationSample
    from livemon.monitor.athlete import Monitor
    from livemon.monitor.changes import Slipped, WarningOff, WarningOn, WarningRaised
    from livemon.monitor.snapshot import AthleteSnapshot
    from livemon.warn.priority import Priority

__all__ = [
    "AthleteSnapshot",
    "HeartRateSample",
    "Monitor",
    "OxygenationSample",
    "Priority",
    "Slipped",
    "WarningOff",
    "WarningOn",
    "WarningRaised",
    "open_recording",
]

__version__ = "0.1.0"

_HOME: Final = {
    "AthleteSnapshot": "livemon.monitor.snapshot",
    "HeartRateSample": "livemon.decode.samples",
    "Monitor": "livemon.monitor.athlete",
    "OxygenationSample": "livemon.decode.samples",
    "Priority": "livemon.warn.priority",
    "Slipped": "livemon.monitor.changes",
    "WarningOff": "livemon.monitor.changes",
    "WarningOn": "livemon.monitor.changes",
    "WarningRaised": "livemon.monitor.changes",
    "open_recording": "livemon.app.opened",
}


def __getattr__(name: str) -> Any:  # noqa: ANN401 - whatever the name stands for
    """Import a public name when it is first used."""
    if name not in _HOME:
        raise AttributeError(f"module 'livemon' has no attribute {name!r}")
    return getattr(import_module(_HOME[name]), name)


def __dir__() -> list[str]:
    """List the public names."""
    return [*__all__, "__version__"]
