"""What the hub's screen says of its relays."""

import pytest

from livemon.app.hub_words import HubStanding, RelayHeard, SpokenNotices, hub_notices


def standing(*relays: RelayHeard, trouble: str = "", disk: str = "", refused=None) -> HubStanding:
    return HubStanding(trouble, disk, relays, refused)


@pytest.mark.parametrize(
    ("one", "said"),
    [
        pytest.param(standing(), ("no relay yet",), id="nobody"),
        pytest.param(standing(RelayHeard("g1", 0.5, False)), ("1 relay",), id="one is there"),
        pytest.param(
            standing(RelayHeard("g1", 0.5, False), RelayHeard("g2", 3.9, False)),
            ("2 relays",),
            id="two are there",
        ),
        pytest.param(
            standing(RelayHeard("g1", 4.0, False)), ("relay g1: nothing for 4 s",), id="silent"
        ),
        pytest.param(standing(RelayHeard("g1", 9.0, True)), ("relay g1 is gone",), id="left"),
        pytest.param(
            standing(trouble="it is down"), ("NO BROKER: it is down",), id="no broker, and no relay"
        ),
        pytest.param(
            standing(RelayHeard("g1", 0.0, False), disk="the disk is full"),
            ("relays' recordings are NOT KEPT: the disk is full", "1 relay"),
            id="full disk",
        ),
        pytest.param(
            standing(RelayHeard("g1", 0.0, False), refused=("relay g2: refused x", 19.0)),
            ("1 relay", "relay g2: refused x"),
            id="refused just now",
        ),
        pytest.param(
            standing(RelayHeard("g1", 0.0, False), refused=("relay g2: refused x", 20.0)),
            ("1 relay",),
            id="refused a while ago",
        ),
    ],
)
def test_it_says(one: HubStanding, said: tuple[str, ...]) -> None:
    assert hub_notices(one) == said


def test_silence_is_told_within_five_seconds() -> None:
    """A sign of life is due each second, so the last one may be one second older than the cut."""
    assert hub_notices(standing(RelayHeard("g1", 5.0, False))) == ("relay g1: nothing for 5 s",)


def test_where_no_screen_shows_them_each_is_said_once() -> None:
    said: list[str] = []
    now: list[tuple[str, ...]] = [
        ("no relay yet",),
        ("1 relay",),
        ("1 relay",),
        ("relay g1: nothing for 4 s",),
        ("relay g1: nothing for 5 s",),
        ("1 relay",),
    ]
    spoken = SpokenNotices(lambda: now[0], said.append)
    while now:
        spoken.look()
        now.pop(0)

    assert said == ["no relay yet", "1 relay", "relay g1: nothing for 4 s", "1 relay"]
