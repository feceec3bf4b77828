"""Every line arrives once and in order, whatever the way between does to messages.

The relay's and the hub's halves are put together over a link that loses, doubles, delays and
reorders, and that breaks; either side restarts. Hypothesis chooses what happens.
"""

from hypothesis import example, given, settings
from hypothesis import strategies as st

from livemon.net.batch import MAX_LINES, Batch
from livemon.net.fresh_lines import FreshLines
from livemon.net.inlet import Inlet
from livemon.net.outlet import PATIENCE_NS, WINDOW_LINES, Outlet

MS = 1_000_000
S = 1_000_000_000
SESSION = "s1"


class Pair:
    """A relay, a hub, and messages between them."""

    def __init__(self) -> None:
        self.now_ns = 0
        self.journal: list[bytes] = []
        self.outlet, self.fresh = Outlet(), FreshLines()
        self.inlet = Inlet(SESSION)
        self.kept: list[bytes] = []
        self.shown: list[bytes] = []
        self.to_hub: list[tuple[bool, Batch]] = []
        self.to_relay: list[int] = []

    def write(self, count: int) -> None:
        for _ in range(count):
            line = str(len(self.journal) + 1).encode()
            self.journal.append(line)
            self.fresh.put(line, self.now_ns)
        self.outlet.wrote(count, self.now_ns)

    def relay_sends(self) -> None:
        while taken := self.fresh.take(self.now_ns):
            self.to_hub.append((True, self.batch(*taken)))
        while numbers := self.outlet.next_fill(self.now_ns):
            lines = tuple(self.journal[n - 1] for n in numbers)
            self.to_hub.append((False, self.batch(numbers.start, lines)))
            self.outlet.sent(numbers)

    def batch(self, first: int, lines: tuple[bytes, ...]) -> Batch:
        return Batch(SESSION, first, self.now_ns, 0, lines)

    def hub_takes(self, position: int) -> None:
        if self.to_hub:
            live, batch = self.to_hub.pop(position % len(self.to_hub))
            self.kept += self.inlet.keep(batch)
            if live:
                self.shown += self.inlet.show(batch)[0]

    def hub_speaks(self) -> None:
        self.to_relay.append(self.inlet.stored)

    def relay_hears(self, position: int) -> None:
        if self.to_relay:
            stored = self.to_relay.pop(position % len(self.to_relay))
            self.outlet.hub_has(stored, self.now_ns)

    def breaks(self) -> None:
        self.to_hub.clear()
        self.to_relay.clear()
        self.outlet.disconnected()

    def relay_restarts(self) -> None:
        """It finds its recording again, and nothing else."""
        self.breaks()
        self.outlet = Outlet(len(self.journal))
        self.fresh = FreshLines(len(self.journal) + 1)

    def hub_restarts(self) -> None:
        """It finds again what it kept; the core begins anew."""
        self.breaks()
        self.inlet = Inlet(SESSION, len(self.kept))
        self.shown.clear()

    def all_is_well(self) -> int:
        """Let everything through until the hub has it all; return how many rounds it took."""
        rounds = 0
        while not self.outlet.complete:
            rounds += 1
            assert rounds < 1000, "it never ends"
            self.relay_sends()
            while self.to_hub:
                self.hub_takes(0)
            self.hub_speaks()
            self.relay_hears(-1)
            self.to_relay.clear()
            self.now_ns += 100 * MS
        return rounds


step = st.one_of(
    st.tuples(st.just("write"), st.integers(1, 300)),
    st.tuples(st.sampled_from(["relay_sends", "hub_speaks"])),
    st.tuples(st.sampled_from(["hub_takes", "relay_hears"]), st.integers(0, 9)),
    st.tuples(st.sampled_from(["breaks", "relay_restarts", "hub_restarts"])),
    st.tuples(st.just("waits"), st.sampled_from([10 * MS, S, PATIENCE_NS, 10 * S])),
    st.tuples(st.sampled_from(["loses", "doubles"]), st.integers(0, 9)),
)


def play(pair: Pair, name: str, *arguments: int) -> None:
    if name == "waits":
        pair.now_ns += arguments[0]
    elif name in {"loses", "doubles"}:
        if pair.to_hub:
            position = arguments[0] % len(pair.to_hub)
            pair.to_hub[position : position + 1] *= 0 if name == "loses" else 2
    else:
        getattr(pair, name)(*arguments)


@settings(max_examples=300)
@example([("write", 1), ("relay_sends",), ("loses", 0), ("write", 1), ("relay_sends",)])
@example([("write", 2), ("relay_sends",), ("doubles", 0), ("hub_takes", 0), ("hub_takes", 0)])
@example([("write", 300), ("breaks",), ("write", 300), ("relay_restarts",)])
@example([("write", 5), ("relay_sends",), ("hub_takes", 0), ("hub_restarts",)])
@given(st.lists(step, max_size=60))
def test_every_line_is_kept_once_and_in_order(steps: list[tuple]) -> None:
    pair = Pair()
    for each in steps:
        play(pair, *each)
        assert pair.kept == pair.journal[: len(pair.kept)]
        numbers = [int(line) for line in pair.shown]
        assert numbers == sorted(set(numbers))

    pair.all_is_well()

    assert pair.kept == pair.journal


def test_without_trouble_nothing_is_sent_twice() -> None:
    pair = Pair()
    pair.hub_speaks()
    pair.relay_hears(0)
    sent = 0
    for second in range(60):
        for _ in range(10):
            pair.write(30)
            pair.relay_sends()
            sent += len(pair.to_hub)
            assert all(live for live, _ in pair.to_hub)
            while pair.to_hub:
                pair.hub_takes(0)
            pair.now_ns += 100 * MS
        del second
        pair.hub_speaks()
        pair.relay_hears(0)

    assert sent == 600
    assert pair.shown == pair.kept == pair.journal


def test_live_lines_are_shown_at_once_while_an_hour_is_filled_in_behind() -> None:
    pair = Pair()
    pair.write(50_000)
    pair.now_ns += 3600 * S
    pair.relay_restarts()
    pair.write(3)
    pair.hub_speaks()
    pair.relay_hears(0)
    pair.relay_sends()

    pair.hub_takes(0)

    assert pair.shown == [b"50001", b"50002", b"50003"]
    assert pair.all_is_well() < 80
    assert pair.kept == pair.journal
    assert pair.shown == [b"50001", b"50002", b"50003"]  # what was filled in never looked live


def test_a_lost_live_message_is_filled_in_after_the_patience_and_not_before() -> None:
    pair = Pair()
    pair.hub_speaks()
    pair.relay_hears(0)
    pair.write(5)
    pair.relay_sends()
    pair.to_hub.clear()

    assert pair.outlet.next_fill(PATIENCE_NS - 1) is None
    assert pair.outlet.next_fill(PATIENCE_NS) == range(1, 6)


def test_a_hub_that_says_nothing_is_sent_nothing_again() -> None:
    outlet = Outlet(written=10)
    assert outlet.next_fill(100 * S) is None

    outlet.hub_has(0, 100 * S)
    assert outlet.next_fill(100 * S) == range(1, 11)
    assert outlet.next_fill(106 * S) is None


def test_a_backlog_goes_out_a_few_batches_at_a_time() -> None:
    outlet = Outlet(written=10_000)
    outlet.hub_has(100, 0)
    sent = []
    while numbers := outlet.next_fill(0):
        sent.append(numbers)
        outlet.sent(numbers)

    assert sent[0] == range(101, 101 + MAX_LINES)
    assert sent[-1].stop == 101 + WINDOW_LINES
    outlet.hub_has(300, 0)
    assert outlet.next_fill(0) == range(101 + WINDOW_LINES, 301 + WINDOW_LINES)


def test_after_a_break_it_goes_on_at_once_where_the_hub_says() -> None:
    outlet = Outlet(written=10)
    outlet.hub_has(0, 0)
    outlet.sent(range(1, 11))
    outlet.disconnected()
    assert outlet.next_fill(0) is None  # the hub has not spoken on this connection

    outlet.hub_has(4, 0)
    assert outlet.next_fill(0) == range(5, 11)


def test_new_lines_are_given_time_to_arrive_before_they_are_sent_again() -> None:
    outlet = Outlet()
    outlet.hub_has(0, 100 * S)
    outlet.wrote(3, 100 * S)

    assert outlet.next_fill(100 * S + PATIENCE_NS - 1) is None
    assert outlet.next_fill(100 * S + PATIENCE_NS) == range(1, 4)


def test_lines_written_during_a_fill_are_part_of_it() -> None:
    """They go out live too, but the hub can't keep those behind its hole."""
    outlet = Outlet(written=10)
    outlet.hub_has(0, 0)
    outlet.wrote(5, 0)

    assert outlet.next_fill(0) == range(1, 16)


def test_what_the_hub_got_meanwhile_is_not_sent_again() -> None:
    outlet = Outlet(written=10)
    outlet.hub_has(2, 0)
    outlet.next_fill(PATIENCE_NS)
    outlet.hub_has(8, PATIENCE_NS)

    assert outlet.next_fill(PATIENCE_NS) == range(9, 11)


def test_a_hub_that_speaks_of_another_recording_changes_nothing() -> None:
    outlet = Outlet(written=10)
    outlet.hub_has(4, 0)
    outlet.hub_has(11, 0)

    assert outlet.stored == 4


def test_a_hub_that_lost_its_disk_is_sent_everything() -> None:
    outlet = Outlet(written=10)
    outlet.hub_has(10, 0)
    assert outlet.complete
    outlet.hub_has(0, 0)

    assert outlet.next_fill(0) == range(1, 11)


def test_what_the_disk_refuses_is_sent_again() -> None:
    inlet = Inlet(SESSION)
    batch = Batch(SESSION, 1, 0, 0, (b"1", b"2"))
    assert inlet.keep(batch) == (b"1", b"2")
    inlet.not_kept(2)

    assert inlet.keep(batch) == (b"1", b"2")


def test_what_was_on_the_disk_already_never_looks_live() -> None:
    """A hub that starts again: a message from before, sent once more, is no news."""
    inlet = Inlet(SESSION, stored=2)

    assert inlet.show(Batch(SESSION, 1, 0, 0, (b"1", b"2", b"3")))[0] == (b"3",)


def test_who_joins_late_has_skipped_nothing() -> None:
    assert Inlet(SESSION).show(Batch(SESSION, 900, 0, 0, (b"900",))) == ((b"900",), 0)


def test_lines_that_can_no_longer_be_shown_are_counted() -> None:
    inlet = Inlet(SESSION)
    one = Batch(SESSION, 1, 0, 0, (b"1",))
    five = Batch(SESSION, 5, 0, 0, (b"5", b"6"))
    inlet.keep(one)

    assert inlet.show(one) == ((b"1",), 0)
    assert inlet.show(five) == ((b"5", b"6"), 3)
    assert inlet.show(five) == inlet.show(one) == ((), 0)  # repeats show nothing
    assert inlet.keep(five) == ()
    assert (inlet.shown, inlet.stored) == (6, 1)
