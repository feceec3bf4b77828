"""Turn one athlete's state into all that the Pace page shows. Pure: no clock, no screen."""

from livemon.monitor.snapshot import LaneState
from livemon.tongue import said
from livemon.view.chart_words import chart_model
from livemon.view.clock_words import clock_model
from livemon.view.effort_words import effort_models
from livemon.view.heart_rate_words import heart_rate_model
from livemon.view.model import ClockModel, HeartRateModel, PaceModel, SiteModel, WatchModel
from livemon.view.plan_words import step_remark
from livemon.view.remarks import remarks
from livemon.view.settings import ViewSettings
from livemon.view.site_words import site_models
from livemon.view.watch_words import watch_model
from livemon.view.words import sentence_case


def present(lane: LaneState, settings: ViewSettings, notices: tuple[str, ...] = ()) -> PaceModel:
    """Word, round and place everything that is known about one athlete.

    Args:
        lane: their state.
        settings: how much of the past, and what counts as a low battery.
        notices: words of the program itself, shown behind the sensors' remarks.
    """
    heart_rate = heart_rate_model(lane.state.heart_rate, lane.band_bpm)
    sites = site_models(lane)
    watch = watch_model(lane)
    bout_clock = clock_model(lane)
    return PaceModel(
        athlete=lane.athlete,
        name=lane.name or lane.athlete,
        clock=bout_clock,
        remarks=(
            *step_remark(lane.plan),
            *remarks(lane.sensors, settings.battery_low_pct),
            *notices,
        ),
        heart_rate=heart_rate,
        sites=sites,
        watch=watch,
        chart=chart_model(lane, settings.window_s, heart_rate, sites),
        effort=effort_models(lane),
        table=_table(lane, bout_clock, heart_rate, sites, watch),
    )


def _table(
    lane: LaneState,
    bout_clock: ClockModel,
    heart_rate: HeartRateModel,
    sites: tuple[SiteModel, ...],
    watch: WatchModel,
) -> tuple[tuple[str, str], ...]:
    rows = [(said("Watch"), watch.sentence)]
    if bout_clock.title:
        rows.append((bout_clock.title, f"{bout_clock.elapsed} {bout_clock.planned}".rstrip()))
    rows.append((said("Heart rate, bpm"), _joined(heart_rate.text, heart_rate.line)))
    if heart_rate.band is not None:
        low, high = heart_rate.band
        rows.append((said("Heart-rate band, bpm"), said("{low} to {high}", low=low, high=high)))
    rows += [(one.name, one.whole) for one in effort_models(lane)]
    for site in sites:
        rows.append((f"{site.name}, SmO₂ %", _joined(site.text, site.detail, site.further or "")))
        rows.append(
            (said("{site}, trend", site=site.name), _joined(site.balance, site.rate, site.interval))
        )
    for sensor in lane.sensors:
        battery = said("battery not known")
        if sensor.battery_pct is not None:
            battery = said("battery {percent} %", percent=sensor.battery_pct)
        link = said("linked") if sensor.linked else said("no link")
        rows.append((sentence_case(sensor.name), _joined(link, battery)))
    return tuple(rows)


def _joined(*parts: str) -> str:
    return ", ".join(part for part in parts if part)
