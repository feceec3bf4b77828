"""Usual advice for placing sensors, each with its source, and cautions; shown on the Kit page."""

from dataclasses import dataclass
from typing import Final

from livemon.tongue import marked

_MCMANUS: Final = marked("McManus and others 2018, J Biomed Opt 23:015007")


@dataclass(frozen=True, slots=True)
class Advice:
    """One piece of advice, and whose it is."""

    words: str
    source: str


ADVICE: Final = (
    Advice(
        marked(
            "Seat each oximeter on the belly of the muscle, at the same place and turned the same "
            "way each time: measure from a bone and note it."
        ),
        marked("common practice"),
    ),
    Advice(
        marked(
            "Snug, not tight: above about 20 mmHg of pressure the strap itself can fake a fall."
        ),
        _MCMANUS,
    ),
    Advice(
        marked(
            "Over more than 7 mm of fat and skin the signal is mostly theirs, and trends look too "
            "small."
        ),
        _MCMANUS,
    ),
    Advice(
        marked("Cover it from light. Wet the electrodes of the heart-rate strap."),
        marked("light: JoVE protocol 66511; electrodes: common practice"),
    ),
)

CAUTION: Final = marked(
    "Training information, not a medical device. Screen people before hard exercise; local rules "
    "and licensed practice come first."
)

#: Beyond it devices no longer agree (McManus 2018).
THICK_MM: Final = 7.0
THICK: Final = marked(
    "{mm} mm of fat and skin: over more than 7 mm the signal is mostly theirs. Levels read too high"
    " and changes too small, so a drain may go unnoticed. Choose a leaner muscle if you can."
)

BASELINE: Final = marked("Sit or stand still with the muscle relaxed; it takes one to two minutes.")
