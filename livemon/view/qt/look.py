"""What every part of the window needs in order to draw: colours, fonts, and may it move?"""

from dataclasses import dataclass

from livemon.view.qt.lettering import Lettering
from livemon.view.theme import Theme


@dataclass(frozen=True, slots=True)
class Look:
    """Handed down from the window; a new one replaces it when the theme changes."""

    theme: Theme
    lettering: Lettering
    motion: bool
