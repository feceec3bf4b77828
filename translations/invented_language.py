"""An invented language: every text in brackets, accented, and about a third longer.

What stands on a screen without accents, and isn't a name that a person gave, was never translated.
"""

import gettext
import re
from functools import cache
from io import BytesIO

from babel.messages import Catalog
from babel.messages.mofile import write_mo

from translations.texts import template

_ACCENTED = str.maketrans("aeiouAEIOU", "âêîôûÂÊÎÔÛ")
_PLACE = re.compile(r"(\{\w+\})")
#: Symbols and units are the same in all languages.
_SYMBOLS = re.compile(r"%/min|\bmin\b|SmO₂|SpO₂")
_PLAIN_VOWEL = re.compile(r"[aeiouAEIOU]")


def pseudo(text: str) -> str:
    """Return `text` in the invented language, its places untouched."""
    if not any(one.isalpha() for one in _PLACE.sub("", text)):
        return text
    parts = _PLACE.split(text)
    words = "".join(p if _PLACE.fullmatch(p) else p.translate(_ACCENTED) for p in parts)
    letters = sum(one.isalpha() for one in _PLACE.sub("", text))
    return f"[{words}{'ģy' * round(letters * 0.15)}]"


@cache
def spoken(locale: str = "en") -> gettext.GNUTranslations:
    """Return the whole template in the invented language, as livemon would load it."""
    made = Catalog(locale=locale)
    for message in template():
        if isinstance(message.id, str):
            if message.id:
                made.add(message.id, pseudo(message.id))
        else:
            made.add(message.id, tuple(pseudo(form) for form in message.id))
    file = BytesIO()
    write_mo(file, made)
    file.seek(0)
    return gettext.GNUTranslations(file)


def left_in_english(text: str, names: set[str]) -> bool:
    """Return whether words stand in `text` that are neither accented nor one of the names."""
    rest = _SYMBOLS.sub("", text)
    for name in sorted(names, key=len, reverse=True):
        rest = re.sub(re.escape(name), "", rest, flags=re.IGNORECASE)
    return _PLAIN_VOWEL.search(rest) is not None
