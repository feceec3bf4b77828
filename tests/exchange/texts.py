"""Texts in memory that stay readable after they were closed, and rows of the known session."""

from collections.abc import Callable
from io import BytesIO, StringIO

from known_session import EVENTS, HEAD

from livemon.exchange.rows import Wish, rows_of
from livemon.exchange.sink import Sink
from livemon.monitor.session import Session, Told


class Kept(StringIO):
    """A text whose content outlives its closing."""

    content = ""

    def close(self) -> None:
        self.content = self.getvalue()
        super().close()


class KeptBytes(BytesIO):
    """Bytes that outlive their closing."""

    content = b""

    def close(self) -> None:
        if not self.closed:
            self.content = self.getvalue()
        super().close()


def told() -> list[Told]:
    """Return what a session says of the known events."""
    session = Session(HEAD)
    return [one for event in EVENTS for one in session.feed(event)]


def export_to(sink: Sink, wish: Wish | None = None, more: Callable[[], list[Told]] = told) -> None:
    """Put all rows of the known session into `sink`."""
    for table, row in rows_of(HEAD, EVENTS, wish or Wish(), more):
        sink.put(table, row)
    sink.close()
