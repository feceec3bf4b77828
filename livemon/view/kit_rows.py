"""The lines of the Kit page's two lists: a title, a value on the right, a quiet line below."""

from dataclasses import dataclass
from typing import Final

from livemon.view.kit_model import KitModel, NearbyModel, WornModel
from livemon.view.model import Tone
from livemon.view.words import sentence_case, shortened

#: Longer names are cut in a line; the chosen sensor shows them whole.
_LONGEST_WHO: Final = 24
_LONGEST_NAME: Final = 26


@dataclass(frozen=True, slots=True)
class KitRow:
    """One line of a list.

    Attributes:
        key: stays the same while the words change.
        big: the value is a reading, not a remark.
        needs: somebody has to do something.
    """

    key: str
    title: str
    value: str
    tone: Tone
    below: str
    big: bool
    needs: bool
    spoken: str


def nearby_rows(model: KitModel) -> tuple[KitRow, ...]:
    """Return what is nearby, line by line."""
    return tuple(_nearby(one) for one in model.nearby)


def worn_rows(model: KitModel) -> tuple[KitRow, ...]:
    """Return what is in use, line by line."""
    return tuple(_worn(one) for one in model.worn)


def _nearby(one: NearbyModel) -> KitRow:
    spoken = ", ".join((one.name, one.kind, one.strength))
    tone = Tone.FRESH if one.likely else Tone.OLD
    below = sentence_case(one.kind)
    return KitRow(one.key, one.name, one.strength, tone, below, False, False, spoken)


def _worn(one: WornModel) -> KitRow:
    title = f"{shortened(one.who, _LONGEST_WHO)} · {shortened(one.site, _LONGEST_NAME)}"
    below = f"{shortened(one.name, _LONGEST_NAME)} · {one.state}"
    parts = (one.who, one.site, one.value, one.name, one.state, one.hint)
    spoken = ", ".join(part for part in parts if part)
    return KitRow(one.sensor, title, one.value, one.tone, below, True, one.needs, spoken)
