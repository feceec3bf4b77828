"""What is heard while the window is open: warnings that call, and steps of a plan."""

from collections.abc import Callable
from typing import Final

from livemon.tongue import marked, said
from livemon.view.cue import CUE_OF, Cue
from livemon.view.qt.voice import Voice
from livemon.view.settings import ViewSettings
from livemon.view.sounding import Sounding
from livemon.view.spoken_warning import spoken_warning
from livemon.view.step_cue import StepCue
from livemon.view.viewer import Viewer

_TRIED: Final = {
    Cue.CAUTION: marked("This is how a caution sounds."),
    Cue.DRAIN: marked("This is how a drain sounds."),
    Cue.STEP: marked("This is how a step sounds."),
}


class Hearing:
    """Looks at every refresh whether something is to be heard.

    Args:
        play: lets a cue be heard.
        say: speaks a sentence; None uses what the system has.
    """

    def __init__(self, play: Callable[[Cue], None], say: Callable[[str], None] | None) -> None:
        self._voice = Voice()
        self._play, self._say = play, say or self._voice.say
        self._sounding = Sounding()
        self._steps = StepCue()

    def look(self, viewer: Viewer, settings: ViewSettings, now_s: float) -> None:
        """Let be heard what has begun; a warning goes before a step of a plan."""
        self._steps, step = self._steps.next(viewer.lanes, viewer.muted)
        if not settings.sound:
            return
        self._sounding, heard = self._sounding.next(viewer.conduct, now_s, viewer.muted)
        if heard is not None:
            self._play(CUE_OF[heard])
            words = spoken_warning(viewer.conduct, viewer.lanes, viewer.muted)
        elif step:
            self._play(Cue.STEP)
            words = step
        else:
            return
        if settings.speech:
            self._say(words)

    def troubles(self, settings: ViewSettings) -> tuple[str, ...]:
        """Return why nothing can be spoken although it is wanted."""
        wanted = settings.sound and settings.speech
        return (self._voice.trouble,) if wanted and self._voice.trouble else ()

    def try_out(self, cue: Cue, settings: ViewSettings) -> None:
        """Let a cue be heard once, whatever is going on."""
        self._play(cue)
        if settings.speech:
            self._say(said(_TRIED[cue]))
