"""A day in words, in the language that was chosen; what can't be read is no day."""

from collections.abc import Iterator

import pytest

from livemon.app.day_words import day_and_time, day_of
from livemon.tongue import ENGLISH, speak
from translations.invented_language import left_in_english, spoken

NOON = [f"2026-{month:02}-02T12:00:00+00:00" for month in range(1, 13)]


@pytest.fixture(autouse=True)
def english_again() -> Iterator[None]:
    yield
    speak(ENGLISH)


def test_a_day_is_written_in_words_or_not_at_all() -> None:
    assert day_of(NOON[2]) == "2 Mar 2026"
    assert day_of("some day") == ""


def test_with_its_time_it_is_written_out_or_stays_as_it_is() -> None:
    assert day_and_time(NOON[2]).startswith("02 March 2026, ")
    assert day_and_time("some day") == "some day"


@pytest.mark.parametrize("started_utc", NOON)
def test_every_month_is_known_to_translators(started_utc: str) -> None:
    speak(spoken())
    assert not left_in_english(day_of(started_utc), set())
    assert not left_in_english(day_and_time(started_utc), set())
