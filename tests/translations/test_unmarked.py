"""Whatever is shown can be translated: every literal that reads like words is marked."""

from pathlib import Path

import pytest

import livemon
from translations.texts import texts
from translations.unmarked import unmarked

PACKAGE = Path(livemon.__file__).parent
#: Parts that show words to people who chose a language.
SHOWN = (
    "view",
    "report",
    "reworded",
    "app/day_words.py",
    "app/export_progress.py",
    "app/share_refused.py",
    "record/disk.py",
    "record/trouble.py",
)

#: Files without a word for translators, and why.
NOT_FOR_TRANSLATORS = {
    "report/text.py": "said on the command line, which stays English",
    "report/text_warned.py": "the same",
    "view/qt/availability.py": "said on the command line where no window can open",
    "view/qt/bouts_plot.py": "curves and axes; their words come from elsewhere",
    "view/qt/bouts_style.py": "a style sheet",
    "view/qt/kit_style.py": "a style sheet",
    "view/qt/panel_style.py": "a style sheet",
    "view/qt/paper.py": "the form of printed pages; their words come from elsewhere",
    "view/terminal/picture.py": "the terminal view stays English",
    "view/terminal/roll.py": "the terminal view stays English",
    "view/theme.py": "colours",
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
    "second oximeter": "how the analysis names what is missing; is not shown",
    "\N{NO-BREAK SPACE}mmol/L": "a unit",
    "supply ahead|in balance|demand ahead|at low|unsure": "the words of the analysis, is not shown",
    " to ": "between numbers that are recognised, is not shown",
    "the installed PySide6 loses references and would end the program within seconds; "
    'install another: pip install "PySide6-Essentials>=6.8,<6.12"': "where no window can open",
    "%H:%M": "a form of numbers",
    ' class="few"': "markup",
    '" width="': "markup",
    ' xmlns="http://www.w3.org/2000/svg"': "markup",
    "&nbsp;&nbsp; ": "markup",
    "viewBox": "markup",
    "margin-top:4px; margin-bottom:4px": "a style",
    "tick small": "names looks in a style sheet",
    "wedge w": "the same",
    "trend s": "the same",
    "site s": "the same",
    "site thin s": "the same",
    "band line": "the same",
    "key ": "names a picture, is not shown",
    "bout ": "names a picture, is not shown",
    "site ": "names a cell of a strip, is not shown",
}


def words_of(name: str) -> list[str]:
    found = unmarked((PACKAGE / name).read_text(encoding="utf-8"))
    return [f"{line}: {text}" for line, text in found if text not in ALLOWED.keys() | KEYS]


def shown_files() -> set[str]:
    found = [p for part in SHOWN for p in (PACKAGE / part).rglob("*.py")]
    found += [PACKAGE / part for part in SHOWN if part.endswith(".py")]
    return {p.relative_to(PACKAGE).as_posix() for p in found}


@pytest.mark.parametrize("name", sorted(shown_files() - NOT_FOR_TRANSLATORS.keys()))
def test_every_word_that_is_shown_is_marked(name: str) -> None:
    assert words_of(name) == []


@pytest.mark.parametrize("name", sorted(NOT_FOR_TRANSLATORS))
def test_a_file_that_is_left_out_has_no_marked_word_either(name: str) -> None:
    assert words_of(name) != [], "nothing reads like words: take the file off the list"
    assert list(texts((PACKAGE / name).read_text(encoding="utf-8"))) == []


def test_planted_words_are_seen() -> None:
    source = '''
def shown(name: "Name") -> str:
    """A docstring."""
    raise ValueError("Not for the screen")
    said("Marked")
    return f"No warning for {name}"
'''
    assert [text for _, text in unmarked(source)] == ["No warning for "]


def test_what_refuses_a_wish_is_seen_and_a_mistake_in_the_program_is_not() -> None:
    source = 'raise UsageError("Not this")\nraise ValueError("Not that")'
    assert [text for _, text in unmarked(source)] == ["Not this"]


@pytest.mark.parametrize(
    ("markup", "seen"),
    [
        ('<p class="fine print">', False),
        ('</td><td style="color:', False),
        ("<h2>Bout by bout</h2>", True),
        ('<img alt="A picture" src="', True),
    ],
)
def test_of_a_page_the_words_are_seen_and_the_tags_are_not(markup: str, *, seen: bool) -> None:
    assert bool(list(unmarked(f"page = {markup!r}"))) is seen
