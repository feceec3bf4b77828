"""Topics: what a relay's are called, and that nothing else is taken for one."""

from contextlib import suppress

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from livemon.errors import UsageError
from livemon.net.topics import Leaf, Topic, check_id, hub_listens, read_topic, relay_listens
from livemon.net.trouble import MessageError

ids = st.from_regex(r"[a-z0-9]([a-z0-9-]{0,38}[a-z0-9])?", fullmatch=True)
topics = st.builds(Topic, ids, ids, st.sampled_from(Leaf))


def matches(topic_filter: str, topic: str) -> bool:
    """Match as MQTT does, for filters without '#' (MQTT 3.1.1, 4.7.1.3)."""
    levels, names = topic_filter.split("/"), topic.split("/")
    return len(levels) == len(names) and all(
        level in {"+", name} for level, name in zip(levels, names, strict=True)
    )


@given(topics)
def test_a_topic_is_read_back(topic: Topic) -> None:
    assert read_topic(str(topic)) == topic


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("livemon/2/g/r/live", id="another version"),
        pytest.param("livemon/1/g/r/love", id="unknown leaf"),
        pytest.param("livemon/1/g/live", id="too few levels"),
        pytest.param("livemon/1/g/x/r/live", id="too many levels"),
        pytest.param("/livemon/1/g/r/live", id="a level before"),
        pytest.param("livemon/1/g/r/live\n", id="a newline behind"),
        pytest.param("livemon/1/G/r/live", id="capitals"),
        pytest.param("livemon/1/-g/r/live", id="hyphen first"),
        pytest.param("", id="nothing"),
    ],
)
def test_other_topics_are_none_of_ours(text: str) -> None:
    with pytest.raises(MessageError):
        read_topic(text)


@example("livemon/1/+/r/live")
@given(st.text())
def test_any_text_is_a_topic_or_refused(text: str) -> None:
    with suppress(MessageError):
        assert str(read_topic(text)) == text


@pytest.mark.parametrize("chosen", ["", "Anna", "a/b", "a+", "x" * 41, "a b", "é", "a-"])
def test_ids_that_cannot_stand_in_a_topic_are_refused(chosen: str) -> None:
    with pytest.raises(UsageError, match="small letters"):
        check_id("relay", chosen)


def test_an_id_that_can_is_returned() -> None:
    assert check_id("relay", "gym-2") == "gym-2"


@given(topics)
def test_a_hub_hears_its_own_group_and_not_its_own_word(topic: Topic) -> None:
    heard = any(matches(pattern, str(topic)) for pattern, _ in hub_listens("ours"))

    assert heard == (topic.group == "ours" and topic.leaf is not Leaf.HAVE)


@given(topics)
def test_a_relay_hears_only_what_the_hub_tells_it(topic: Topic) -> None:
    heard = any(matches(pattern, str(topic)) for pattern, _ in relay_listens("ours", "r1"))

    assert heard == (topic == Topic("ours", "r1", Leaf.HAVE))
