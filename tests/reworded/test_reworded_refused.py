"""Whatever refuses a typed value says why in the language chosen; in English it stays as it was."""

from collections.abc import Iterator

import pytest

from livemon.errors import UsageError
from livemon.events import MarkValue
from livemon.monitor.mark_fields import FIELDS, MarkKind, NumberField
from livemon.monitor.marks import checked_details
from livemon.reworded.refused import refusal_said
from livemon.tongue import ENGLISH, speak
from livemon.view.entry import read_entry
from translations.invented_language import left_in_english, spoken

#: Units, and what has to be typed as it stands.
NAMES = {"bpm", "kg", "km/h", "m/s", "mmol/L", "SmO2", "earlobe, fingertip, toe, vein"}


def refused(kind: MarkKind, entered: dict[str, MarkValue]) -> str:
    """Return why; empty where it is taken."""
    try:
        checked_details(kind, entered)
    except UsageError as error:
        return str(error)
    return ""


def refusals() -> Iterator[str]:
    """Yield what each field of each mark says to each wrong value."""
    for kind, fields in FIELDS.items():
        for field in fields:
            wrong: tuple[MarkValue, ...] = ("", "ÿ", "ÿ" * 600, "0.5", "-1", 999_999)
            yield from (refused(kind, {field.key: value}) for value in wrong)
            if isinstance(field, NumberField):
                yield refused(kind, {field.key: f"{field.high + 1:g}"})
    yield refused(MarkKind.BAND, {"low_bpm": 140})
    yield refused(MarkKind.BAND, {"low_bpm": 160, "high_bpm": 140})
    yield refused(MarkKind.LOAD, {})


REFUSALS = sorted(set(refusals()) - {""})


@pytest.fixture
def invented_language() -> Iterator[None]:
    speak(spoken())
    yield
    speak(ENGLISH)


@pytest.mark.usefixtures("invented_language")
@pytest.mark.parametrize("text", [*REFUSALS, "load: expected one of W, m/s"])
def test_why_a_value_is_refused_is_known_to_the_last_word(text: str) -> None:
    assert not left_in_english(refusal_said(text), NAMES)


@pytest.mark.parametrize("text", [*REFUSALS, "what nobody knows", ""])
def test_in_english_it_stays_as_it_was(text: str) -> None:
    assert refusal_said(text) == text


def test_there_is_much_to_refuse() -> None:
    assert len(REFUSALS) > 60


@pytest.mark.usefixtures("invented_language")
@pytest.mark.parametrize("typed", ["", "9 rpe 7", "rpe ÿ", "la 99 vein"])
def test_a_line_that_is_refused_on_the_screen_says_why_in_it(typed: str) -> None:
    with pytest.raises(UsageError) as found:
        read_entry(typed, ("a1", "a2"), "a1")
    assert not left_in_english(refusal_said(str(found.value)), NAMES | {"rpe 7"})
