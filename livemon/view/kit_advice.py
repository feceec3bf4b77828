"""Usual advice and cautions for placing sensors, shown on the Kit page."""

from typing import Final

ADVICE: Final = (
    "Seat each oximeter on the belly of the muscle, at the same place and turned the same way each "
    "time: measure from a bone and note it.",
    "Snug, not tight: above about 20 mmHg of pressure the strap itself can fake a fall.",
    "Over more than 7 mm of fat and skin the signal is mostly theirs, and trends look too small.",
    "Cover it from light. Wet the electrodes of the heart-rate strap.",
)
#: Pressure and 7 mm: McManus 2018; light: JoVE protocol 66511.
SOURCES: Final = "McManus and others, 2018; JoVE protocol 66511"

CAUTION: Final = (
    "Training information, not a medical device. Screen people before hard exercise; local rules "
    "and licensed practice come first."
)

#: Beyond it devices no longer agree (McManus 2018).
THICK_MM: Final = 7.0
THICK: Final = (
    "{mm} mm of fat and skin: over more than 7 mm the signal is mostly theirs. Levels read too high"
    " and changes too small, so a drain may go unnoticed. Choose a leaner muscle if you can."
)

BASELINE: Final = "Sit or stand still with the muscle relaxed; it takes one to two minutes."
