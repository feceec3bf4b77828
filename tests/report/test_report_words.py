"""Numbers and lists as people read them."""

import pytest

from livemon.analyse.measure import Measure, exactly, unknown
from livemon.analyse.numbers import number
from livemon.estimate.balance import Balance
from livemon.report.figures import amount, clock, figure, span
from livemon.report.lists import and_so_on, numbered
from livemon.report.svg import Scale, curve, label, line, ticks
from livemon.report.words import MEANING, ONE_WORD

NBSP = "\N{NO-BREAK SPACE}"


@pytest.mark.parametrize(
    ("value", "decimals", "signed", "text"),
    [
        (-4.14, 1, True, "−4.1"),
        (4.14, 1, True, "+4.1"),
        (-0.04, 1, True, "0.0"),
        (0.04, 1, True, "0.0"),
        (12.5, 0, False, "12"),
        (-3, 0, False, "−3"),
    ],
)
def test_numbers(value: float, decimals: int, signed: bool, text: str) -> None:
    assert number(value, decimals, signed=signed) == text


@pytest.mark.parametrize(
    ("measure", "text"),
    [
        (Measure(-4.12, -5.04, -3.21, "%/min"), f"−4.1{NBSP}%/min (−5.0 to −3.2)"),
        (Measure(250.3, 241.2, 259.9, "W"), f"+250{NBSP}W (+241 to +260)"),
        (Measure(4.512, 4.48, 4.55, "m/s"), f"+4.51{NBSP}m/s (+4.48 to +4.55)"),
        (exactly(12, "s"), f"+12.0{NBSP}s"),
        (unknown("s", "why"), "–"),
    ],
)
def test_figures_show_what_their_interval_allows(measure: Measure, text: str) -> None:
    assert figure(measure, signed=True) == text


def test_a_count_has_no_span() -> None:
    assert span(exactly(12, "s")) == ""


def test_amounts_are_written_as_entered() -> None:
    assert (amount(4.25, "m/s"), amount(250.0, "W"), amount(3, "")) == (
        f"4.25{NBSP}m/s",
        f"250{NBSP}W",
        "3",
    )


@pytest.mark.parametrize(("seconds", "text"), [(0, "0:00"), (59.6, "1:00"), (312, "5:12")])
def test_durations(seconds: float, text: str) -> None:
    assert clock(seconds) == text


@pytest.mark.parametrize(
    ("numbers", "text"),
    [
        ([3], "3"),
        ([3, 3], "3"),
        ([1, 2], "1 and 2"),
        ([1, 2, 3], "1 to 3"),
        ([5, 1, 2, 3, 7, 8], "1 to 3, 5, 7 and 8"),
    ],
)
def test_numbers_of_bouts(numbers: list[int], text: str) -> None:
    assert numbered(numbers) == text


def test_lists() -> None:
    assert and_so_on(["a"]) == "a"
    assert and_so_on(["a", "b", "c"]) == "a, b and c"


def test_every_balance_has_its_words() -> None:
    assert set(ONE_WORD) == set(MEANING) == set(Balance)


@pytest.mark.parametrize(
    ("low", "high", "about", "values"),
    [
        (0, 10, 5, [0, 2, 4, 6, 8, 10]),
        (41.2, 73.9, 3, [60]),
        (-2.3, 1.9, 4, [-2, 0]),
        (5, 5, 3, [5]),
        (0.001, 0.0042, 3, [0.002, 0.004]),
    ],
)
def test_ticks_are_round(low: float, high: float, about: int, values: list[float]) -> None:
    assert ticks(low, high, about) == values


def test_a_scale_maps_both_ends_and_survives_an_empty_range() -> None:
    scale = Scale(40, 80, 100, 0)

    assert (scale(40), scale(60), scale(80)) == (100, 50, 0)
    assert Scale(5, 5, 0, 10)(5) == 0


def test_shapes_escape_words_and_shorten_numbers() -> None:
    assert label((1, 2.04), "<a&b>", "k") == (
        '<text class="k" x="1" y="2" text-anchor="start">&lt;a&amp;b&gt;</text>'
    )
    assert line((0, -0.01), (10.26, 3), "k") == '<line class="k" x1="0" y1="0" x2="10.3" y2="3"/>'
    assert curve([[(0, 0), (1, 1)], [(5, 5)], [(8, 8), (9, 9)]], "k") == (
        '<path class="k" d="M0,0L1,1M8,8L9,9"/>'
    )
    assert curve([], "k") == ""
