"""A step of a plan, as recordings name it, in the language that was chosen.

Recordings keep a step in English, as `Step.words` puts it: they are compared, and read anywhere. So
its parts are recognised here: what a coach called the work stays as it is.
"""

import re
from typing import Final

from livemon.tongue import marked, said

#: Where a plan names no work.
_KINDS: Final = {
    "warm-up": marked("warm-up"),
    "bout": marked("bout"),
    "recovery": marked("recovery"),
}
#: What Step.words writes beside work and lengths.
_BAND: Final = re.compile(r"(\d+) to (\d+) bpm")
_REFILL: Final = re.compile(r"until refilled to ([\d.]+) % of baseline, at most ([^,]+)")


def step_said(words: str) -> str:
    """Return the step in the language spoken; what isn't known stays as it is."""
    first, comma, rest = words.partition(", ")
    if first in _KINDS:
        first = said(_KINDS[first])
    rest = _REFILL.sub(_refilled, rest)
    rest = _BAND.sub(_held, rest)
    return f"{first}{comma}{rest}"


def _refilled(found: re.Match[str]) -> str:
    return said(
        "until refilled to {share} % of baseline, at most {limit}",
        share=found[1],
        limit=found[2],
    )


def _held(found: re.Match[str]) -> str:
    return said("{low} to {high} bpm", low=found[1], high=found[2])
