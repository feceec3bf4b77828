"""How far a muscle has refilled, in words: "refilled to 92 % of baseline after 48 s"."""

from livemon.monitor.snapshot import RefillState
from livemon.tongue import said
from livemon.view.numbers import span, whole


def in_one_line(share: str, half: str) -> str:
    """Return both where there is room for one line only."""
    opening = said("refilled to {share}", share="")
    return f"{share.removeprefix(opening)}, {half}" if half else share


def refill_words(refill: RefillState) -> tuple[str, str]:
    """Return the share, and when it was half back; empty where not known."""
    half = (
        ""
        if refill.half_s is None
        else said("half back in {time}", time=span(round(refill.half_s)))
    )
    if refill.share_pct is None:
        return "", half
    percent, after = whole(refill.share_pct), span(refill.after_s)
    if refill.of_baseline:
        share = said("{percent} % of baseline after {time}", percent=percent, time=after)
    else:
        share = said("{percent} % of start level after {time}", percent=percent, time=after)
    return said("refilled to {share}", share=share), half
