"""What every session that is recorded begins with, whatever radio it reads."""

import argparse
import sys
from collections.abc import Callable
from datetime import UTC, datetime
from uuid import uuid4

from livemon.app.bouts_beside import BoutsBeside
from livemon.app.desk import LiveDesk
from livemon.app.engine import Engine
from livemon.app.hub_words import SpokenNotices
from livemon.app.journaling import Journaling, recording_path
from livemon.app.kit_desk import KitDesk
from livemon.app.kit_room import KitRoom
from livemon.app.live import Live
from livemon.app.options import settings_of
from livemon.app.places import recordings_folder
from livemon.app.plan_desk import PlanDesk
from livemon.app.show import Wishes, watch
from livemon.app.trainings import Trainings
from livemon.events import Head
from livemon.tongue import said
from livemon.view.difference_words import difference_words
from livemon.view.invitation import InvitationModel


def add_record_options(parser: argparse.ArgumentParser) -> None:
    """Add where to record, and whether."""
    keep = parser.add_mutually_exclusive_group()
    keep.add_argument("--record", metavar="FILE", help="where to record (default: your own folder)")
    keep.add_argument("--no-record", action="store_true", help="write nothing down")


def started_utc() -> str:
    """Return the wall clock as a recording's label."""
    return datetime.now(UTC).isoformat(timespec="seconds")


def new_session() -> str:
    """Return a session's id: random, so that it tells nothing."""
    return uuid4().hex[:8]


def journal_of(arguments: argparse.Namespace, head: Head) -> Journaling | None:
    """Open the recording that is asked for, and say where it is.

    Raises:
        RecordingError: it can't be opened.
    """
    if arguments.no_record:
        return None
    path = recording_path(arguments.record, recordings_folder(), head)
    journal = Journaling(path, head)
    print(f"Recording to {path}", file=sys.stderr)
    return journal


def watch_live(
    live: Live,
    journal: Journaling | None,
    window: bool,
    arguments: argparse.Namespace,
    training: Trainings | None = None,
    kit: KitRoom | None = None,
    *,
    more: Callable[[], tuple[str, ...]] = tuple,
    invitation: Callable[[], InvitationModel] | None = None,
) -> int:
    """Run a live session and show it, with its kit and plans if any; return the exit code.

    `more` are notices beside those of the session itself, `invitation` says how relays join.
    """
    if training is not None and not window:
        training.begin(0.0)  # nobody can press a key there

    def notices() -> tuple[str, ...]:
        recording = said("not recorded") if journal is None else journal.words()
        trouble = said(live.trouble) if live.trouble else ""
        plan = "" if training is None else training.words(live.names)
        differs = difference_words(live.differences)
        return tuple(words for words in (*more(), trouble, *differs, plan, recording) if words)

    if not window:
        live.on_step(SpokenNotices(lambda: difference_words(live.differences), _say).look)
    beside = None if journal is None else BoutsBeside(journal.path, growing=True)
    wishes = Wishes(window, settings_of(arguments), arguments.every, notices, beside, invitation)
    engine = Engine(live)
    desk = LiveDesk(engine, live)
    kit_desk = None if kit is None else KitDesk(kit, engine.call)
    plans = None if training is None else PlanDesk(training, live, engine.call)
    return watch(engine, desk, wishes, marks=desk, kit=kit_desk, plans=plans, handled=desk.handled)


def _say(notice: str) -> None:
    """Say it where no picture in a terminal has it at its foot already."""
    if not sys.stdout.isatty():
        print(notice, file=sys.stderr, flush=True)
