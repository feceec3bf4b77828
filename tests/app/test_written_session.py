"""What is fed is written down first, in one order; snapshots are new only when something came."""

from livemon.app.written_session import WrittenSession
from livemon.events import Athlete, Event, Head, Mark
from livemon.monitor.session import Session, Told
from livemon.record.side_lines import SideLine
from livemon.record.warning_lines import Happened, WarningLine

S = 1_000_000_000
HEAD = Head("2026-11-25T10:00:00+00:00", "s", (Athlete("a1", "Lane 1"),))


class Book:
    """Writes down what happens, in order."""

    def __init__(self) -> None:
        self.lines: list[object] = []

    def append(self, event: Event, *, now_s: float) -> None:
        self.lines.append(event)

    def note(self, side: SideLine, *, now_s: float) -> None:
        self.lines.append(side)

    def tick(self, *, now_s: float) -> None:
        self.lines.append(now_s)

    def close(self, *, now_s: float) -> None:
        self.lines.append("closed")

    def told(self, told: tuple[Told, ...]) -> None:
        self.lines.append("fed")


def written(book: Book) -> WrittenSession:
    return WrittenSession(HEAD, book, each_tick=None, told=book.told)


def mark(t_ns: int) -> Mark:
    return Mark(t_ns, "m1", "a1", "note", (("text", "slow start"),))


def test_it_is_written_down_before_it_is_fed() -> None:
    book = Book()

    written(book).feed(mark(3 * S))

    assert book.lines == [mark(3 * S), "fed"]


def test_what_was_stamped_before_a_tick_takes_the_ticks_time_in_file_and_core() -> None:
    book, ticks = Book(), list[int]()

    def tick(session: Session) -> None:
        ticks.append(session.t_ns)

    session = WrittenSession(HEAD, book, each_tick=tick, told=lambda _: None)
    session.advance(2 * S)
    session.feed(mark(2 * S - 1))

    assert book.lines == [mark(ticks[-1])]
    assert ticks[-1] > 2 * S - 1


def test_a_snapshot_is_new_only_if_something_came() -> None:
    session = written(Book())
    first = session.latest

    session.hand_out()
    assert session.latest is first
    session.feed(mark(1))
    assert session.latest is first
    session.hand_out()
    second = session.latest
    assert second is not first
    session.advance(S)
    session.hand_out()
    assert session.latest is not second


def test_the_journal_is_looked_after_once_a_second_and_closed() -> None:
    book = Book()
    session = written(book)

    for step in range(40):
        session.look_after(step / 20)
    session.close(2.0)

    assert book.lines == [0.0, 1.0, "closed"]


def test_how_warnings_were_dealt_with_is_written_at_the_cores_own_time() -> None:
    book = Book()
    session = written(book)
    session.feed(mark(5 * S))

    session.handled("a1", Happened.ASIDE, 300.0)

    assert book.lines[-1] == WarningLine(5 * S, Happened.ASIDE, "a1", until_ns=305 * S)


def test_without_a_journal_all_the_same_is_fed() -> None:
    session = WrittenSession(HEAD, None, each_tick=None, told=lambda _: None)

    session.feed(mark(5 * S))
    session.handled("a1", Happened.SEEN)
    session.look_after(6.0)
    session.close(6.0)
    session.hand_out()

    assert session.latest.t_s == 5.0
