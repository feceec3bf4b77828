"""When the first bout and its recovery have been read."""

import pytest

from livemon.app.bouts_first import FirstBout
from livemon.events import LinkUp, Mark

S = 1_000_000_000


def mark(at_s: int, kind: str, athlete: str | None = None, replaces: str | None = None) -> Mark:
    return Mark(at_s * S, f"{kind} {at_s}", athlete, kind, replaces=replaces)


@pytest.mark.parametrize(("at_s", "whole"), [(100, False), (579, False), (580, True), (900, True)])
def test_it_is_whole_three_minutes_after_its_end(at_s: int, whole: bool) -> None:
    first = FirstBout("a1")
    assert not first.whole(mark(100, "bout_start"))
    assert not first.whole(mark(400, "bout_end"))

    assert first.whole(LinkUp(at_s * S, "belt")) is whole


def test_a_bout_that_goes_on_is_not_whole() -> None:
    first = FirstBout("a1")
    first.whole(mark(100, "bout_start"))

    assert not first.whole(LinkUp(9_000 * S, "belt"))


def test_anothers_bout_and_a_warm_up_do_not_count() -> None:
    first = FirstBout("a1")
    for one in (mark(10, "bout_start", "a2"), mark(20, "bout_end", "a2"),
                mark(30, "warm_up_start"), mark(40, "warm_up_end")):  # fmt: skip
        first.whole(one)

    assert not first.whole(LinkUp(9_000 * S, "belt"))
