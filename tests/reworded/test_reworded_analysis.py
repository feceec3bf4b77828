"""All that the analysis says is known to translators, and in English it stays as it was."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import livemon.analyse
from livemon.analyse.bout import Intensity, Origin
from livemon.analyse.intensity_words import intensity_in_full
from livemon.reworded.analysis import analysis_said
from livemon.tongue import ENGLISH, speak
from translations.invented_language import left_in_english, pseudo, spoken
from translations.unmarked import unmarked

ANALYSE = Path(livemon.analyse.__file__).parent
NBSP = "\N{NO-BREAK SPACE}"

#: What the analysis puts together, each form of it, with invented names without a vowel.
SENTENCES = (
    "heart rate 150 bpm, steady",
    "heart rate 150 bpm, moving, in its band of 145 to 155 bpm",
    "heart rate 140 bpm, undecidable, below its band of 145 to 155 bpm",
    "heart rate 160 bpm, steady, at or above the upper end of its band of 145 to 155 bpm",
    "ÿ (working): demand ahead, −4.1 %/min (−5.0 to −3.2)",
    "ÿ (resting): in balance, 0.0 %/min (−0.1 to +0.1)",
    "ÿ: unsure (the bout is too short)",
    "ÿ (working): unsure (the level jumped by −12: a sensor that slipped, or another load)",
    "ÿ: at low, 0.0 %/min (−0.1 to +0.1); tHb down: less blood in the muscle, supply and use still "
    "equal",
    "ÿ (working): supply ahead, +1.0 %/min (+0.9 to +1.1); tHb same: supply ahead with unchanged "
    "blood volume",
    "a clear trend at ÿ",
    "no verdict: heart rates differ by more than 5 bpm",
    "no clear difference: less than the 15 % that two recordings can differ by chance",
    "needs 6 different loads at least",
    "no lactate sample in this bout; samples without a time can't be used",
    "drawn at different sites: ÿ and ?",
    "units differ: ÿ and W",
    "intensities in different units: W, m/s",
    f"212{NBSP}W (measured, spread 6{NBSP}W)",
)
#: What no screen shows as it stands, and why.
NOT_SAID = {
    "just before the bout": "names where a baseline is from, is not shown",
    "the resting baseline": "the same",
    "late level": "names a quantity; the screens have a longer name for it",
    "half-recovery time": "the same",
    "distance over time": "stands behind an intensity, see below",
    "a sensor that slipped, or another load": "stands behind a jump, see above",
    "%/min per ": "a unit that no screen shows",
}


@pytest.fixture
def invented_language() -> Iterator[None]:
    speak(spoken())
    yield
    speak(ENGLISH)


def words_of_the_analysis() -> Iterator[tuple[str, bool]]:
    """Yield each text in the source, and whether it is a part of one that is put together."""
    for path in sorted(ANALYSE.glob("*.py")):
        source = path.read_text(encoding="utf-8")
        parts = {
            part.value
            for made in ast.walk(ast.parse(source))
            if isinstance(made, ast.JoinedStr)
            for part in made.values
            if isinstance(part, ast.Constant)
        }
        for _, text in unmarked(source):
            if " " in text.strip():
                yield text, text in parts or text.startswith("; ") or text.endswith(" of")


WHOLE = sorted({text for text, part in words_of_the_analysis() if not part} - NOT_SAID.keys())
PARTS = sorted({text for text, part in words_of_the_analysis() if part} - NOT_SAID.keys())


@pytest.mark.usefixtures("invented_language")
@pytest.mark.parametrize("text", WHOLE)
def test_whatever_the_analysis_says_is_known(text: str) -> None:
    assert analysis_said(text) == pseudo(text)


@pytest.mark.parametrize("text", PARTS)
def test_whatever_it_puts_together_stands_in_a_sentence_here(text: str) -> None:
    assert text in "\n".join(SENTENCES)


@pytest.mark.usefixtures("invented_language")
@pytest.mark.parametrize("text", SENTENCES)
def test_what_it_puts_together_is_known_to_the_last_word(text: str) -> None:
    assert not left_in_english(analysis_said(text), set())


@pytest.mark.usefixtures("invented_language")
@pytest.mark.parametrize("origin", Origin)
def test_where_an_intensity_comes_from_is_known(origin: Origin) -> None:
    spread = 6.0 if origin is Origin.MEASURED else None
    for given in {None, spread}:
        written = intensity_in_full(Intensity(4.25, "m/s", origin, given))
        assert not left_in_english(analysis_said(written), set())


@pytest.mark.parametrize("text", [*SENTENCES, *WHOLE, "what nobody knows", ""])
def test_in_english_it_stays_as_it_was(text: str) -> None:
    assert analysis_said(text) == text


@pytest.mark.usefixtures("invented_language")
def test_what_is_not_known_stays_english() -> None:
    assert analysis_said("what nobody knows") == "what nobody knows"
    assert analysis_said("") == ""


@pytest.mark.usefixtures("invented_language")
def test_names_and_numbers_stay_as_they_are() -> None:
    shown = analysis_said("calf: left (working): unsure (the bout is too short)")
    assert "calf: left" in shown
    assert "−4.1" in analysis_said("calf: demand ahead, −4.1 %/min (−5.0 to −3.2)")
