"""Whatever is shown can be translated: every literal that reads like words is marked."""

from pathlib import Path

import pytest

import livemon.view
from translations.texts import texts
from translations.unmarked import unmarked

VIEW = Path(livemon.view.__file__).parent

#: Files without a word for translators, and why.
NOT_FOR_TRANSLATORS = {
    "qt/availability.py": "said on the command line, which stays English, where no window can open",
    "qt/bouts_plot.py": "curves and axes; their words come from elsewhere",
    "qt/bouts_style.py": "a style sheet",
    "qt/kit_style.py": "a style sheet",
    "qt/panel_style.py": "a style sheet",
    "qt/paper.py": "the form of printed pages; their words come from elsewhere",
    "terminal/picture.py": "the terminal view stays English",
    "terminal/roll.py": "the terminal view stays English",
    "theme.py": "colours",
}
#: As Qt spells keys; how people say them stands beside, marked.
KEYS = {
    "Ctrl+,",
    "Ctrl+E",
    "Ctrl+Q",
    "Ctrl+Z",
    "Down",
    "Enter",
    "Esc",
    "Left",
    "Return",
    "Right",
    "Shift+N",
    "Shift+Space",
    "Space",
    "Up",
}
#: Words that no translator needs, and why.
ALLOWED = {
    "SpO₂": "a symbol, the same in all languages",
    "SmO₂ %": "a symbol and its unit",
    ", SmO₂ %": "a symbol and its unit",
    " %/min": "a unit",
    " min": "a unit",
    "set aside": "names an outcome in a recording, is not shown",
    "out of service": "names an outcome in a recording, is not shown",
    "put back": "names an outcome in a recording, is not shown",
    "heard again": "names an outcome in a recording, is not shown",
    " mm": "a unit",
    " bpm": "a unit",
    " (*.svg *.png)": "how files are told from others by their names",
    " (*.csv)": "the same",
    "Parquet (*.parquet)": "the name of a file format",
    "SNIRF (*.snirf)": "the name of a file format",
    " (*.toml)": "how files are told from others by their names",
    r"(\d+) to (\d+) bpm": "how recordings name a band, is not shown",
    r"until refilled to ([\d.]+) % of baseline, at most ([^,]+)": "the same of a rest",
    "ear lobe": "by which a sensor names the place, is not shown",
    "work, by a standard profile": "names how a sensor is read, is not shown",
    "pip install 'livemon[sound]'": "a command",
    "site ": "names a cell of a strip, is not shown",
}


def words_of(name: str) -> list[str]:
    found = unmarked((VIEW / name).read_text(encoding="utf-8"))
    return [f"{line}: {text}" for line, text in found if text not in ALLOWED.keys() | KEYS]


@pytest.mark.parametrize(
    "name",
    sorted(
        {p.relative_to(VIEW).as_posix() for p in VIEW.rglob("*.py")} - NOT_FOR_TRANSLATORS.keys()
    ),
)
def test_every_word_that_is_shown_is_marked(name: str) -> None:
    assert words_of(name) == []


@pytest.mark.parametrize("name", sorted(NOT_FOR_TRANSLATORS))
def test_a_file_that_is_left_out_has_no_marked_word_either(name: str) -> None:
    assert words_of(name) != [], "nothing reads like words: take the file off the list"
    assert list(texts((VIEW / name).read_text(encoding="utf-8"))) == []


def test_planted_words_are_seen() -> None:
    source = '''
def shown(name: "Name") -> str:
    """A docstring."""
    raise ValueError("Not for the screen")
    said("Marked")
    return f"No warning for {name}"
'''
    assert [text for _, text in unmarked(source)] == ["No warning for "]
