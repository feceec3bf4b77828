"""Notice that nothing new comes from the session, and say so instead of looking alive.

A picture that has stopped looks like a picture that is steady. So when the session's time no
longer moves, everything turns grey and the watch line says since when.
"""

from dataclasses import replace
from typing import Final

from livemon.view.model import CurveModel, HeartRateModel, PaceModel, SiteModel, Tone, WatchModel
from livemon.view.numbers import span

#: Session time moves at least twice a second; this many missed steps are no accident.
LIMIT_S: Final = 2.0


class Pulse:
    """Remembers when session time last moved, on the viewer's own clock."""

    def __init__(self) -> None:
        self._session_s: float | None = None
        self._moved_at_s = 0.0

    def still_for(self, session_s: float, now_s: float) -> float:
        """Return for how long session time has stood still, in seconds of the viewer."""
        if session_s != self._session_s:
            self._session_s, self._moved_at_s = session_s, now_s
        return now_s - self._moved_at_s


def standing_still(model: PaceModel, seconds: float) -> PaceModel:
    """Return `model` as it looks when the session has been silent for so long."""
    sentence = f"Nothing new from the session for {span(seconds)}: these are old numbers"
    return _greyed(model, WatchModel(None, sentence, fault=True))


def paused(model: PaceModel) -> PaceModel:
    """Return `model` as it looks while a replay is held."""
    return replace(model, watch=replace(model.watch, sentence=f"Paused. {model.watch.sentence}"))


def ended(model: PaceModel) -> PaceModel:
    """Return `model` as it looks after the end of the session."""
    return _greyed(model, WatchModel(None, "Session ended", fault=False))


def _greyed(model: PaceModel, watch: WatchModel) -> PaceModel:
    chart = replace(
        model.chart,
        sites=tuple(_old_curve(curve) for curve in model.chart.sites),
        heart_rate=_old_curve(model.chart.heart_rate),
    )
    table = tuple(row if row[0] != "Watch" else ("Watch", watch.sentence) for row in model.table)
    return replace(
        model,
        heart_rate=_old_heart_rate(model.heart_rate),
        sites=tuple(_old_site(site) for site in model.sites),
        watch=watch,
        chart=chart,
        table=table,
    )


def _old_heart_rate(model: HeartRateModel) -> HeartRateModel:
    tone = Tone.OLD if model.tone is Tone.FRESH else model.tone
    return replace(model, tone=tone, bpm=None)


def _old_site(model: SiteModel) -> SiteModel:
    if model.tone is not Tone.FRESH:
        return model
    return replace(model, tone=Tone.OLD, detail="old reading", warning=None, tilt=None)


def _old_curve(curve: CurveModel) -> CurveModel:
    tone = Tone.OLD if curve.tone is Tone.FRESH else curve.tone
    return replace(curve, tone=tone, forecast=None)
