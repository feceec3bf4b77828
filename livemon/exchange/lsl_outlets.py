"""Outlets of the Lab Streaming Layer: the only file that imports pylsl.

The library keeps a buffer for each reader and drops what a slow one leaves too long, so a push
never waits for anybody. Source: LSL's user guide, "Streams" and "Time synchronization"
(labstreaminglayer.readthedocs.io); content and fields of descriptions as in XDF's "Meta-Data".
"""

from importlib import import_module
from typing import Any, Final

from livemon.errors import UsageError
from livemon.exchange.extra import needed
from livemon.exchange.lsl_streams import Sent, Stream

#: In hundreds of samples, as LSL counts where no rate is declared: ten minutes of an oximeter that
#: sends ten times a second, for a reader that stalls.
_BUFFERED: Final = 60
#: By LSL's convention: readings come when they come.
_IRREGULAR: Final = 0.0


class Outlets:
    """One outlet for each stream, opened when the stream is first told of.

    Raises:
        UsageError: the library is missing; says what to install.
    """

    def __init__(self) -> None:
        self._pylsl = _library()
        self._outlets: dict[Stream, Any] = {}

    def clock_s(self) -> float:
        """Return the library's own clock, which all stamps are on."""
        return float(self._pylsl.local_clock())

    def open(self, stream: Stream) -> None:
        """Let readers find `stream`.

        Raises:
            UsageError: the system gives no more ports or threads.
        """
        if stream in self._outlets:
            return
        channels = len(stream.channels) or 1
        form = "double64" if stream.channels else "string"
        try:
            info = self._pylsl.StreamInfo(
                stream.name, stream.kind, channels, _IRREGULAR, form, stream.source
            )
            _describe(info.desc(), stream)
            self._outlets[stream] = self._pylsl.StreamOutlet(info, 0, _BUFFERED)
        except RuntimeError as error:
            raise UsageError(f"no LSL stream can be opened for {stream.name}: {error}.") from error

    def push(self, sent: Sent, stamp_s: float) -> None:
        """Send one sample with its stamp on the library's clock."""
        self.open(sent.stream)
        self._outlets[sent.stream].push_sample(list(sent.values), stamp_s)

    def close(self) -> None:
        """Take all streams back."""
        self._outlets.clear()


def _describe(element: Any, stream: Stream) -> None:  # noqa: ANN401 - pylsl's, which has no types
    channels = element.append_child("channels")
    for one in stream.channels:
        channel = channels.append_child("channel")
        channel.append_child_value("label", one.label)
        channel.append_child_value("unit", one.unit)
        channel.append_child_value("type", stream.kind)
        channel.append_child_value("about", one.about)
    facts = element.append_child("livemon")
    for key, text in stream.facts:
        facts.append_child_value(key, text)


def _library() -> Any:  # noqa: ANN401 - a module without types
    try:
        return import_module("pylsl")
    except RuntimeError as error:  # how pylsl says that it found no liblsl to load
        raise UsageError(
            "pylsl is installed, but finds no liblsl to load on this computer. Install liblsl for "
            "this system, or set PYLSL_LIB to where it is (docs/lsl.md)."
        ) from error
    except ImportError:
        return needed("pylsl", "livemon[lsl]")
