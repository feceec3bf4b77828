"""Heart rate in words: where in the band, and does it hold?"""

from livemon.estimate.steadiness import Steadiness
from livemon.monitor.snapshot import HeartRateState, Trust
from livemon.tongue import said
from livemon.view.fault import strap_fault
from livemon.view.model import HeartRateModel, Tone
from livemon.view.numbers import DASH, rate, span, whole
from livemon.view.words import TONE, sentence_case


def heart_rate_model(state: HeartRateState, band: tuple[int, int] | None) -> HeartRateModel:
    """Word one heart rate.

    A stale value is still shown, grey and with its age; a value without contact, or one that
    jumped, is not.
    """
    shown = state.bpm if state.trust in {Trust.GOOD, Trust.STALE} else None
    text = whole(shown)
    tone = Tone.ABSENT if text == DASH and state.trust is Trust.GOOD else TONE[state.trust]
    line = strap_fault(state) or _line(state, band)
    return HeartRateModel(
        text=text,
        tone=tone,
        line=line,
        bpm=shown if state.trust is Trust.GOOD else None,
        band=band,
        spoken=_spoken(text) + (f", {line}" if line else ""),
    )


def _spoken(text: str) -> str:
    if text == DASH:
        return said("Heart rate not known")
    return said("Heart rate {bpm} beats per minute", bpm=text)


def _line(state: HeartRateState, band: tuple[int, int] | None) -> str:
    parts = (_place(state.bpm, band), _hold(state))
    return ", ".join(part for part in parts if part)


def _place(bpm: float | None, band: tuple[int, int] | None) -> str:
    """Compare what is shown, so that 152.4 in a band from 152 isn't called "0 over"."""
    if bpm is None or band is None:
        return ""
    low, high = band
    shown = round(bpm)
    if shown < low:
        return said("{bpm} under band", bpm=low - shown)
    if shown > high:
        return said("{bpm} over band", bpm=shown - high)
    return said("in band")


def _hold(state: HeartRateState) -> str:
    if state.steadiness is Steadiness.STEADY:
        if state.steady_for_s is None:
            return said("steady")
        return said("steady for {time}", time=span(state.steady_for_s))
    if state.steadiness is Steadiness.UNDECIDABLE:
        return ""
    drift = state.drift_bpm_per_min
    if drift is None or rate(drift) in {"0", DASH}:
        return said("moving")
    if drift > 0:
        return said("rising {rate} bpm/min", rate=rate(drift))
    return said("falling {rate} bpm/min", rate=rate(drift))


def steadiness_reason(state: HeartRateState) -> str:
    """Return why no warning could be given because of heart rate, or nothing."""
    fault = strap_fault(state)
    if fault:
        return sentence_case(fault)
    if state.steadiness is Steadiness.MOVING:
        return said("Heart rate is moving")
    if state.steadiness is Steadiness.UNDECIDABLE:
        return said("Too little heart rate yet to tell whether it holds")
    return ""
