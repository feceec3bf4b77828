"""A number and its noun agree."""

import pytest

from livemon.record.counted import counted


@pytest.mark.parametrize(
    ("n", "words"), [(0, "0 bouts"), (1, "1 bout"), (2, "2 bouts"), (1234, "1,234 bouts")]
)
def test_one_is_one(n: int, words: str) -> None:
    assert counted(n, "bout") == words
