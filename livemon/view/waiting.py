"""What stands on the screen before anybody is measured."""

from typing import Final

TITLE: Final = "Waiting for the strap…"

STEPS: Final = (
    "Wet the strap's electrodes and put it on: most straps only wake up on skin.",
    "Switch each muscle sensor on, seat it on the belly of the muscle and cover it from light.",
    "Keep them within a few metres of this computer, and unlinked from phones and watches.",
)

#: Usual caution for training with measured intensity; local rules come first.
CAUTION: Final = (
    "Training information, not a medical device. Screen people before hard exercise, stop on "
    "pain, dizziness or faintness, and follow your local rules."
)
