"""How a relay stands, in words."""

from dataclasses import replace

import pytest

from livemon.app.relay_words import RelayStanding, relay_line

FINE = RelayStanding((3, 3), "", True, 0, ("recording",))


@pytest.mark.parametrize(
    ("standing", "line"),
    [
        pytest.param(FINE, "all 3 sensors linked · the hub has all · recording", id="all is well"),
        pytest.param(
            replace(FINE, behind=7),
            "all 3 sensors linked · the hub keeps up · recording",
            id="some lines are under way",
        ),
        pytest.param(
            replace(FINE, behind=12_345),
            "all 3 sensors linked · connected, the hub lacks 12,345 lines · recording",
            id="a backlog",
        ),
        pytest.param(
            replace(FINE, sensors=(3, 1), trouble="it is down", behind=40),
            "1 of 3 sensors linked · NOT SENT: it is down; 40 lines wait · recording",
            id="no broker",
        ),
        pytest.param(
            replace(FINE, sensors=(1, 1), heard=False),
            "the sensor is linked · connected, no hub listens yet · recording",
            id="no hub",
        ),
        pytest.param(
            replace(FINE, sensors=None, notices=()),
            "playing a recording · the hub has all",
            id="a recording",
        ),
    ],
)
def test_it_says(standing: RelayStanding, line: str) -> None:
    assert relay_line(standing) == line


def test_how_many_lines_are_under_way_is_no_news_but_a_backlog_is() -> None:
    assert not FINE.like(None)
    assert replace(FINE, behind=9).like(FINE)
    assert not replace(FINE, behind=900).like(FINE)
    assert not replace(FINE, sensors=(3, 2)).like(FINE)
