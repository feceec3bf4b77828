"""Play the chimes, with what the system has: Qt's multimedia if installed, else its beep.

Qt's multimedia is not among the dependencies: it is large, and often lacks what it needs on the
system (`pip install 'livemon[sound]'` brings it). A warning never depends on it.
"""

from pathlib import Path
from typing import Protocol

from PySide6.QtCore import QTemporaryDir, QUrl
from PySide6.QtWidgets import QApplication

from livemon.view.chime import chime
from livemon.view.cue import Cue


class Player(Protocol):
    """What can be started."""

    def play(self) -> None:
        """Start, and return at once."""


class Sound:
    """Chimes for as long as the window lives."""

    def __init__(self) -> None:
        self._folder = QTemporaryDir()  # the player only takes files
        self._effects: dict[Cue, Player] | None = None

    def play(self, cue: Cue) -> None:
        """Let the chime of this cue be heard; return at once."""
        if self._effects is None:  # made when first wanted: loading takes a while
            self._effects = self._made()
        effect = self._effects.get(cue)
        if effect is None:
            QApplication.beep()
        else:
            effect.play()

    def _made(self) -> dict[Cue, Player]:
        try:
            from PySide6.QtMultimedia import QSoundEffect
        except ImportError:  # not installed, or a library of the system is missing
            return {}
        effects: dict[Cue, Player] = {}
        for cue in Cue:
            path = Path(self._folder.path()) / f"{cue.value}.wav"
            path.write_bytes(chime(cue))
            effect = QSoundEffect()
            effect.setSource(QUrl.fromLocalFile(str(path)))
            effects[cue] = effect
        return effects
