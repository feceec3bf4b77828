"""Cells of CSV: read back by Python's csv module, and no formula for any spreadsheet."""

import csv
from io import StringIO

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from livemon.errors import UsageError
from livemon.exchange.csv_dialect import Dialect, cell_writer, harmless, original
from livemon.exchange.table import Kind

#: OWASP, "CSV Injection": cells that begin with one of these are formulas.
OWASP = ("=", "+", "-", "@", "\t", "\r", "\n")

texts = st.text(st.characters(exclude_categories=("Cs",), exclude_characters="\0"))


@pytest.mark.parametrize("first", [*OWASP, "＝", "＋", "－", "＠"])
def test_what_starts_a_formula_no_longer_does(first: str) -> None:
    assert harmless(f"{first}cmd|' /C calc'!A0").startswith("'")


@example("'=x")
@example("''-")
@example("'quoted'")
@given(texts)
def test_the_text_can_be_had_back(text: str) -> None:
    assert original(harmless(text)) == text
    assert not harmless(text).startswith(OWASP)


@example('a"b', ",")
@example("a;b", ";")
@example("two\r\nlines", ",")
@given(texts, st.sampled_from([",", ";", "\t"]))
def test_pythons_reader_gives_the_text_back(text: str, separator: str) -> None:
    write = cell_writer(Kind.TEXT, Dialect(".", separator))
    line = separator.join([write(text), write("next")])

    (read,) = csv.reader(StringIO(line, newline=""), delimiter=separator)

    assert [original(cell) for cell in read] == [text, "next"]


@pytest.mark.parametrize(
    ("value", "point", "comma"),
    [(-3.5, "-3.5", "-3,5"), (61.3, "61.3", "61,3"), (7, "7", "7"), (None, "", "")],
)
def test_numbers_stay_numbers(value: float | None, point: str, comma: str) -> None:
    assert cell_writer(Kind.NUMBER, Dialect())(value) == point
    assert cell_writer(Kind.NUMBER, Dialect(",", ";"))(value) == comma


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_a_number_is_read_back_to_the_last_bit(value: float) -> None:
    assert float(cell_writer(Kind.NUMBER, Dialect())(value)) == value


@pytest.mark.parametrize(
    ("decimal", "separator", "said"),
    [(",", ",", "told apart"), ("'", ";", "decimal sign"), (".", "x", "separator")],
)
def test_signs_that_cannot_work_are_refused(decimal: str, separator: str, said: str) -> None:
    with pytest.raises(UsageError, match=said):
        Dialect(decimal, separator)
