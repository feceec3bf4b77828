"""A class as text: one line an athlete, most urgent on top."""

from typing import Final

from livemon.monitor.snapshot import SessionSnapshot
from livemon.view.lanes_model import LaneModel, LanesModel
from livemon.view.model import EffortModel, SiteModel, Tone
from livemon.view.numbers import DASH
from livemon.view.present_lanes import lane_models, present_lanes
from livemon.view.settings import ViewSettings
from livemon.view.standstill import lanes_now
from livemon.view.terminal.cells import cells, fitted
from livemon.view.words import PRIORITY

_NAME: Final = 16
_SITE: Final = 36
_EFFORT: Final = 13


def roll(
    snapshot: SessionSnapshot, settings: ViewSettings, width: int, still_s: float
) -> tuple[str, ...]:
    """Return a head and a line for each lane, each exactly `width` cells wide."""
    models = lane_models(snapshot, settings)
    order = sorted(models, key=lambda athlete: (models[athlete].urgency, models[athlete].number))
    page = lanes_now(present_lanes(models, order), snapshot, still_s, held=False)
    measured = any(lane.effort is not None for lane in page.lanes)
    effort = _EFFORT if measured else 0
    lines = [_head(page), "─" * width, *(_line(lane, width, effort) for lane in page.lanes)]
    return tuple(fitted(line, width) for line in lines)


def _head(page: LanesModel) -> str:
    clock = f"{page.clock.elapsed} {page.clock.planned}".strip()
    return "   ".join(part for part in (page.title, clock, page.summary) if part)


def _line(lane: LaneModel, width: int, effort: int) -> str:
    """Put the reason behind the numbers; where that is too long, before them."""
    work = fitted("" if lane.effort is None else _effort(lane.effort), effort)
    words = f"{PRIORITY[lane.priority].upper()}: {lane.words}" if lane.priority else lane.words
    sites = "".join(fitted(_site(site), _SITE) for site in lane.sites)
    head = f"{fitted(f'{lane.number:>2} {lane.name}', _NAME)} HR {fitted(_rate(lane), 8)}"
    if words and cells(head + work + sites + words) > width:
        return f"{head}{words}  {work}{sites}"
    return f"{head}{work}{sites}{words}"


def _effort(effort: EffortModel) -> str:
    return effort.text + (" old" if effort.tone is Tone.OLD else "")


def _rate(lane: LaneModel) -> str:
    return lane.heart_rate.text + (" old" if lane.heart_rate.tone is Tone.OLD else "")


def _site(site: SiteModel) -> str:
    number = site.text if site.text == DASH else f"{site.text} %"
    if site.tone is not Tone.FRESH:
        return f"{fitted(site.name, 10)} {number} {site.detail}"
    return f"{fitted(site.name, 10)} {number} {site.balance} {site.rate.removesuffix(' %/min')}"
