"""English sentences that are recognised by their form, and said in the language that was chosen.

The core knows no languages: exports, recordings and the command line carry its words in English.
"""

import re
from collections.abc import Mapping, Sequence, Set
from typing import Final

from livemon.tongue import said

ANYTHING: Final = ".+?"
NUMBER: Final = r"[−+-]?[\d.]+"


class Forms:
    """Texts of one part of the core.

    Args:
        plain: what is said as it stands.
        forms: what is said with something in its places; the first that fits is taken.
        places: what can stand in a place, as a regular expression; anything, where it isn't told.
        ours: places of which the core says what stands in them, too.
    """

    __slots__ = ("_ours", "_plain", "_shapes")

    def __init__(
        self,
        plain: Set[str],
        forms: Sequence[str],
        places: Mapping[str, str],
        ours: Set[str],
    ) -> None:
        self._plain, self._ours = plain, ours
        self._shapes = tuple((form, _shape(form, places)) for form in forms)

    def said(self, english: str) -> str:
        """Return it in the language spoken; what isn't known stays as it is."""
        if english in self._plain:
            return said(english)
        for form, shape in self._shapes:
            if found := shape.fullmatch(english):
                return said(form, **self._filled(found.groupdict()))
        return english

    def _filled(self, parts: Mapping[str, str]) -> dict[str, str]:
        return {
            name: self.said(part) if name in self._ours else part for name, part in parts.items()
        }


def _shape(form: str, places: Mapping[str, str]) -> re.Pattern[str]:
    def place(found: re.Match[str]) -> str:
        return f"(?P<{found[1]}>{places.get(found[1], ANYTHING)})"

    return re.compile(re.sub(r"\\{(\w+)\\}", place, re.escape(form)))
