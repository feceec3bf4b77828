"""Devices that were opened to learn what they offer, and what came of it in words."""

from typing import Final

from livemon.app.kit_adapters import KitAdapters
from livemon.errors import LivemonError, UsageError
from livemon.link.inside import Inside

#: UUIDs of the Bluetooth SIG end so; others are a maker's own (Core 5.4 Vol 3 Part B 2.5.1).
_SIG_ENDING: Final = "-0000-1000-8000-00805f9b34fb"
_MOST: Final = 4

ASKING: Final = "Asking it what it offers; this takes a few seconds."


class KitAsking:
    """What was asked, by address.

    Attributes:
        found: what each turned out to be, in the words of `KitAdapters.kinds`.
    """

    def __init__(self, adapters: KitAdapters) -> None:
        self._adapters = adapters
        self.found: dict[str, tuple[str, ...]] = {}

    def hear(self, answer: Inside | LivemonError) -> str:
        """Take an answer; return it in words.

        Raises:
            UsageError: there was none.
        """
        if isinstance(answer, LivemonError):
            raise UsageError(f"It did not answer: {answer}. Some sensors answer only when worn.")
        offered = self._adapters.offered(answer.characteristics)
        if offered:
            self.found[answer.address] = offered
        return offer_words(offered, answer.characteristics)


def offer_words(offered: tuple[str, ...], characteristics: frozenset[str]) -> str:
    """Say what it can be read as, or what an adapter file would have to name."""
    if offered:
        return f"It can be read as {' or '.join(offered)}. Say who wears it."
    own = sorted(uuid for uuid in characteristics if not uuid.endswith(_SIG_ENDING))
    if not own:
        return "It offers nothing that livemon reads; it may be a phone or a watch."
    shown = ", ".join(own[:_MOST])
    more = f" and {len(own) - _MOST} more" if len(own) > _MOST else ""
    return (
        "No adapter that is here reads it. If it is an oximeter, an adapter file has to name one"
        f" of its characteristics: {shown}{more}."
    )
