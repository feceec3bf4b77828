"""The words for each state, one table each; no sentence is put together here."""

from typing import Final

from livemon.estimate.balance import Balance
from livemon.monitor.snapshot import Trust
from livemon.tongue import marked, said
from livemon.view.model import Tone
from livemon.warn.priority import Priority

BALANCE: Final = {
    Balance.SUPPLY_AHEAD: marked("Supply ahead"),
    Balance.IN_BALANCE: marked("In balance"),
    Balance.DEMAND_AHEAD: marked("Demand ahead"),
    Balance.AT_LOW: marked("At low"),
    Balance.UNSURE: marked("Unsure"),
}

TONE: Final = {
    Trust.GOOD: Tone.FRESH,
    Trust.STALE: Tone.OLD,
    Trust.NO_CONTACT: Tone.FAULT,
    Trust.SUSPECT: Tone.FAULT,
    Trust.ABSENT: Tone.ABSENT,
}

PRIORITY: Final = {
    Priority.INFORMATION: marked("Information"),
    Priority.CAUTION: marked("Caution"),
    Priority.DRAIN: marked("Drain"),
}

#: Most urgent last, as in the enumeration.
URGENCY: Final = {priority: rank for rank, priority in enumerate(Priority)}


def widest_balance() -> str:
    """Return the longest word of a balance: it sizes all, so that a change moves nothing."""
    return max((said(word) for word in BALANCE.values()), key=len)


def sentence_case(name: str) -> str:
    """Return `name` with its first letter large and the rest as the person wrote it."""
    return name[:1].upper() + name[1:]


def shortened(name: str, most: int) -> str:
    """Return `name` cut to `most` characters, at a word where one ends near."""
    if len(name) <= most:
        return name
    cut = name[: most - 1]
    at = cut.rfind(" ")
    return (cut[:at] if at > most // 2 else cut).rstrip(" ,(") + "…"


def halves(text: str) -> tuple[str, ...]:
    """Return `text` on two lines, parted after a comma or colon, else at the middlemost space."""
    for mark in (", ", ": "):
        before, found, after = text.partition(mark)
        if found:
            return before + mark.rstrip(), after
    spaces = [at for at, character in enumerate(text) if character == " "]
    if not spaces:
        return (text,)
    middle = min(spaces, key=lambda at: abs(at - len(text) / 2))
    return text[:middle], text[middle + 1 :]
