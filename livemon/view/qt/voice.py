"""Speak short sentences, if Qt's speech is installed and the system has a voice.

It is not among the dependencies, like Qt's multimedia: both come with PySide6-Addons, which is
large. Nothing depends on it.
"""

from typing import Final, Protocol

from livemon.tongue import said

#: What to install for sound and speech.
EXTRA: Final = "pip install 'livemon[sound]'"


class Speaker(Protocol):
    """What Qt's speech offers and is used here."""

    def say(self, text: str) -> None:
        """Speak, and return at once."""

    def stop(self) -> None:
        """Break off what is being spoken."""


class Voice:
    """A voice for as long as the window lives; made when it is first wanted."""

    def __init__(self) -> None:
        self._speaker: Speaker | None = None
        self._tried = False
        self.trouble = ""  #: why nothing can be spoken; empty before the first try, and if it can

    def say(self, text: str) -> None:
        """Speak `text` instead of what is being spoken; return at once."""
        if not self._tried:
            self._tried = True
            self._speaker = self._made()
        if self._speaker is not None:
            self._speaker.stop()  # old words about a body are worse than none
            self._speaker.say(text)

    def _made(self) -> Speaker | None:
        try:
            from PySide6.QtTextToSpeech import QTextToSpeech
        except ImportError:  # not installed, or a library of the system is missing
            self.trouble = said("no speech: {why}", why=EXTRA)
            return None
        engine = QTextToSpeech()
        if engine.state() is QTextToSpeech.State.Error:
            self.trouble = said("no speech: {why}", why=engine.errorString())
            return None
        speaker: Speaker = engine
        return speaker
