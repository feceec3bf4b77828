"""What other programs may know of one athlete, decoded: one small JSON object.

docs/athlete-state.schema.json describes every key. Every value has its age and its trust, and what
is not known is null; no names unless somebody asked for them. Nothing here knows MQTT.
"""

import json

from livemon.monitor.snapshot import LaneState, SiteState

_VERSION = 1

#: Value of a key.
_Json = dict[str, object]


def athlete_state(lane: LaneState, *, t_s: float, utc_ms: int, name: bool = False) -> bytes:
    """Return the payload that tells how this athlete is at `t_s`, which was `utc_ms`."""
    heart, bout = lane.state.heart_rate, lane.bout
    state: _Json = {
        "athlete_state": _VERSION,
        "athlete": lane.athlete,
        "t_s": t_s,
        "utc_ms": utc_ms,
    }
    if name:
        state["name"] = lane.name
    state["heart_rate"] = {
        "bpm": heart.bpm,
        "age_s": heart.age_s,
        "trust": heart.trust.value,
        "steadiness": heart.steadiness.value,
    }
    state["sites"] = [_site(site) for site in lane.state.sites]
    state["bout"] = None
    if bout is not None:
        state["bout"] = {
            "number": bout.number,
            "kind": bout.kind,
            "resting": bout.resting,
            "started_s": bout.started_s,
        }
    return json.dumps(state, allow_nan=False, separators=(",", ":")).encode()


def _site(site: SiteState) -> _Json:
    trend, warning = site.trend, site.warning
    fall: _Json | None = None
    if trend is not None:  # a fall rate is positive when falling, so the limits change places
        fall = {
            "pct_per_min": -trend.pct_per_min,
            "low_pct_per_min": -trend.high_pct_per_min,
            "high_pct_per_min": -trend.low_pct_per_min,
        }
    return {
        "site": site.site,
        "smo2_pct": site.smo2_pct,
        "age_s": site.age_s,
        "trust": site.trust.value,
        "balance": site.balance.value,
        "fall_rate": fall,
        "room_pct": site.room_pct,
        "warning": None if warning is None else warning.priority.value,
    }
