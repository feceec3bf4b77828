"""What a person is told of a link."""

import pytest

from livemon.link.hints import hint
from livemon.link.status import Cause, LinkState


def words(state: LinkState, **facts: object) -> str:
    known = {
        "missing_s": 0.0,
        "links": 0,
        "cause": Cause.NONE,
        "busy": False,
        "trouble": "",
        "problem": "",
    }
    return hint(state, **(known | facts))


@pytest.mark.parametrize(
    ("facts", "said"),
    [
        pytest.param({"missing_s": 9.9}, "", id="too early to say"),
        pytest.param({"missing_s": 10.0}, "Not heard for 10 s", id="after ten seconds"),
        pytest.param({"links": 4, "cause": Cause.NOT_FOUND}, "may be full (4 links", id="full"),
        pytest.param({"links": 3, "cause": Cause.NOT_FOUND}, "", id="three links are not full"),
        pytest.param({"busy": True, "missing_s": 29.9}, "Not heard", id="busy for a while"),
        pytest.param({"busy": True, "missing_s": 30.0}, "unplug and replug", id="stuck"),
        pytest.param({"trouble": "Off.", "missing_s": 99.0}, "Off.", id="Bluetooth itself"),
        pytest.param({"cause": Cause.MISTAKE}, "made a mistake", id="our own"),
        pytest.param({"problem": "it went"}, "It went; trying again.", id="just lost"),
    ],
)
def test_a_search_says_what_may_be_wrong(facts: dict[str, object], said: str) -> None:
    found = words(LinkState.SEARCHING, **facts)

    assert (said in found) if said else found == ""


@pytest.mark.parametrize("state", list(LinkState))
def test_every_state_has_its_words(state: LinkState) -> None:
    said = words(state, missing_s=60.0, problem="the sensor wants a pairing first")

    assert (said == "") is (state in {LinkState.LIVE, LinkState.STOPPED})
    assert said == said.strip()
