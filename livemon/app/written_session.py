"""A session whose every event is written down before the core sees it.

What the core tells of warnings goes into the recording, too. Knows neither sensors nor plans, and
asks no clock: whoever feeds it says what time it is.
"""

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Final

from livemon.app.live_ends import Recorder
from livemon.app.warned import warning_lines
from livemon.events import Event, Head
from livemon.monitor.session import Difference, Session, Told
from livemon.monitor.snapshot import SessionSnapshot
from livemon.record.side_lines import SideLine
from livemon.record.warning_lines import Happened, WarningLine

_NS_PER_S: Final = 1e9
#: The journal wants to be looked after about once a second.
_JOURNAL_S: Final = 1.0


class WrittenSession:
    """Keeps one order in the file and in the core.

    Args:
        head: who is there and what they wear.
        journal: writes everything down; None records nothing.
        each_tick: as for `Session`.
        told: takes what each event and tick changed.
    """

    def __init__(
        self,
        head: Head,
        journal: Recorder | None,
        *,
        each_tick: Callable[[Session], None] | None,
        told: Callable[[tuple[Told, ...]], None],
    ) -> None:
        self._session = Session(head, each_tick=each_tick)
        self._journal = journal
        self._journal_due_s = 0.0
        self._told = told
        self._fed = False
        self.latest: SessionSnapshot = self._session.snapshot()

    @property
    def differences(self) -> tuple[Difference, ...]:
        """Where sensors' own descriptions and their adapters differ; any thread may ask."""
        return self._session.differences

    def feed(self, event: Event) -> None:
        """Take the next event: write it down, then feed it."""
        if event.t_ns < self._session.t_ns:
            # Stamped before a tick that was fed meanwhile; the file and the core keep one order.
            event = replace(event, t_ns=self._session.t_ns)
        if self._journal is not None:
            self._journal.append(event, now_s=event.t_ns / _NS_PER_S)
        self._tell(self._session.feed(event))
        self._fed = True

    def advance(self, t_ns: int) -> None:
        """Let the ticks until `t_ns` fall due."""
        before_ns = self._session.t_ns
        self._tell(self._session.advance(t_ns))
        self._fed |= self._session.t_ns != before_ns

    def hand_out(self) -> None:
        """Make a new `latest` if anything came since the one before."""
        if self._fed:
            self.latest = self._session.snapshot()
            self._fed = False

    def handled(self, athlete: str, what: Happened, for_s: float | None = None) -> None:
        """Write down how somebody dealt with the warnings of `athlete`."""
        now_ns = self._session.t_ns
        until_ns = None if for_s is None else now_ns + round(for_s * _NS_PER_S)
        self._note([WarningLine(now_ns, what, athlete, until_ns=until_ns)])

    def look_after(self, now_s: float) -> None:
        """Let the journal see to its file, about once a second."""
        if self._journal is not None and now_s >= self._journal_due_s:
            self._journal.tick(now_s=now_s)
            self._journal_due_s = now_s + _JOURNAL_S

    def close(self, now_s: float) -> None:
        """Close the recording."""
        if self._journal is not None:
            self._journal.close(now_s=now_s)

    def _tell(self, told: tuple[Told, ...]) -> None:
        self._note(warning_lines(told))
        self._told(told)

    def _note(self, lines: Iterable[SideLine]) -> None:
        """Write lines down that are no events."""
        if self._journal is not None:
            for line in lines:
                self._journal.note(line, now_s=self._session.t_ns / _NS_PER_S)
