"""Find the offset of every field, given which of the optional ones a packet holds.

Presence bits are the packet's switches. For each setting of them the layout is a fixed one, so
it need be worked out only once per setting and not for every packet.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from livemon.decode.layout import Condition, Field

Switch = tuple[int, int]  #: octet and bit of a presence bit
Setting = tuple[bool, ...]  #: one answer for each switch


@dataclass(frozen=True, slots=True)
class Placed:
    """A field that is in the packet, and where."""

    index: int  #: of the field, in the order of the adapter file
    field: Field
    offset: int

    @property
    def end(self) -> int:
        """First octet behind it."""
        return self.offset + self.field.word.format.octets


def switches(fields: tuple[Field, ...]) -> tuple[Switch, ...]:
    """Return the presence bits, each once, in the order in which they are first used."""
    return tuple(dict.fromkeys(f.present_if.place for f in fields if f.present_if is not None))


def settings(fields: tuple[Field, ...]) -> Iterator[Setting]:
    """Yield every setting of the presence bits."""
    yield from product((False, True), repeat=len(switches(fields)))


def place(fields: tuple[Field, ...], setting: Setting) -> tuple[Placed, ...]:
    """Return the fields that a packet with this setting holds."""
    answers = dict(zip(switches(fields), setting, strict=True))
    placed, behind = [], 0
    for index, field in enumerate(fields):
        if not _is_present(field.present_if, answers):
            continue
        found = Placed(index, field, behind if field.offset is None else field.offset)
        placed.append(found)
        behind = found.end
    return tuple(placed)


def _is_present(condition: Condition | None, answers: dict[Switch, bool]) -> bool:
    return condition is None or answers[condition.place] is condition.is_set
