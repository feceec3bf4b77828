"""The Pace page as lines of text: the same model, the same words, no colour."""

from typing import Final

from livemon.view.axis import bpm_range, smo2_range
from livemon.view.model import PaceModel, SiteModel, Tilt, Tone
from livemon.view.numbers import DASH
from livemon.view.terminal.cells import cells, fitted
from livemon.view.terminal.spark import spark
from livemon.view.words import PRIORITY
from livemon.warn.priority import Priority

#: Slopes beyond this are drawn as tilted; the same as half the fall that matters at all.
_LEVEL_PCT_PER_MIN: Final = 1.0
_MARK: Final = {
    Priority.INFORMATION: "○",
    Priority.CAUTION: "△",
    Priority.DRAIN: "▲",
}
_NAME: Final = 20


def picture(model: PaceModel, width: int) -> tuple[str, ...]:
    """Return one athlete as lines, each exactly `width` cells wide."""
    head = _sides(
        f"{model.name}  {model.clock.title}", f"{model.clock.elapsed} {model.clock.planned}", width
    )
    rate = model.heart_rate
    band = f"  band {rate.band[0]}–{rate.band[1]}" if rate.band else ""
    number = f"{fitted('  Heart rate', _NAME + 2)}{rate.text:>4} bpm{_old(rate.tone)}"
    lines = [head, "─" * width, f"{number}{band}  {rate.line}"]
    if model.effort:
        lines.append(fitted("  Effort", _NAME + 3) + " · ".join(one.whole for one in model.effort))
    for site in model.sites:
        lines += _site(site)
    lines += ["", watch_line(model), ""]
    lines += _curves(model, width)
    if model.remarks:
        lines.append(" · ".join(model.remarks))
    return tuple(fitted(line, width) for line in lines)


def watch_line(model: PaceModel) -> str:
    """Return the watch line, with its priority in words before it."""
    watch = model.watch
    if watch.priority is None:
        return watch.sentence
    return f"{_MARK[watch.priority]} {PRIORITY[watch.priority].upper()}: {watch.sentence}"


def status_line(model: PaceModel) -> str:
    """Return one athlete in a single line, for where lines can't be drawn over."""
    sites = [_short(site) for site in model.sites]
    clock = f"{model.clock.title} {model.clock.elapsed} {model.clock.planned}".strip()
    parts = (
        model.name,
        clock,
        f"HR {model.heart_rate.text}",
        ", ".join(one.whole for one in model.effort),
        *sites,
        watch_line(model),
    )
    return " | ".join(part for part in parts if part)


def _short(site: SiteModel) -> str:
    if site.tone is not Tone.FRESH:
        return f"{site.name} {_percent(site)} {site.detail}"
    half = f", {site.further}" if site.further else ""
    return f"{site.name} {_percent(site)} {site.balance} {site.rate}{half}"


def _site(site: SiteModel) -> list[str]:
    mark = _MARK[site.warning] if site.warning else " "
    first = f"{mark} {fitted(site.name, _NAME)}{_percent(site):>6}{_old(site.tone)}"
    if site.tone is not Tone.FRESH:
        return [f"{first}  {site.detail}"]
    trend = f"{first}  {_slant(site.tilt)} {fitted(site.balance, 13)} {site.rate} {site.interval}"
    details = ", ".join(part for part in (site.detail, site.further) if part)
    return [trend, " " * (_NAME + 12) + details] if details else [trend]


def _percent(site: SiteModel) -> str:
    return site.text if site.text == DASH else f"{site.text} %"


def _old(tone: Tone) -> str:
    return " (old)" if tone is Tone.OLD else ""


def _slant(tilt: Tilt | None) -> str:
    if tilt is None or not tilt.sure:
        return " "
    if tilt.slope > _LEVEL_PCT_PER_MIN:
        return "╱"
    return "╲" if tilt.slope < -_LEVEL_PCT_PER_MIN else "─"


def _curves(model: PaceModel, width: int) -> list[str]:
    chart = model.chart
    room = width - _NAME - 12
    if room < 10:
        return []
    lines = []
    ranges = [smo2_range(chart)] * len(chart.sites) + [bpm_range(chart)]
    for curve, values in zip((*chart.sites, chart.heart_rate), ranges, strict=True):
        low, high = values
        scale = f"{low:>4.0f}–{high:<4.0f}"
        lines.append(f"  {fitted(curve.label, _NAME)}{scale} {spark(curve, chart, values, room)}")
    ends = _sides(f"−{chart.window_s / 60:.0f} min", "now", room)
    return [*lines, " " * (_NAME + 12) + ends]


def _sides(left: str, right: str, width: int) -> str:
    """Return `left` and `right` at the two ends of one line; the right one is never cut."""
    right = right.strip()
    room = max(width - cells(right) - (2 if right else 0), 0)
    return fitted(left, room) + ("  " + right if right else "")
