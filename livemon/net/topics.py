"""Where what is published: livemon/1/<group>/<relay>/<leaf>.

    state  relay → all   whether the relay is there; retained, and the relay's will
    meta   relay → all   the recording's head line: adapters, sites, no names; retained
    live   relay → hub   batches of the newest lines; may be lost
    fill   relay → hub   batches that the hub missed, in order
    have   hub → relay   up to which line the hub has everything

For other programs the hub publishes decoded states below livemon/1/<group>/hub, if it is asked to.

A group is what one hub listens to, so that a broker cluster can be shared by topic. Ids are of our
own making and never a person's name. Nothing here knows MQTT's packets.
"""

import re
from dataclasses import dataclass
from enum import Enum
from typing import Final

from livemon.errors import UsageError
from livemon.net.trouble import MessageError

#: The version of all that is published; another one is another tree, and the two can't collide.
_ROOT: Final = "livemon/1"
#: Free of MQTT's + # / and of anything that topic rules of brokers treat in their own way.
_ID: Final = r"[a-z0-9](?:[a-z0-9-]{0,38}[a-z0-9])?"
#: Stands in the place of a relay where the hub itself speaks.
HUB: Final = "hub"


class Leaf(Enum):
    """What a topic carries."""

    STATE = "state"
    META = "meta"
    LIVE = "live"
    FILL = "fill"
    HAVE = "have"


_TOPIC: Final = re.compile(f"{_ROOT}/({_ID})/({_ID})/({'|'.join(leaf.value for leaf in Leaf)})")


@dataclass(frozen=True, slots=True)
class Topic:
    """One topic of one relay."""

    group: str
    relay: str
    leaf: Leaf

    def __str__(self) -> str:
        return f"{_ROOT}/{self.group}/{self.relay}/{self.leaf.value}"


def check_id(what: str, chosen: str) -> str:
    """Return an id that a person chose.

    Raises:
        UsageError: it can't stand in a topic.
    """
    if not re.fullmatch(_ID, chosen) or (what, chosen) == ("relay", HUB):
        raise UsageError(
            f"{chosen!r} can't be the id of a {what}: up to 40 small letters a-z, digits and"
            " hyphens, beginning and ending with a letter or digit, and a relay is not the hub"
        )
    return chosen


def read_session(found: object, what: str) -> str:
    """Return a recording's id as a message names it; it may become a part of a file's name.

    Raises:
        MessageError: it is none.
    """
    if type(found) is not str or not re.fullmatch(_ID, found):
        raise MessageError(f"{what} of no session that could be one")
    return found


def read_topic(text: str) -> Topic:
    """Return the topic that `text` says.

    Raises:
        MessageError: it is none of ours.
    """
    found = _TOPIC.fullmatch(text)
    if found is None:
        raise MessageError(f"topic {text[:100]!r} is none of livemon's")
    group, relay, leaf = found.groups()
    return Topic(group, relay, Leaf(leaf))


def hub_listens(group: str) -> tuple[tuple[str, int], ...]:
    """Return topic filters and quality of service of what a hub subscribes to.

    Live lines are worth nothing late, so they come at most once; what the relay fills in behind
    them makes up for losses.
    """
    any_relay = f"{_ROOT}/{group}/+"
    return (
        (f"{any_relay}/{Leaf.STATE.value}", 1),
        (f"{any_relay}/{Leaf.META.value}", 1),
        (f"{any_relay}/{Leaf.LIVE.value}", 0),
        (f"{any_relay}/{Leaf.FILL.value}", 1),
    )


def hub_topic(group: str, *levels: str) -> str:
    """Return a topic in which the hub itself speaks to other programs.

    What a level may not hold is replaced: an athlete's id may come from an old recording.
    """
    said = (re.sub(r"[^A-Za-z0-9._-]", "_", level) for level in levels)
    return f"{_ROOT}/{group}/{HUB}/{'/'.join(said)}"


def relay_listens(group: str, relay: str) -> tuple[tuple[str, int], ...]:
    """Return what a relay subscribes to."""
    return ((str(Topic(group, relay, Leaf.HAVE)), 1),)
