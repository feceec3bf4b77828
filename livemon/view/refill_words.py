"""How far a muscle has refilled, in words: "refilled to 92 % of baseline after 48 s"."""

from typing import Final

from livemon.monitor.snapshot import RefillState
from livemon.view.numbers import span, whole

_REFILLED: Final = "refilled to "


def in_one_line(share: str, half: str) -> str:
    """Return both where there is room for one line only."""
    return f"{share.removeprefix(_REFILLED)}, {half}" if half else share


def refill_words(refill: RefillState) -> tuple[str, str]:
    """Return the share, and when it was half back; empty where not known."""
    half = "" if refill.half_s is None else f"half back in {span(round(refill.half_s))}"
    if refill.share_pct is None:
        return "", half
    full = "baseline" if refill.of_baseline else "start level"
    after = span(refill.after_s)
    return f"{_REFILLED}{whole(refill.share_pct)} % of {full} after {after}", half
