"""What is shown, in the language that was chosen: English texts are looked up when they are shown.

The language is one setting of the whole process, made before anything is shown. Handing it in would
give every function that words something one more argument, and no screen shows two languages.
"""

import gettext
import struct
from collections.abc import Callable
from pathlib import Path
from typing import Final

LANGUAGES: Final = Path(__file__).parent / "languages"
ENGLISH: Final = gettext.NullTranslations()

#: What gettext raises for a file that is cut off, overwritten, or names no charset or plural.
_DAMAGE: Final = (OSError, ValueError, LookupError, struct.error)

_spoken: list[gettext.NullTranslations] = [ENGLISH]


def speak(language: gettext.NullTranslations) -> None:
    """Show all that follows in `language`; to be called before anything is shown."""
    _spoken[0] = language


def wished(
    folder: Path = LANGUAGES, *, damaged: Callable[[str], None] = lambda language: None
) -> gettext.NullTranslations:
    """Return the language that LANGUAGE, LC_ALL, LC_MESSAGES or LANG ask for, else English.

    `damaged` is told each language asked for whose file can't be read; the next one takes its
    place, and no screen stays away for it.
    """
    found: gettext.NullTranslations | None = None
    for name in gettext.find("livemon", folder, all=True):
        path = Path(name)
        try:
            with path.open("rb") as file:
                read = gettext.GNUTranslations(file)
        except _DAMAGE:
            damaged(path.parents[1].name)
            continue
        if found is None:
            found = read
        else:
            found.add_fallback(read)
    return ENGLISH if found is None else found


def spoken_language() -> str:
    """Return the tag of the language spoken, as HTML wants it; empty where its file names none."""
    if _spoken[0] is ENGLISH:
        return "en"
    return _spoken[0].info().get("language", "").replace("_", "-")


def said(text: str, /, **values: object) -> str:
    """Return `text` in the language spoken, with `values` in its places."""
    return _filled(_spoken[0].gettext(text), text, values)


def said_n(one: str, many: str, n: int, /, **values: object) -> str:
    """Return the form of `one` or `many` that goes with `n`, which stands at {n}."""
    told = {"n": n, **values}
    return _filled(_spoken[0].ngettext(one, many, n), one if n == 1 else many, told)


def marked(text: str, /) -> str:
    """Mark `text` for translators and return it in English.

    For tables: they are made before a language is chosen, and looked up with `said` when shown.
    """
    return text


def marked_n(one: str, many: str, /) -> tuple[str, str]:
    """Mark two forms of a text, to be looked up with `said_n` when shown."""
    return one, many


def _filled(translated: str, english: str, values: dict[str, object]) -> str:
    """Fill the places; a translation that can't be filled must not take the screen away."""
    if not values:
        return translated
    try:
        return translated.format(**values)
    except (LookupError, ValueError, AttributeError):
        return english.format(**values)
