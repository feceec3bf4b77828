"""Show a running engine: in the window where there can be one, else as text in the terminal."""

import os
import shutil
import signal
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass, field

from livemon.app.awake import Awake
from livemon.app.bouts_beside import BoutsBeside
from livemon.app.engine import Engine
from livemon.app.pauses import pass_over_what_is_there, visit_all_again
from livemon.app.places import settings_folder
from livemon.app.view_file import load_size, save_size, save_view
from livemon.errors import LivemonError
from livemon.tongue import said
from livemon.view.commands import Commands, Marks, ReplayCommands
from livemon.view.handling import Handling
from livemon.view.invitation import InvitationModel
from livemon.view.kit_commands import KitCommands
from livemon.view.plan_commands import PlanCommands
from livemon.view.qt.availability import why_no_window
from livemon.view.settings import ViewSettings
from livemon.view.terminal.plain import plain
from livemon.view.terminal.run import Terminal, run_terminal


@dataclass(frozen=True, slots=True)
class Wishes:
    """How somebody wants to watch.

    Attributes:
        window: the window, and not text in the terminal; see `window_possible`.
        every_s: without a terminal to draw in, how often a line is written.
        notices: words of the program itself, shown at the edge.
        bouts: opens the recording for the Bouts page; None if there is none.
        invitation: how relays join; None if they can't.
    """

    window: bool = True
    settings: ViewSettings = field(default_factory=ViewSettings)
    every_s: float = 10.0
    notices: Callable[[], tuple[str, ...]] = tuple
    bouts: BoutsBeside | None = None
    invitation: Callable[[], InvitationModel] | None = None


def window_possible(wanted: bool) -> bool:
    """Return whether to open the window: if it is wanted and can be; if it can't, say why."""
    obstacle = why_no_window(os.environ) if wanted else None
    if obstacle is not None:
        print(f"{obstacle}\nHere is the same as text.", file=sys.stderr)
    return wanted and obstacle is None


def watch(
    engine: Engine,
    commands: Commands,
    wishes: Wishes,
    *,
    replay: ReplayCommands | None = None,
    marks: Marks | None = None,
    kit: KitCommands | None = None,
    plans: PlanCommands | None = None,
    handled: Callable[[Handling], None] | None = None,
) -> int:
    """Start the engine, show it until somebody closes it or it ends; return the exit code.

    Raises:
        LivemonError: what the engine could not do.
    """
    engine.start()
    try:
        if wishes.window:
            _watch_window(engine, commands, wishes, replay, marks, kit, plans, handled)
        else:
            pass_over_what_is_there()
            _watch_terminal(engine, wishes)
    finally:
        visit_all_again()
        engine.stop()
        if wishes.bouts is not None:
            wishes.bouts.close()
    if engine.failure is not None:
        raise engine.failure
    return 0


def _watch_window(
    engine: Engine,
    commands: Commands,
    wishes: Wishes,
    replay: ReplayCommands | None,
    marks: Marks | None,
    kit: KitCommands | None,
    plans: PlanCommands | None,
    handled: Callable[[Handling], None] | None,
) -> None:
    from livemon.view.qt.application import run_window  # Qt only where there is a screen for it

    folder, awake = settings_folder(), Awake()
    try:
        run_window(
            engine.latest,
            commands,
            wishes.settings,
            replay=replay,
            marks=marks,
            kit=kit,
            plans=plans,
            bouts=None if wishes.bouts is None else wishes.bouts.open,
            invitation=wishes.invitation,
            handled=handled,
            awake=None if replay is not None else awake.keep,
            notices=lambda: _notices(engine, wishes),
            chosen=lambda settings: save_view(folder, settings),
            size=load_size(folder),
            remember=lambda size: save_size(folder, size),
            shown=lambda _: pass_over_what_is_there(),
        )
    finally:
        awake.let_go()


def _notices(engine: Engine, wishes: Wishes) -> tuple[str, ...]:
    if engine.failure is None:
        return wishes.notices()
    if isinstance(engine.failure, LivemonError):
        return (str(engine.failure),)
    return (said("livemon made a mistake and has stopped; close it to see what"),)


def _watch_terminal(engine: Engine, wishes: Wishes) -> None:
    terminal = Terminal(
        write=_write,
        size=_size,
        clock=time.monotonic,
        wait=engine.wait,
        draws=sys.stdout.isatty(),
        encode=_encoding(sys.stdout.encoding or "ascii"),
    )
    before = signal.signal(signal.SIGTERM, signal.default_int_handler)  # ends it in good order too
    try:
        run_terminal(
            engine.latest,
            lambda: not engine.running,
            terminal,
            wishes.settings,
            every_s=wishes.every_s,
            notices=lambda: _notices(engine, wishes),
        )
    except KeyboardInterrupt:
        return  # the usual way to end it
    finally:
        signal.signal(signal.SIGTERM, before)


def _size() -> tuple[int, int]:
    columns, lines = shutil.get_terminal_size()
    return columns, lines


def _write(text: str) -> None:
    sys.stdout.write(text)
    sys.stdout.flush()


def _encoding(name: str) -> Callable[[str], str]:
    """Return what makes text fit for an output of this encoding."""
    try:
        "▁█╱▲″₂–".encode(name)
    except (UnicodeEncodeError, LookupError):
        return plain
    return str
