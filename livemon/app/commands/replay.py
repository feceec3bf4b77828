"""`livemon replay`: watch a recording again, or turn it into JSON lines."""

import argparse
import sys
import time
from collections.abc import Iterator
from typing import Final

from livemon.app.bouts_beside import BoutsBeside
from livemon.app.desk import ReplayDesk
from livemon.app.engine import Engine
from livemon.app.find_recording import named_recording
from livemon.app.headless import changes_of, printed, snapshots_of
from livemon.app.lsl_feed import LslFeed
from livemon.app.lsl_option import add_lsl_options, replay_lsl, told_to, wanted
from livemon.app.options import add_view_options, settings_of
from livemon.app.options import speed as speed_in
from livemon.app.replay import Replay
from livemon.app.show import Wishes, watch, window_possible
from livemon.errors import RecordingError, UsageError
from livemon.events import Event
from livemon.monitor.session import Session
from livemon.record.reader import Recording
from livemon.tongue import said
from livemon.view.difference_words import difference_words

_REAL_TIME: Final = 1.0


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what can stand behind the command."""
    parser.add_argument("recording", metavar="RECORDING", help="a file, or its name in the library")
    parser.add_argument(
        "--speed", type=speed_in, default=argparse.SUPPRESS, metavar="N",
        help="times real time, or max (default 1 on a screen, max for JSON lines)",
    )  # fmt: skip
    add_view_options(parser)
    add_lsl_options(parser)
    lines = parser.add_mutually_exclusive_group()
    lines.add_argument(
        "--json", action="store_true", help="print each change as a JSON line instead"
    )
    lines.add_argument(
        "--snapshots", action="store_true", help="print the state at every tick as a JSON line"
    )


def run(arguments: argparse.Namespace) -> int:
    """Do it; return the exit code."""
    recording = named_recording(arguments.recording)
    if wanted(arguments) and (arguments.json or arguments.snapshots):
        raise UsageError("--lsl plays a recording as text or in the window: leave --json out.")
    if arguments.json or arguments.snapshots:
        lines = changes_of if arguments.json else snapshots_of
        events = paced(recording.events(), vars(arguments).get("speed"))
        printed(lines(recording.head, not_empty(recording, events)), sys.stdout.write)
        _tell_problems(recording)
        return 0
    lsl = replay_lsl(arguments, recording.head)
    speed = vars(arguments).get("speed", _REAL_TIME)
    try:
        code = watch_recording(recording, arguments, speed, lsl)
    finally:
        if lsl is not None:
            lsl.stop()
    _tell_problems(recording)
    return code


def watch_recording(
    recording: Recording,
    arguments: argparse.Namespace,
    speed: float | None,
    lsl: LslFeed | None = None,
) -> int:
    """Play a recording on the screen and to `lsl`, `speed` times as fast; return the exit code."""
    session = Session(recording.head)
    replay = Replay(
        session,
        not_empty(recording, recording.events()),
        speed=speed,
        now_s=time.monotonic,
        heard=(lambda _: None) if lsl is None else lsl.heard,
        told=told_to(lsl),
    )
    engine = Engine(replay)
    desk = ReplayDesk(engine, replay)
    wishes = Wishes(
        window=window_possible(not arguments.no_window),
        settings=settings_of(arguments),
        every_s=arguments.every,
        notices=lambda: (
            _pace(replay.speed),
            *(() if lsl is None else lsl.notices()),
            *difference_words(session.differences),
        ),
        bouts=BoutsBeside(recording.path, growing=False),
    )
    return watch(engine, desk, wishes, replay=desk)


def not_empty(recording: Recording, events: Iterator[Event]) -> Iterator[Event]:
    """Pass events on.

    Raises:
        RecordingError: there is none: the file holds a head and nothing else.
    """
    any_event = False
    for event in events:
        any_event = True
        yield event
    if not any_event:
        raise RecordingError(str(recording.path), "", "it holds no events; nothing was recorded")


def paced(events: Iterator[Event], speed: float | None) -> Iterator[Event]:
    """Pass events on at their own pace, `speed` times as fast; at once where that is None."""
    if speed is None:
        yield from events
        return
    start_s = time.monotonic()
    for event in events:
        wait_s = event.t_ns / 1e9 / speed - (time.monotonic() - start_s)
        if wait_s > 0:
            sys.stdout.flush()
            time.sleep(wait_s)
        yield event


def _pace(speed: float | None) -> str:
    return (
        said("replay at full speed")
        if speed is None
        else said("replay ×{speed}", speed=f"{speed:g}")
    )


def _tell_problems(recording: Recording) -> None:
    if text := recording.problems.words():
        print(f"{recording.path}: {text}", file=sys.stderr)
