"""How warnings behave towards people: they call, are seen, linger, may be set aside.

                 on again, or worse
          ┌──────────────────────────────┐
    (none) ──on──▶ CALLING ──seen──▶ SEEN ──off──▶ (none)
                      │                ▲
                     off          (worse: back to CALLING)
                      ▼
                   LINGERING ──seen──▶ (none)

A warning calls until somebody has seen it. One that ended unseen lingers, so that nobody misses
what happened behind their back. A lane that is set aside, for a time or until it is put back,
neither calls nor lingers, but its warnings are still logged. Information never calls.

The words follow the common grammar of ISA-18.2 and IEC 62682 (acknowledge, shelve, out of service,
latch); no conformity is claimed. Pure: time is session time, and comes with each call.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import Enum
from typing import Final

from livemon.monitor.snapshot import LaneState, WarningState
from livemon.tongue import said
from livemon.view.flood import Flood
from livemon.view.numbers import span
from livemon.view.watch_words import warning_sentence
from livemon.view.words import URGENCY
from livemon.warn.priority import Priority

#: The log is for one session's work; older lines give way (own choice).
_LOG_LINES: Final = 500
#: Long enough to deal with somebody, short enough not to be forgotten (own choice).
ASIDE_S: Final = 300.0


class Stage(Enum):
    """Where a warning stands between the body and the coach."""

    CALLING = "calling"
    SEEN = "seen"
    LINGERING = "lingering"


@dataclass(frozen=True, slots=True)
class Signal:
    """One warning from its start until nobody needs to know of it any more."""

    athlete: str
    site: str
    stage: Stage
    priority: Priority  #: the highest it had
    on_s: float
    off_s: float | None
    evidence: str  #: the sentence as it was when the warning came on or became worse
    seen_s: float | None = None


@dataclass(frozen=True, slots=True)
class Conduct:
    """The warnings of a session as people have dealt with them.

    Attributes:
        aside: until when each lane is set aside; None until it is put back.
        log: warnings that are over and done with, oldest first.
    """

    signals: tuple[Signal, ...] = ()
    aside: tuple[tuple[str, float | None], ...] = ()
    log: tuple[Signal, ...] = ()
    flood: Flood = Flood()  # noqa: RUF009 - frozen, so one may be shared

    def is_aside(self, athlete: str) -> bool:
        """Return whether this lane is set aside."""
        return any(lane == athlete for lane, _ in self.aside)

    def of(self, athlete: str) -> tuple[Signal, ...]:
        """Return this lane's signals, the most urgent first."""
        mine = (signal for signal in self.signals if signal.athlete == athlete)
        return tuple(sorted(mine, key=lambda signal: (-URGENCY[signal.priority], signal.on_s)))

    def calls(self, athlete: str) -> bool:
        """Return whether this lane should draw attention to itself now."""
        return not self.is_aside(athlete) and any(
            signal.stage is Stage.CALLING
            and not (self.flood.on and signal.priority is not Priority.DRAIN)
            for signal in self.of(athlete)
        )


#: The beginning of every session.
NOTHING_YET: Final = Conduct()


def observe(conduct: Conduct, lanes: Iterable[LaneState], t_s: float) -> Conduct:
    """Take in the state of all lanes at one moment."""
    aside = tuple(
        (athlete, until_s) for athlete, until_s in conduct.aside if until_s is None or t_s < until_s
    )
    before = {(signal.athlete, signal.site): signal for signal in conduct.signals}
    signals: list[Signal] = []
    done: list[Signal] = []
    begun = 0
    for lane in lanes:
        for site in lane.state.sites:
            old = before.pop((lane.athlete, site.site), None)
            warning = site.warning
            on = warning is not None and warning.priority is not Priority.INFORMATION
            if on and warning is not None:
                new = _is_new(old, warning)
                begun += new
                if new and old is not None:
                    done.append(old)
                signals.append(_on(None if new else old, lane.athlete, site.site, warning))
            elif old is not None:
                left = _off(old, t_s, set_aside=any(lane.athlete == a for a, _ in aside))
                (done if left.stage is Stage.SEEN else signals).append(left)
    done += before.values()  # lanes or sites that have left
    return replace(
        conduct,
        signals=tuple(signals),
        aside=aside,
        log=(*conduct.log, *done)[-_LOG_LINES:],
        flood=conduct.flood.after(begun, t_s),
    )


def acknowledge(conduct: Conduct, athlete: str, t_s: float) -> Conduct:
    """Somebody has seen what this lane calls or lingers about."""
    signals: list[Signal] = []
    done: list[Signal] = []
    for signal in conduct.signals:
        if signal.athlete != athlete or signal.stage is Stage.SEEN:
            signals.append(signal)
            continue
        seen = replace(signal, stage=Stage.SEEN, seen_s=t_s)
        (done if signal.stage is Stage.LINGERING else signals).append(seen)
    return replace(conduct, signals=tuple(signals), log=(*conduct.log, *done)[-_LOG_LINES:])


def set_aside(conduct: Conduct, athlete: str, until_s: float | None) -> Conduct:
    """Let this lane be quiet until then, or until it is put back."""
    others = tuple(pair for pair in conduct.aside if pair[0] != athlete)
    return replace(conduct, aside=(*others, (athlete, until_s)))


def put_back(conduct: Conduct, athlete: str) -> Conduct:
    """Watch this lane again; what is still on calls anew."""
    signals = tuple(
        replace(signal, stage=Stage.CALLING)
        if signal.athlete == athlete and signal.off_s is None
        else signal
        for signal in conduct.signals
    )
    aside = tuple(pair for pair in conduct.aside if pair[0] != athlete)
    return replace(conduct, signals=signals, aside=aside)


def outcome(signal: Signal) -> str:
    """Return what became of a warning, for the log."""
    seen = said("not seen")
    if signal.seen_s is not None:
        seen = said("seen after {time}", time=span(signal.seen_s - signal.on_s))
    if signal.off_s is None:
        return seen
    return said("{seen}, over after {time}", seen=seen, time=span(signal.off_s - signal.on_s))


def _is_new(old: Signal | None, warning: WarningState) -> bool:
    return old is None or old.off_s is not None or old.on_s != warning.on_t_s


def _on(old: Signal | None, athlete: str, site: str, warning: WarningState) -> Signal:
    """Return the signal of a warning that is on: a new one calls, a worse one calls again."""
    evidence = warning_sentence(site, warning)
    if old is None:
        return Signal(
            athlete, site, Stage.CALLING, warning.priority, warning.on_t_s, None, evidence
        )
    if URGENCY[warning.priority] > URGENCY[old.priority]:
        return replace(old, stage=Stage.CALLING, priority=warning.priority, evidence=evidence)
    return old


def _off(old: Signal, t_s: float, *, set_aside: bool) -> Signal:
    """Return the signal of a warning that is over; SEEN means that nobody need be told."""
    over = old if old.off_s is not None else replace(old, off_s=t_s)
    if old.stage is Stage.SEEN or set_aside:
        return replace(over, stage=Stage.SEEN)
    return replace(over, stage=Stage.LINGERING)
