"""Usual advice and cautions for placing sensors, shown on the Kit page."""

from typing import Final

from livemon.tongue import marked

#: Pressure and 7 mm: McManus and others, 2018; light: JoVE protocol 66511.
ADVICE: Final = (
    marked(
        "Seat each oximeter on the belly of the muscle, at the same place and turned the same way "
        "each time: measure from a bone and note it."
    ),
    marked("Snug, not tight: above about 20 mmHg of pressure the strap itself can fake a fall."),
    marked(
        "Over more than 7 mm of fat and skin the signal is mostly theirs, and trends look too "
        "small."
    ),
    marked("Cover it from light. Wet the electrodes of the heart-rate strap."),
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
