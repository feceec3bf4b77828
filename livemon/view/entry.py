"""What a person types in one line while talking to people: for whom, what kind, how much.

    grip slips              a note for the chosen lane
    rpe 7                   perceived exertion, Borg CR10
    la 4.2 earlobe          blood lactate, mmol/L
    3 la 4,2                the same for lane 3
    1,3,5 bout sled push    a bout begins in three lanes
    all end                 it ends, and recovery begins, in all
    all plan stop           the plan is broken off

Values are checked by the table that every way of entering marks shares.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

from livemon.errors import UsageError
from livemon.events import MarkValue
from livemon.monitor.mark_fields import SAMPLING_SITES, MarkKind
from livemon.monitor.marks import checked_details
from livemon.tongue import said

_ALL: Final = "all"


@dataclass(frozen=True, slots=True)
class Entry:
    """One mark to be made."""

    athlete: str | None
    kind: MarkKind
    entered: tuple[tuple[str, MarkValue], ...]


def read_entry(text: str, roster: tuple[str, ...], chosen: str | None) -> tuple[Entry, ...]:
    """Return the marks that a line asks for.

    Args:
        text: what was typed.
        roster: ids of the athletes in the order of their lane numbers.
        chosen: whom it is about when no lane is named.

    Raises:
        UsageError: a lane that isn't there, or a value that can't be; says what would do.
    """
    words = text.split()
    athletes, words = _whom(words, roster, chosen)
    if not words:
        raise UsageError(said("nothing was entered; type a note, or for instance: rpe 7"))
    kind, entered = _what(words)
    checked_details(kind, entered)
    return tuple(Entry(athlete, kind, tuple(entered.items())) for athlete in athletes)


def _whom(
    words: list[str], roster: tuple[str, ...], chosen: str | None
) -> tuple[tuple[str | None, ...], list[str]]:
    """Take lane numbers off the front, if what follows them is something to be entered."""
    first = words[0].lower() if words else ""
    if first == _ALL and len(words) > 1:
        return (None,), words[1:]
    parts = first.split(",")
    if len(words) < 2 or not all(part.isascii() and part.isdigit() for part in parts):
        return (chosen,), words
    numbers = [int(part) for part in parts]
    for number in numbers:
        if not 1 <= number <= len(roster):
            raise UsageError(
                said(
                    "there is no lane {number}; lanes go from 1 to {last}",
                    number=number, last=len(roster),
                )
            )  # fmt: skip
    return tuple(roster[number - 1] for number in dict.fromkeys(numbers)), words[1:]


def _what(words: list[str]) -> tuple[MarkKind, Mapping[str, MarkValue]]:
    reader = _READERS.get(words[0].lower())
    if reader is None or (len(words) == 1 and words[0].lower() not in _ALONE):
        return MarkKind.NOTE, {"text": " ".join(words)}
    return reader(words[1:])


def _rpe(words: list[str]) -> tuple[MarkKind, Mapping[str, MarkValue]]:
    return MarkKind.RPE, {"rpe_cr10": " ".join(words)}


def _lactate(words: list[str]) -> tuple[MarkKind, Mapping[str, MarkValue]]:
    entered: dict[str, MarkValue] = {}
    if len(words) > 1 and words[-1].lower() in SAMPLING_SITES:
        entered["sampling_site"] = words[-1].lower()
        words = words[:-1]
    return MarkKind.LACTATE, {"lactate_mmol_l": " ".join(words), **entered}


def _load(words: list[str]) -> tuple[MarkKind, Mapping[str, MarkValue]]:
    key = "load_w" if words[-1].lower() == "w" else "load_kg"
    return MarkKind.LOAD, {key: " ".join(words)}


def _repetitions(words: list[str]) -> tuple[MarkKind, Mapping[str, MarkValue]]:
    return MarkKind.REPETITIONS, {"repetitions": " ".join(words)}


def _bout(words: list[str]) -> tuple[MarkKind, Mapping[str, MarkValue]]:
    return MarkKind.BOUT_START, {"work": " ".join(words)} if words else {}


def _end(words: list[str]) -> tuple[MarkKind, Mapping[str, MarkValue]]:
    return MarkKind.RECOVERY_START, {"planned_s": " ".join(words)} if words else {}


def _plan(words: list[str]) -> tuple[MarkKind, Mapping[str, MarkValue]]:
    if [word.lower() for word in words] == ["stop"]:
        return MarkKind.PLAN, {}
    return MarkKind.NOTE, {"text": " ".join(("plan", *words))}


_READERS: Final[Mapping[str, Callable[[list[str]], tuple[MarkKind, Mapping[str, MarkValue]]]]] = {
    "rpe": _rpe,
    "la": _lactate,
    "lactate": _lactate,
    "load": _load,
    "reps": _repetitions,
    "bout": _bout,
    "end": _end,
    "plan": _plan,
}
#: These mean something without a value.
_ALONE: Final = {"bout", "end"}
