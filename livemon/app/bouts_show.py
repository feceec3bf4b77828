"""Open the window of the Bouts page and stay until it is closed."""

from livemon.app.bouts_desk import BoutsDesk, BoutsWish
from livemon.app.places import settings_folder
from livemon.app.view_file import load_view


def show_bouts(wish: BoutsWish) -> int:
    """Show the window; return the exit code.

    Raises:
        UsageError: the installed Qt binding would end the process.
        ConfigError: the settings file is wrong.
    """
    # Qt only where there is a screen for it.
    from livemon.view.qt.application import speak_as_wished
    from livemon.view.qt.bouts_run import run_bouts

    desk = BoutsDesk(wish)
    settings = load_view(settings_folder())
    damaged = speak_as_wished()  # before the first recording is read: its day is told in words
    desk.start()
    try:
        return run_bouts(desk, settings, damaged=damaged)
    finally:
        desk.stop()
