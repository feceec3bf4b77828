"""Feed a trace to a monitor and write down what it says, through the public interface alone."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, Protocol

from livemon.decode.samples import HeartRateSample, OxygenationSample
from livemon.estimate.trend import Forecast, Trend
from livemon.monitor.changes import Change, WarningOff, WarningOn
from livemon.monitor.snapshot import AthleteSnapshot
from livemon.score.trace import Trace

#: How often the snapshot is looked at.
PROBE_S: Final = 5.0
#: Silence longer than this is told to the monitor, as the ticks of a live session do.
_TICK_S: Final = 1.0


class Watching(Protocol):
    """What is scored: `livemon.Monitor`, or anything that behaves like it."""

    def feed(self, sample: HeartRateSample | OxygenationSample) -> tuple[Change, ...]:
        """Take a sample; return what changed."""

    def advance(self, t_s: float) -> tuple[Change, ...]:
        """Let time pass; return what changed."""

    def snapshot(self) -> AthleteSnapshot:
        """Return the state."""


MakeMonitor = Callable[[tuple[str, ...]], Watching]


@dataclass(frozen=True, slots=True)
class Shown:
    """One warning at one site; `off_s` is None where it outlasted the trace."""

    site: int
    on_s: float
    off_s: float | None


@dataclass(frozen=True, slots=True)
class Probe:
    """What one site's snapshot claimed at one moment."""

    t_s: float
    site: int
    trend: Trend | None
    forecast: Forecast | None
    own_low_pct: float | None


@dataclass(frozen=True, slots=True)
class Watched:
    """All that the monitor said about one trace."""

    warnings: tuple[Shown, ...]
    probes: tuple[Probe, ...]


def watch(trace: Trace, make: MakeMonitor) -> Watched:
    """Feed the whole trace to a fresh monitor."""
    sites = tuple(site.site for site in trace.truth.sites)
    monitor = make(sites)
    changes: list[Change] = []
    probes: list[Probe] = []
    now_s, next_probe_s = 0.0, PROBE_S
    for sample in trace.samples:
        while sample.t_s - now_s > _TICK_S:
            now_s += _TICK_S
            changes += monitor.advance(now_s)
        now_s = max(now_s, sample.t_s)
        changes += monitor.feed(sample)
        if now_s >= next_probe_s:
            probes += _look(monitor.snapshot(), now_s)
            next_probe_s += PROBE_S
    return Watched(_paired(changes, sites), tuple(probes))


def _look(snapshot: AthleteSnapshot, now_s: float) -> list[Probe]:
    return [
        Probe(now_s, i, state.trend, state.forecast, state.own_low_pct)
        for i, state in enumerate(snapshot.sites)
    ]


def _paired(changes: list[Change], sites: tuple[str, ...]) -> tuple[Shown, ...]:
    """Put each WarningOn and the WarningOff that ends it together."""
    shown: list[Shown] = []
    on_s: dict[str, float] = {}
    for change in changes:
        if isinstance(change, WarningOn):
            on_s[change.site] = change.t_s
        elif isinstance(change, WarningOff) and change.site in on_s:
            shown.append(Shown(sites.index(change.site), on_s.pop(change.site), change.t_s))
    shown += [Shown(sites.index(site), t_s, None) for site, t_s in on_s.items()]
    return tuple(sorted(shown, key=lambda s: s.on_s))


def livemon_monitor(sites: tuple[str, ...]) -> Watching:
    """Make the monitor that livemon ships, with its default settings."""
    from livemon.monitor.athlete import Monitor

    return Monitor(sites=sites)
