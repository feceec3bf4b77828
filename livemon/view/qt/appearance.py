"""Which theme is seen now: the chosen one, or the system's."""

from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication

from livemon.view.qt.lettering import Lettering
from livemon.view.qt.look import Look
from livemon.view.settings import ThemeChoice, ViewSettings
from livemon.view.theme import DARK, LIGHT, Theme


class Appearance:
    """Turns settings into a look, with one set of fonts for the whole window."""

    def __init__(self) -> None:
        self._lettering = Lettering()

    def look(self, settings: ViewSettings) -> Look:
        """Return the look that these settings ask for, on this system, now."""
        return Look(seen_theme(settings), self._lettering, settings.motion)


def seen_theme(settings: ViewSettings) -> Theme:
    """Return the theme; dark where the system doesn't say."""
    if settings.theme is ThemeChoice.SYSTEM:
        scheme = QGuiApplication.styleHints().colorScheme()
        return LIGHT if scheme is Qt.ColorScheme.Light else DARK
    return LIGHT if settings.theme is ThemeChoice.LIGHT else DARK


def with_other_theme(settings: ViewSettings) -> ViewSettings:
    """Return settings that choose the theme that is not seen now."""
    other = ThemeChoice.LIGHT if seen_theme(settings) is DARK else ThemeChoice.DARK
    return replace(settings, theme=other)
