"""Devices that were opened to learn what they offer, and what came of it in words."""

from functools import reduce
from typing import Final

from livemon.app.kit_adapters import KitAdapters
from livemon.app.kit_kinds import kinds_said
from livemon.errors import LivemonError, UsageError
from livemon.link.inside import Inside
from livemon.tongue import marked, said, said_n

#: UUIDs of the Bluetooth SIG end so; others are a maker's own (Core 5.4 Vol 3 Part B 2.5.1).
_SIG_ENDING: Final = "-0000-1000-8000-00805f9b34fb"
_MOST: Final = 4

ASKING: Final = marked("Asking it what it offers; this takes a few seconds.")


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
            raise UsageError(
                said("It did not answer: {why}. Some sensors answer only when worn.", why=answer)
            )
        offered = self._adapters.offered(answer.characteristics)
        if offered:
            self.found[answer.address] = offered
        return offer_words(offered, answer.characteristics)


def offer_words(offered: tuple[str, ...], characteristics: frozenset[str]) -> str:
    """Say what it can be read as, or what an adapter file would have to name."""
    if offered:
        kinds = reduce(
            lambda one, other: said("{one} or {other}", one=one, other=other), kinds_said(offered)
        )
        return said("It can be read as {kinds}. Say who wears it.", kinds=kinds)
    own = sorted(uuid for uuid in characteristics if not uuid.endswith(_SIG_ENDING))
    if not own:
        return said("It offers nothing that livemon reads; it may be a phone or a watch.")
    shown, more = ", ".join(own[:_MOST]), len(own) - _MOST
    if more <= 0:
        return said(
            "No adapter that is here reads it. If it is an oximeter, an adapter file has to name "
            "one of its characteristics: {shown}.",
            shown=shown,
        )
    return said_n(
        "No adapter that is here reads it. If it is an oximeter, an adapter file has to name "
        "one of its characteristics: {shown} and {n} more.",
        "No adapter that is here reads it. If it is an oximeter, an adapter file has to name "
        "one of its characteristics: {shown} and {n} more.",
        more,
        shown=shown,
    )
