"""One athlete: samples in, changes and a snapshot out.

Time is the samples' own. Inside it is whole microseconds since the first thing that was fed, so the
origin of `t_s` changes no bit of any estimate. Estimates are brought up to date once a second, at
whatever comes first after a second has ended: a sample of any sensor, or `advance`.
"""

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final

from livemon.decode.samples import HeartRateSample, OxygenationSample
from livemon.monitor.changes import Change
from livemon.monitor.pulse import Pulse
from livemon.monitor.site import Site
from livemon.monitor.snapshot import AthleteSnapshot
from livemon.series.admit import Refusal
from livemon.warn.settings import WarnSettings

_US: Final = 1_000_000

#: Seconds without any call after which nobody was watching: a computer that slept. Silence of
#: sensors alone is not it, as long as `advance` is called.
_UNWATCHED_S: Final = 30

_LATE_MARK_US: Final = 10 * _US

_NOTHING: Final[tuple[Change, ...]] = ()


class Monitor:
    """Watch one athlete.

    Args:
        sites: muscle sites, in the order in which they are shown; a site that is fed without
            having been named is added behind them.
        settings: thresholds of the drain warning.
        own_low_pct: lowest SmO2 from an earlier session at the same placement, by site.
    """

    __slots__ = ("_lows", "_now_s", "_now_us", "_origin_us", "_pulse", "_refused", "_second",
                 "_settings", "_sites")  # fmt: skip

    def __init__(
        self,
        sites: Sequence[str] = ("left thigh",),
        settings: WarnSettings | None = None,
        own_low_pct: Mapping[str, float] = MappingProxyType({}),
    ) -> None:
        self._settings = settings or WarnSettings()
        self._lows = dict(own_low_pct)
        self._pulse = Pulse()
        self._sites: dict[str, Site] = {}
        for site in sites:
            self._site(site)
        self._origin_us: int | None = None
        self._now_us = 0
        self._now_s = 0.0
        self._second = 0
        self._refused: dict[Refusal, int] = {}

    def feed(self, sample: HeartRateSample | OxygenationSample) -> tuple[Change, ...]:
        """Take one sample, in order of arrival; return what changed."""
        t_s = sample.t_s
        t_us = self._since_origin(t_s)
        changes = _NOTHING
        if t_us > self._now_us:
            if t_us // _US == self._second:
                self._now_us, self._now_s = t_us, t_s
            else:
                changes = self._pass_time(t_us, t_s)
        if isinstance(sample, OxygenationSample):
            site = self._sites.get(sample.site) or self._site(sample.site)
            refusal = site.feed(t_us, sample)
        else:
            refusal = self._pulse.feed(t_us, sample)
        if refusal is not None:
            self._refused[refusal] = self._refused.get(refusal, 0) + 1
        return changes

    def advance(self, t_s: float) -> tuple[Change, ...]:
        """Time passes and nothing arrived; return what changed."""
        t_us = self._since_origin(t_s)
        return self._pass_time(t_us, t_s) if t_us > self._now_us else _NOTHING

    def gap(self, t_s: float) -> tuple[Change, ...]:
        """Nobody was watching until `t_s`: windows, steadiness and warnings begin afresh."""
        t_us = max(self._since_origin(t_s), self._now_us)
        self._now_us, self._now_s = t_us, max(t_s, self._now_s)
        self._second = t_us // _US
        self._pulse.restart()
        changes: list[Change] = []
        for site in self._sites.values():
            changes.extend(site.restart(self._second, self._now_s))
        return tuple(changes)

    def add_site(self, site: str) -> None:
        """Show `site` from now on, even before its first reading."""
        if site not in self._sites:
            self._site(site)

    def drop_site(self, site: str) -> tuple[Change, ...]:
        """Show `site` no longer: its sensor was taken off; return what changed.

        Placed again it is another placement: neither its baseline nor the low found at it are kept.
        """
        dropped = self._sites.pop(site, None)
        return () if dropped is None else dropped.taken_off(self._second, self._now_s)

    def drop_heart_rate(self) -> None:
        """Show no heart rate until one comes: the strap was taken off."""
        self._pulse = Pulse()

    def load_changed(self, t_s: float) -> None:
        """A person said that a bout or a recovery began at `t_s`; a hint that is not needed.

        One that was entered late is left aside: by now heart rate itself has told.
        """
        if self._now_us - self._since_origin(t_s) < _LATE_MARK_US:
            self._pulse.load_changed()

    def set_baseline(self, site: str, pct: float | None) -> None:
        """Take `pct` as the resting level of `site`."""
        (self._sites.get(site) or self._site(site)).baseline_pct = pct

    def snapshot(self) -> AthleteSnapshot:
        """Return the state now."""
        t_us = self._now_us
        return AthleteSnapshot(
            t_s=self._now_s,
            heart_rate=self._pulse.state(t_us),
            sites=tuple(site.state(t_us) for site in self._sites.values()),
            refused=tuple(
                (reason.value, self._refused[reason])
                for reason in Refusal
                if reason in self._refused
            ),
        )

    def _since_origin(self, t_s: float) -> int:
        t_us = round(t_s * _US)
        if self._origin_us is None:
            self._origin_us = t_us
            self._now_s = t_s
        return t_us - self._origin_us

    def _site(self, name: str) -> Site:
        site = self._sites[name] = Site(name, self._settings, self._lows.get(name))
        return site

    def _pass_time(self, t_us: int, t_s: float) -> tuple[Change, ...]:
        second = t_us // _US
        if second == self._second:
            self._now_us, self._now_s = t_us, t_s
            return _NOTHING
        if second - self._second > _UNWATCHED_S:
            return self.gap(t_s)
        self._now_us, self._now_s = t_us, t_s
        changes: list[Change] = []
        assert self._origin_us is not None
        while self._second < second:
            self._second += 1
            t_ns = (self._origin_us + self._second * _US) * 1000
            self._pulse.end_second(t_ns, self._second)
            for site in self._sites.values():
                changes.extend(site.end_second(self._second, t_ns, t_s, self._pulse.steadiness))
        return tuple(changes)
