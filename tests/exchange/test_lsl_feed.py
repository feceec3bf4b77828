"""LSL beside a session: it never holds the session up, and says when it can't send."""

import argparse
import asyncio
import sys
from collections.abc import Iterator
from pathlib import Path
from threading import Event as Gate

import pytest
from known_session import EVENTS, HEAD, S, known_recording
from lsl_loopback import WAIT_S, inlet_of, loopback_lsl

from livemon.app.cli import main
from livemon.app.lsl_feed import LslFeed
from livemon.app.lsl_option import HeardToo, add_lsl_options, live_lsl, replay_lsl, told_to
from livemon.app.replay import Replay
from livemon.errors import UsageError
from livemon.events import Mark, Notification
from livemon.exchange.lsl_markers import Markers
from livemon.exchange.lsl_streams import Origin, ReadingStreams, Sent, Stream
from livemon.link.simulated.virtual_loop import run_virtually
from livemon.monitor.session import Session
from livemon.record.reader import open_recording

ORIGIN = Origin("known", HEAD.started_utc)
HEARD = tuple(event for event in EVENTS if isinstance(event, Notification))


class Kept:
    """Outlets that keep what they are given, and can be held like a reader that hangs."""

    def __init__(self, failure: UsageError | None = None) -> None:
        self.sent: list[Sent] = []
        self.stamps: list[float] = []
        self.closed = Gate()
        self.go = Gate()
        self._failure = failure

    def open(self, stream: Stream) -> None:
        """Find it open."""

    def push(self, sent: Sent, stamp_s: float) -> None:
        """Wait until one may go on."""
        assert self.go.wait(WAIT_S)
        if self._failure is not None:
            raise self._failure
        self.sent.append(sent)
        self.stamps.append(stamp_s)

    def close(self) -> None:
        """Note it."""
        self.closed.set()


def feed_to(outlets: Kept, room: int = 1000) -> LslFeed:
    feed = LslFeed(
        ReadingStreams(HEAD, ORIGIN), Markers(ORIGIN), outlets, lambda t_ns: t_ns / S, room=room
    )
    feed.start()
    return feed


def test_a_hanging_reader_holds_nobody_up_and_only_readings_are_dropped() -> None:
    outlets = Kept()
    feed = feed_to(outlets, room=10)

    for event in HEARD[:200]:
        feed.heard(event)
    feed.heard(Mark(5 * S, "m1", "a1", "note"))
    dropped = feed.dropped
    outlets.go.set()
    feed.stop()

    assert dropped in {189, 190}  # one may be in the thread's hands
    assert feed.notices() == (f"LSL on; {dropped} readings dropped",)
    assert outlets.sent[-1].stream.kind == "Markers"


def test_what_waits_is_sent_before_the_end() -> None:
    outlets = Kept()
    outlets.go.set()
    feed = feed_to(outlets)
    for event in HEARD[:4]:
        feed.heard(event)
    feed.stop()

    assert outlets.closed.is_set()
    assert outlets.stamps == sorted(outlets.stamps)
    assert {sent.stream.kind for sent in outlets.sent} == {
        "heart_rate", "rr_intervals", "intensity", "oxygenation",
    }  # fmt: skip


def test_a_stream_that_can_not_be_opened_is_said_and_ends_only_lsl() -> None:
    outlets = Kept(UsageError("no LSL stream can be opened."))
    outlets.go.set()
    feed = feed_to(outlets)
    feed.heard(HEARD[0])
    assert outlets.closed.wait(WAIT_S)
    feed.stop()
    feed.heard(HEARD[1])

    assert feed.notices() == ("LSL: nothing is sent any more: no LSL stream can be opened.",)


def arguments_of(*words: str) -> argparse.Namespace:
    parser = argparse.ArgumentParser()
    add_lsl_options(parser)
    return parser.parse_args(words)


def test_live_samples_are_stamped_with_their_arrival_on_the_librarys_clock() -> None:
    pylsl = loopback_lsl()
    before_s = pylsl.local_clock()
    feed = live_lsl(arguments_of("--lsl"), HEAD, lambda: 40 * S)  # the session is 40 s old
    assert feed is not None
    after_s = pylsl.local_clock()
    recorder = HeardToo(None, feed)
    inlet = inlet_of("livemon/marks")

    recorder.append(Mark(41 * S, "m1", "a1", "note"), now_s=41.0)

    _, stamp_s = inlet.pull_sample(WAIT_S)
    feed.stop()
    assert before_s + 1.0 <= stamp_s <= after_s + 1.0


def test_a_replay_sends_the_marks_of_its_recording(tmp_path: Path) -> None:
    loopback_lsl()
    recording = open_recording(known_recording(tmp_path))
    feed = replay_lsl(arguments_of("--lsl"), recording.head)
    assert feed is not None
    inlet = inlet_of("livemon/replay/known/marks")
    session = Session(recording.head)

    async def play() -> None:
        now_s = asyncio.get_running_loop().time
        events = recording.events()
        replay = Replay(
            session, events, speed=None, now_s=now_s, heard=feed.heard, told=told_to(feed)
        )
        await replay.run()

    run_virtually(play())
    texts = [inlet.pull_sample(WAIT_S)[0][0] for _ in range(7)]
    feed.stop()
    assert [text.partition('"mark":"')[2][:2] for text in texts] == [f"m{n}" for n in range(1, 8)]
    assert "knee" not in "".join(texts)


@pytest.fixture
def no_pylsl() -> Iterator[None]:
    """Python's own way to say that a module can't be imported."""
    before = sys.modules.get("pylsl")
    sys.modules["pylsl"] = None  # type: ignore[assignment] - documented to block the import
    yield
    del sys.modules["pylsl"]
    if before is not None:
        sys.modules["pylsl"] = before


@pytest.mark.usefixtures("no_pylsl")
def test_without_the_library_one_is_told_what_to_install(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["replay", str(known_recording(tmp_path)), "--lsl", "--no-window"]) == 2

    assert "pip install 'livemon[lsl]'" in " ".join(capsys.readouterr().err.split())


def test_lines_and_streams_exclude_each_other(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["replay", str(known_recording(tmp_path)), "--lsl", "--json"]) == 2

    assert "--json" in capsys.readouterr().err
