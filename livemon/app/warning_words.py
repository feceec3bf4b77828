"""The warnings of a recording in lines, for people and for scripts."""

import json
from typing import Final

from livemon.monitor.snapshot import WarningState
from livemon.record.warning_log import Logged
from livemon.view.numbers import clock, span
from livemon.view.watch_words import warning_sentence
from livemon.view.words import PRIORITY, sentence_case
from livemon.warn.priority import Priority

_NS_PER_S: Final = 1e9


def warning_words(entry: Logged, names: dict[str, str]) -> str:
    """Return one warning in one line: when, who, why, and what became of it."""
    on_s = _s(entry.on.t_ns) or 0.0
    who = names.get(entry.on.athlete, entry.on.athlete)
    parts = [_evidence(entry)]
    if entry.raised_ns is not None:
        parts.append(f"worse after {span(_since(entry, entry.raised_ns))}")
    if entry.quiet:
        parts.append("the lane was quiet")
    if entry.seen_ns is None:
        parts.append("not seen")
    else:
        parts.append(f"seen after {span(_since(entry, entry.seen_ns))}")
    if entry.off_ns is None:
        parts.append("still on at the end")
    else:
        why = f" ({entry.reason})" if entry.reason else ""
        parts.append(f"over after {span(_since(entry, entry.off_ns))}{why}")
    return f"{clock(on_s)}  {who}  {_priority(entry)}: {'; '.join(parts)}"


def warning_json(entry: Logged) -> str:
    """Return one warning as a line of JSON; times in seconds of the session."""
    on = entry.on
    return json.dumps(
        {
            "athlete": on.athlete,
            "site": on.site,
            "on_s": _s(on.t_ns),
            "priority": on.priority,
            "highest": entry.highest,
            "fall_rate_pct_per_min": on.fall_rate_pct_per_min,
            "falling_for_s": on.falling_for_s,
            "bpm": on.bpm,
            "raised_s": _s(entry.raised_ns),
            "seen_s": _s(entry.seen_ns),
            "quiet": entry.quiet,
            "off_s": _s(entry.off_ns),
            "reason": entry.reason,
        },
        ensure_ascii=False,
    )


def _priority(entry: Logged) -> str:
    try:
        return PRIORITY[Priority(entry.highest)]
    except ValueError:  # a line without one
        return "Warning"


def _evidence(entry: Logged) -> str:
    on = entry.on
    site = on.site or "?"
    if on.fall_rate_pct_per_min is None or on.falling_for_s is None:
        return f"{sentence_case(site)} falling"
    state = WarningState(
        Priority.CAUTION, on.t_ns / _NS_PER_S, on.fall_rate_pct_per_min, on.falling_for_s, on.bpm
    )
    return warning_sentence(site, state)


def _since(entry: Logged, t_ns: int) -> float:
    return max(t_ns - entry.on.t_ns, 0) / _NS_PER_S


def _s(t_ns: int | None) -> float | None:
    return None if t_ns is None else t_ns / _NS_PER_S
