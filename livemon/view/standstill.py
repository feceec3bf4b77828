"""Notice that nothing new comes from the session, and say so instead of looking alive.

A picture that has stopped looks like a picture that is steady. So when the session's time no
longer moves, everything turns grey and the watch line says since when.
"""

from dataclasses import replace
from typing import Final

from livemon.monitor.snapshot import SessionSnapshot
from livemon.tongue import said
from livemon.view.lanes_model import LanesModel, Urgency
from livemon.view.model import (
    CurveModel,
    EffortModel,
    HeartRateModel,
    PaceModel,
    SiteModel,
    Tone,
    WatchModel,
)
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


def pace_now(
    model: PaceModel, snapshot: SessionSnapshot, still_s: float, *, held: bool
) -> PaceModel:
    """Return the Pace page as it is true at this moment; `held` is a replay that is paused."""
    if snapshot.ended:
        return _greyed(model, WatchModel(None, said("Session ended"), fault=False))
    if held:
        watch = replace(model.watch, sentence=said("Paused. {watch}", watch=model.watch.sentence))
        return replace(model, watch=watch)
    if still_s > LIMIT_S:
        sentence = said("{reason}: these are old numbers", reason=_nothing_new(still_s))
        return _greyed(model, WatchModel(None, sentence, fault=True))
    return model


def lanes_now(
    model: LanesModel, snapshot: SessionSnapshot, still_s: float, *, held: bool
) -> LanesModel:
    """Return the Lanes page as it is true at this moment."""
    if snapshot.ended:
        return _greyed_lanes(model, said("Session ended"))
    if held:
        return replace(model, summary=f"{said('Paused')} · {model.summary}")
    if still_s > LIMIT_S:
        return _greyed_lanes(model, _nothing_new(still_s))
    return model


def _nothing_new(still_s: float) -> str:
    return said("Nothing new from the session for {time}", time=span(still_s))


def _greyed(model: PaceModel, watch: WatchModel) -> PaceModel:
    chart = replace(
        model.chart,
        sites=tuple(_old_curve(curve) for curve in model.chart.sites),
        heart_rate=_old_curve(model.chart.heart_rate),
    )
    label = said("Watch")
    table = tuple(row if row[0] != label else (label, watch.sentence) for row in model.table)
    return replace(
        model,
        heart_rate=_old_heart_rate(model.heart_rate),
        sites=tuple(_old_site(site) for site in model.sites),
        watch=watch,
        chart=chart,
        table=table,
        effort=tuple(_old_effort(one) for one in model.effort),
    )


def _old_heart_rate(model: HeartRateModel) -> HeartRateModel:
    tone = Tone.OLD if model.tone is Tone.FRESH else model.tone
    return replace(model, tone=tone, bpm=None)


def _old_effort(model: EffortModel) -> EffortModel:
    return replace(model, tone=Tone.OLD) if model.tone is Tone.FRESH else model


def _old_site(model: SiteModel) -> SiteModel:
    if model.tone is not Tone.FRESH:
        return model
    return replace(model, tone=Tone.OLD, detail=said("old reading"), warning=None, tilt=None)


def _old_curve(curve: CurveModel) -> CurveModel:
    tone = Tone.OLD if curve.tone is Tone.FRESH else curve.tone
    return replace(curve, tone=tone, forecast=None)


def _greyed_lanes(model: LanesModel, summary: str) -> LanesModel:
    lanes = tuple(
        replace(
            lane,
            heart_rate=_old_heart_rate(lane.heart_rate),
            effort=None if lane.effort is None else _old_effort(lane.effort),
            sites=tuple(_old_site(site) for site in lane.sites),
            words="",
            priority=None,
            urgency=Urgency.CALM,
        )
        for lane in model.lanes
    )
    return replace(model, summary=summary, lanes=lanes)
