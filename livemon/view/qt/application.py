"""Run the window until it is closed, by its frame or by Ctrl-C."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QApplication

from livemon.tongue import LANGUAGES, said, speak, wished
from livemon.view.commands import Commands, Marks, ReplayCommands
from livemon.view.handling import Handling
from livemon.view.invitation import InvitationModel
from livemon.view.kit_commands import KitCommands
from livemon.view.plan_commands import PlanCommands
from livemon.view.qt.bouts_stand import OpenBouts
from livemon.view.qt.until_closed import run_until_closed, sane_application
from livemon.view.qt.window import Latest, LiveWindow
from livemon.view.settings import ViewSettings

#: A common laptop screen, less its frame and bars.
_FIRST_SIZE = (1280, 720)


def run_window(
    latest: Latest,
    commands: Commands,
    settings: ViewSettings | None = None,
    *,
    replay: ReplayCommands | None = None,
    marks: Marks | None = None,
    kit: KitCommands | None = None,
    plans: PlanCommands | None = None,
    bouts: OpenBouts | None = None,
    invitation: Callable[[], InvitationModel] | None = None,
    handled: Callable[[Handling], None] | None = None,
    awake: Callable[[bool], str] | None = None,
    notices: Callable[[], tuple[str, ...]] = tuple,
    chosen: Callable[[ViewSettings], None] = lambda settings: None,
    size: tuple[int, int] | None = None,
    remember: Callable[[tuple[int, int]], None] = lambda size: None,
    shown: Callable[[LiveWindow], None] = lambda window: None,
    languages: Path = LANGUAGES,
) -> int:
    """Show the window and return the exit code when it has closed.

    Must be called in the main thread. An error while drawing takes the numbers off the screen and
    is raised again after the window has closed.

    Args:
        latest: the newest snapshot; called in this thread ten times a second.
        settings: what may be chosen about the screen.
        commands: carries out what people ask for; `stop` is called once, when the window closes.
        replay: for a recording, what only a recording can do.
        marks: takes what is typed; without it only notes can be.
        kit: looks after the sensors; without it there is no Kit page.
        plans: has plans to choose from; without it none can be chosen.
        bouts: opens the recording for the Bouts page; without it there is none to open.
        invitation: how relays join; without it they can't.
        handled: told how somebody dealt with warnings.
        awake: keeps the screen on, or no longer; returns why it may go dark all the same.
        notices: words of the program itself, shown at the edge.
        chosen: told the settings whenever a person changes them, to be remembered.
        size: of the window, as remembered; None for the first time.
        remember: told the size when the window closes.
        shown: told once the window is on the screen.
        languages: folder of the translations.

    Raises:
        UsageError: the installed Qt binding would end the process.
    """
    application = sane_application()
    damaged = speak_as_wished(languages)
    window = LiveWindow(
        latest,
        commands,
        settings or ViewSettings(),
        replay=replay,
        marks=marks,
        kit=kit,
        plans=plans,
        bouts=bouts,
        invitation=invitation,
        handled=handled,
        awake=awake,
        notices=lambda: (*damaged, *notices()),
        chosen=chosen,
    )
    window.resize(*_visible(application, size or _FIRST_SIZE))
    return run_until_closed(
        application,
        window,
        shown=lambda: shown(window),
        failed=lambda error: window.show_failure(f"{type(error).__name__}: {error}"),
        closed=lambda: remember((window.width(), window.height())),
    )


def speak_as_wished(languages: Path = LANGUAGES) -> tuple[str, ...]:
    """Speak the language that the environment asks for; return what is wrong with its file."""
    damaged: list[str] = []
    speak(wished(languages, damaged=damaged.append))
    return tuple(
        said("translation {language} is damaged and not used", language=one) for one in damaged
    )


def _visible(application: QApplication, size: tuple[int, int]) -> tuple[int, int]:
    """Return a size that fits the screen; a place can't be restored everywhere, a size can."""
    room = application.primaryScreen().availableGeometry()
    return min(size[0], room.width()), min(size[1], room.height())
