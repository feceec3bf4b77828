"""What stands on the screen before anybody is measured."""

from typing import Final

from livemon.tongue import marked

TITLE: Final = marked("Waiting for the strap…")

STEPS: Final = (
    marked("Wet the strap's electrodes and put it on: most straps only wake up on skin."),
    marked(
        "Switch each muscle sensor on, seat it on the belly of the muscle and cover it from light."
    ),
    marked("Keep them within a few metres of this computer, and unlinked from phones and watches."),
)

#: Usual caution for training with measured intensity; local rules come first.
CAUTION: Final = marked(
    "Training information, not a medical device. Screen people before hard exercise, stop on "
    "pain, dizziness or faintness, and follow your local rules."
)
