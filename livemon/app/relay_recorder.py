"""A relay's recording: written down first, handed on second, both under the relay's own ids."""

from collections.abc import Callable

from livemon.app.journaling import Journaling
from livemon.app.relay_ids import OwnIds
from livemon.events import Event
from livemon.record.lines import encode_event
from livemon.record.side_lines import SideLine


class RelayRecorder:
    """Fulfils `Recorder`.

    Args:
        wrote: takes each line once it was written, or waits in memory for a full disk.
    """

    def __init__(self, journaling: Journaling, own: OwnIds, wrote: Callable[[bytes], None]) -> None:
        self._journaling = journaling
        self._own = own
        self._wrote = wrote

    def append(self, event: Event, *, now_s: float) -> None:
        """Write `event` down and hand its line on."""
        for owned in self._own.events(event):
            self._journaling.append(owned, now_s=now_s)
            self._wrote(encode_event(owned).encode())

    def note(self, side: SideLine, *, now_s: float) -> None:
        """Write nothing: what a relay would have warned of, nobody was shown."""

    def tick(self, *, now_s: float) -> None:
        """Look after the file."""
        self._journaling.tick(now_s=now_s)

    def close(self, *, now_s: float) -> None:
        """Put everything onto the disk and let go."""
        self._journaling.close(now_s=now_s)
