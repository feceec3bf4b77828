"""Whom a share's door has refused, for the window; the log has its own English words."""

from collections import Counter
from typing import Final

from livemon.net.share_refusals import Refusal
from livemon.tongue import marked, said, said_n

_WHAT: Final = {
    Refusal.SILENT: marked("somebody did not say in time who it is"),
    Refusal.CROWD: marked("somebody was sent away, because too many connections say nothing"),
    Refusal.NOT_OURS: marked("somebody does not speak MQTT 3.1.1 as relays do"),
    Refusal.NO_CREDENTIALS: marked("somebody came without a relay's name or without the join code"),
    Refusal.WRONG_CODE: marked("somebody gave a wrong join code"),
    Refusal.BAD_NAME: marked("somebody chose a name that no relay can have"),
    Refusal.NAME_TAKEN: marked("somebody uses the name of a relay that runs on another computer"),
    Refusal.FULL: marked("somebody came when the places for relays were all taken"),
    Refusal.FOREIGN_TOPIC: marked("somebody reached for what is not its own"),
    Refusal.TOO_LONG: marked("somebody sent a message that is too long"),
    Refusal.TOO_MUCH: marked("somebody sends more than a relay may, and is slowed down to that"),
    Refusal.GONE: marked("somebody was given up, because nothing came from it any more"),
}


def refused_words(counts: Counter[Refusal]) -> tuple[str, ...]:
    """Say how often somebody was refused, the most frequent first."""
    return tuple(_times(said(_WHAT[why]), count) for why, count in counts.most_common())


def _times(what: str, count: int) -> str:
    """Say it roughly from ten on: a flood at the door is no flood of words."""
    if count == 1:
        return said("{what}, once", what=what)
    if count < 10:
        return said_n("{what}, {n} time", "{what}, {n} times", count, what=what)
    least = 10 ** (len(str(count)) - 1) - 1
    return said_n("{what}, more than {n} time", "{what}, more than {n} times", least, what=what)
