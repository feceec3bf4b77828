"""Draw the terminal view again and again until told to stop. All input and output is handed in."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from livemon.monitor.snapshot import SessionSnapshot
from livemon.view import waiting
from livemon.view.present import present
from livemon.view.settings import ViewSettings
from livemon.view.standstill import Pulse, pace_now
from livemon.view.terminal.cells import fitted
from livemon.view.terminal.foot import footed
from livemon.view.terminal.picture import picture, status_line
from livemon.view.terminal.roll import roll
from livemon.warn.priority import Priority

#: Twice a second is enough for the eye and spares a slow line.
_REDRAW_S: Final = 0.5
_ENTER: Final = "\x1b[?1049h\x1b[?25l"  # second screen, no cursor
_LEAVE: Final = "\x1b[?25h\x1b[?1049l"
_HOME: Final = "\x1b[H"
_REST_EMPTY: Final = "\x1b[J"


@dataclass(frozen=True, slots=True)
class Terminal:
    """What the terminal view needs of the world.

    Attributes:
        write: puts text out at once.
        size: columns and lines.
        clock: seconds from any origin.
        wait: lets so many seconds pass, or fewer when it is time to stop.
        draws: whether lines can be drawn over; a file or a pipe can't.
        encode: makes text fit for the terminal, see `plain`.
    """

    write: Callable[[str], object]
    size: Callable[[], tuple[int, int]]
    clock: Callable[[], float]
    wait: Callable[[float], object]
    draws: bool
    encode: Callable[[str], str] = str


def run_terminal(
    latest: Callable[[], SessionSnapshot | None],
    stop: Callable[[], bool],
    terminal: Terminal,
    settings: ViewSettings | None = None,
    *,
    every_s: float = 10.0,
    notices: Callable[[], tuple[str, ...]] = tuple,
) -> None:
    """Show what `latest` gives until `stop` says so or the session has ended.

    Args:
        latest: the newest snapshot, or None before the first.
        stop: asked before each drawing.
        terminal: see there.
        settings: how much of the past, and what counts as a low battery.
        every_s: where lines can't be drawn over, how often one is written; a change of a warning
            is written at once, and so is what a plan announces, and how the session ended.
        notices: words of the program itself, drawn at the foot; a file or a pipe has none.
    """
    chosen = settings or ViewSettings()
    if terminal.draws:
        _draw(latest, stop, terminal, chosen, notices)
    else:
        _print(latest, stop, terminal, chosen, every_s)


def screen(
    snapshot: SessionSnapshot | None,
    settings: ViewSettings,
    size: tuple[int, int],
    still_s: float = 0.0,
    notices: tuple[str, ...] = (),
) -> tuple[str, ...]:
    """Return all lines of the screen, no more than fit: what is seen, and `notices` at the foot."""
    width, height = size
    foot = footed(notices, width, height)
    return *_body(snapshot, settings, (width, height - len(foot)), still_s), *foot


def _body(
    snapshot: SessionSnapshot | None, settings: ViewSettings, size: tuple[int, int], still_s: float
) -> tuple[str, ...]:
    width, height = size
    if snapshot is None or not snapshot.lanes:
        words = (waiting.TITLE, "", *waiting.STEPS, "", waiting.CAUTION)
        return tuple(fitted(line, width) for line in words)[:height]
    if len(snapshot.lanes) > 1:
        return roll(snapshot, settings, width, still_s)[:height]
    model = pace_now(present(snapshot.lanes[0], settings), snapshot, still_s, held=False)
    return picture(model, width)[:height]


def _draw(
    latest: Callable[[], SessionSnapshot | None],
    stop: Callable[[], bool],
    terminal: Terminal,
    settings: ViewSettings,
    notices: Callable[[], tuple[str, ...]],
) -> None:
    pulse = Pulse()
    snapshot: SessionSnapshot | None = None
    terminal.write(_ENTER)
    try:
        while not stop() and not (snapshot is not None and snapshot.ended):
            snapshot = latest()
            still_s = 0.0 if snapshot is None else pulse.still_for(snapshot.t_s, terminal.clock())
            lines = screen(snapshot, settings, terminal.size(), still_s, notices())
            terminal.write(_HOME + terminal.encode("\r\n".join(lines)) + _REST_EMPTY)
            terminal.wait(_REDRAW_S)
    finally:
        terminal.write(_LEAVE)


def _print(
    latest: Callable[[], SessionSnapshot | None],
    stop: Callable[[], bool],
    terminal: Terminal,
    settings: ViewSettings,
    every_s: float,
) -> None:
    due_s = terminal.clock()
    said: dict[str, tuple[Priority | None, bool]] = {}
    written_s: float | None = None
    snapshot: SessionSnapshot | None = None
    while not stop() and not (snapshot is not None and snapshot.ended):
        snapshot = latest()
        now_s = terminal.clock()
        for lane in () if snapshot is None else snapshot.lanes:
            model = present(lane, settings)
            watch = model.watch
            urgency, announced = said.get(lane.athlete, (None, False))
            new = watch.priority is not urgency or (watch.announces and not announced)
            if now_s >= due_s or new:
                terminal.write(terminal.encode(status_line(model)) + "\n")
                written_s = snapshot.t_s if snapshot is not None else None
            said[lane.athlete] = watch.priority, watch.announces
        if now_s >= due_s:
            due_s = now_s + every_s
        terminal.wait(_REDRAW_S)
    last = latest()
    if last is not None and last.t_s != written_s:
        for lane in last.lanes:
            terminal.write(terminal.encode(status_line(present(lane, settings))) + "\n")
