"""Invented lanes for looking at and testing screens. No value here was measured on anybody."""

import math
from collections.abc import Callable
from dataclasses import replace

from livemon.decode.samples import IntensitySource
from livemon.estimate.balance import Balance
from livemon.estimate.steadiness import Steadiness
from livemon.estimate.trend import Forecast, Trend
from livemon.monitor.snapshot import (
    ArterialState,
    AthleteSnapshot,
    BoutState,
    EffortState,
    HeartRateState,
    LaneState,
    PlanState,
    RefillState,
    SensorState,
    SessionSnapshot,
    SiteState,
    Trust,
    WarningState,
)
from livemon.series.effort import Effort
from livemon.series.ring import Ring, Trail
from livemon.warn.priority import Priority

NOW_S = 612.0
_HZ = 4
_SECOND_NS = 1_000_000_000


def trail(
    shape: Callable[[float], float], *, seconds: float = 400, until_s: float = NOW_S
) -> Trail:
    """Return a trail whose value at `age_s` seconds ago is `shape(age_s)`; with a small ripple."""
    count = int(seconds * _HZ)
    ring = Ring(count + 8)
    for i in range(count + 1):
        age_s = (count - i) / _HZ
        ripple = 0.35 * math.sin(i * 1.7) + 0.25 * math.sin(i * 0.61) + 0.2 * math.sin(i * 4.3)
        value = shape(age_s)
        ring.append(int((until_s - age_s) * _SECOND_NS), value + ripple)
    return Trail(ring, ring.count, count + 1)


def settle(
    start: float, end: float, age_of_onset_s: float, tau_s: float
) -> Callable[[float], float]:
    """Return a shape that lies at `start` and nears `end` after the onset."""

    def shape(age_s: float) -> float:
        after_s = age_of_onset_s - age_s
        return start if after_s <= 0 else end + (start - end) * math.exp(-after_s / tau_s)

    return shape


def fall(start: float, slope_per_min: float, age_of_onset_s: float) -> Callable[[float], float]:
    """Return a shape that dips at the onset and then keeps falling."""
    dip = settle(start, start - 12, age_of_onset_s, 18)

    def shape(age_s: float) -> float:
        after_s = max(0.0, age_of_onset_s - age_s)
        return dip(age_s) - slope_per_min * after_s / 60

    return shape


def heart_rate(bpm: float | None = 158, **changes: object) -> HeartRateState:
    state = HeartRateState(
        bpm=bpm,
        age_s=None if bpm is None else 0.6,
        trust=Trust.ABSENT if bpm is None else Trust.GOOD,
        contact=True,
        steadiness=Steadiness.STEADY,
        steady_for_s=130.0,
        drift_bpm_per_min=0.4,
        trail=trail(settle(104, bpm or 150, 192, 28)),
    )
    return replace(state, **changes)  # type: ignore[arg-type] # by name, in tests


def site(name: str = "right forearm", smo2: float | None = 66, **changes: object) -> SiteState:
    state = SiteState(
        site=name,
        smo2_pct=smo2,
        thb=12.1,
        age_s=0.2,
        trust=Trust.GOOD,
        trend=Trend(0.3, -0.5, 1.1),
        balance=Balance.IN_BALANCE,
        baseline_pct=68.0,
        own_low_pct=None,
        room_pct=None,
        forecast=None,
        warning=None,
        trail=trail(settle(68, smo2 or 60, 192, 30)),
    )
    return replace(state, **changes)  # type: ignore[arg-type] # by name, in tests


def falling(name: str = "left thigh", priority: Priority | None = Priority.DRAIN) -> SiteState:
    warning = None
    if priority is not None:
        warning = WarningState(priority, NOW_S - 20, 4.1, 24.0, 158.0)
    return site(
        name,
        47,
        trend=Trend(-4.1, -5.0, -3.2),
        balance=Balance.DEMAND_AHEAD,
        own_low_pct=28.0,
        room_pct=19.0,
        forecast=Forecast(228.0, 356.0),
        warning=warning,
        trail=trail(fall(71, 4.1, 192)),
    )


def sensors(battery: int = 84) -> tuple[SensorState, ...]:
    return (
        SensorState("s1", "strap", True, 0.6, battery),
        SensorState("s2", "thigh oximeter", True, 0.2, 61),
        SensorState("s3", "forearm oximeter", True, 0.2, 90),
    )


def lane(
    *sites: SiteState, name: str = "Lane 3", athlete: str = "a3", **changes: object
) -> LaneState:
    state = LaneState(
        athlete=athlete,
        name=name,
        band_bpm=(152, 162),
        state=AthleteSnapshot(NOW_S, heart_rate(), sites, ()),
        bout=BoutState(2, "sled push", False, NOW_S - 192, 300.0),
        bouts=(
            (NOW_S - 560, NOW_S - 292, "row", False),
            (NOW_S - 292, NOW_S - 192, "", True),
            (NOW_S - 192, None, "sled push", False),
        ),
        warnings=(),
        sensors=sensors(),
    )
    return replace(state, **changes)  # type: ignore[arg-type] # by name, in tests


def with_heart_rate(state: LaneState, rate: HeartRateState) -> LaneState:
    return replace(state, state=replace(state.state, heart_rate=rate))


def quiet() -> LaneState:
    return lane(
        site("left thigh", 58, baseline_pct=71.0, own_low_pct=28.0, room_pct=30.0),
        site(),
    )


def warned() -> LaneState:
    return lane(falling(), site(), warnings=((NOW_S - 20, None, "left thigh", Priority.DRAIN),))


def cautioned() -> LaneState:
    slow = falling(priority=Priority.CAUTION)
    return lane(slow, site(), warnings=((NOW_S - 20, None, "left thigh", Priority.CAUTION),))


def stale_strap() -> LaneState:
    old = heart_rate(158, age_s=14.2, trust=Trust.STALE, steadiness=Steadiness.UNDECIDABLE)
    old = replace(
        old, steady_for_s=None, trail=trail(settle(104, 158, 192, 28), until_s=NOW_S - 14)
    )
    quiet_sensors = (replace(sensors()[0], linked=False, silent_for_s=14.2), *sensors()[1:])
    return replace(with_heart_rate(quiet(), old), sensors=quiet_sensors)


def no_contact() -> LaneState:
    off = site(
        "left thigh", None, age_s=9.0, trust=Trust.NO_CONTACT, trend=None, balance=Balance.UNSURE
    )
    return lane(off, site(), sensors=sensors(battery=12))


def recovering() -> LaneState:
    refilling = site(
        "left thigh", 63, trend=Trend(9.4, 7.9, 10.9), balance=Balance.SUPPLY_AHEAD,
        trail=trail(settle(41, 70, 40, 25)), baseline_pct=71.0, own_low_pct=28.0, room_pct=35.0,
    )  # fmt: skip
    moving = heart_rate(131, steadiness=Steadiness.MOVING, steady_for_s=None, drift_bpm_per_min=-21)
    state = lane(
        refilling, site(),
        bout=BoutState(2, "", True, NOW_S - 40, 120.0),
        bouts=((NOW_S - 340, NOW_S - 40, "sled push", False), (NOW_S - 40, None, "", True)),
    )  # fmt: skip
    return with_heart_rate(state, replace(moving, trail=trail(settle(158, 120, 40, 45))))


def effort(
    kind: Effort,
    value: float,
    source: IntensitySource = IntensitySource.ROWER,
    age_s: float = 0.4,
    trust: Trust = Trust.GOOD,
) -> EffortState:
    return EffortState(kind, value, age_s, trust, source, "ergometer")


def measured() -> LaneState:
    """A rowing machine and a pulse oximeter besides."""
    return replace(
        quiet(),
        effort=(
            effort(Effort.POWER, 212.0),
            effort(Effort.SPEED, 3.52),
            effort(Effort.CADENCE, 27.0),
            effort(Effort.DISTANCE, 1240.0),
        ),
        arterial=ArterialState(97.0, 158.0, 0.8, Trust.GOOD),
    )


def old_effort() -> LaneState:
    """A foot sensor went silent, and the pulse oximeter doubts itself; a warning is on."""
    old = [
        effort(kind, value, IntensitySource.RUNNING, 83.0, Trust.STALE)
        for kind, value in (
            (Effort.POWER, 1212.0),
            (Effort.SPEED, 13.52),
            (Effort.CADENCE, 172.0),
            (Effort.DISTANCE, 12_400.0),
            (Effort.INCLINE, -12.5),
        )
    ]
    doubtful = ArterialState(88.0, None, 0.8, Trust.SUSPECT)
    return replace(warned(), effort=tuple(old), arterial=doubtful)


def refill(site: str, share: float | None, half_s: float | None) -> RefillState:
    return RefillState(site, share, True, 40.0, half_s)


def half_back() -> LaneState:
    """A rest that ends by refilling, in the middle of a plan."""
    return replace(
        recovering(),
        bout=BoutState(2, "", True, NOW_S - 40, 300.0, None, 95.0),
        refill=(refill("left thigh", 88.7, 21.3), refill("right forearm", 97.1, None)),
        plan=PlanState(
            "Work and rest", 4, 12, "recovery, until refilled to 95 % of baseline, at most 5 min",
            "rowing, 4 min, 152 to 162 bpm", NOW_S - 40, 300.0, 95.0,
        ),
    )  # fmt: skip


def soon_over() -> LaneState:
    """The last seconds of a planned bout: what comes is announced."""
    return replace(
        quiet(),
        bout=BoutState(2, "sled push", False, NOW_S - 232.4, 240.0),
        plan=PlanState(
            "Work and rest", 3, 12, "sled push, 4 min",
            "recovery, until refilled to 95 % of baseline, at most 5 min",
            NOW_S - 232.4, 240.0, None,
        ),
    )  # fmt: skip


def at_low() -> LaneState:
    low = site(
        "left thigh", 29, trend=Trend(0.1, -0.6, 0.8), balance=Balance.AT_LOW,
        own_low_pct=28.0, room_pct=1.0, trail=trail(settle(68, 29, 192, 40)),
    )  # fmt: skip
    return lane(low, site())


def just_begun() -> LaneState:
    empty = Trail(Ring(4), 0, 4)
    nothing = heart_rate(
        None, contact=None, steadiness=Steadiness.UNDECIDABLE, steady_for_s=None,
        drift_bpm_per_min=None, trail=empty,
    )  # fmt: skip
    unseen = site(
        "left thigh", None, thb=None, age_s=None, trust=Trust.ABSENT, trend=None,
        balance=Balance.UNSURE, baseline_pct=None, trail=empty,
    )  # fmt: skip
    state = lane(unseen, replace(unseen, site="right forearm"), bout=None, bouts=(), sensors=())
    return with_heart_rate(state, nothing)


LONG = (
    "vastus lateralis, left leg, distal third (working side)",
    "extensor carpi radialis longus, right arm (resting side)",
    "gastrocnemius medialis, left",
)


def long_names() -> LaneState:
    return lane(
        falling(LONG[0]),
        site(LONG[1]),
        site(LONG[2], 54),
        name="Maximiliane-Alexandra von Schwarzenfels-Hohenlohe",
        bout=BoutState(12, "sled push with two weights up the long ramp", False, 0.0, 5400),
        sensors=tuple(
            replace(s, name=f"{s.name} of the reserve set", battery_pct=7) for s in sensors()
        ),
    )  # fmt: skip


def many_sites(count: int) -> LaneState:
    names = (
        "left thigh", "right thigh", "left calf", "right calf", "left forearm", "right forearm",
        "left deltoid", "right deltoid", "left glute", "right glute",
    )  # fmt: skip
    first = falling(names[0], Priority.CAUTION)
    rest = tuple(
        site(name, 60 - 3 * i, trail=trail(settle(70 - 2 * i, 60 - 3 * i, 192, 25 + i)))
        for i, name in enumerate(names[1:count])
    )
    return lane(first, *rest)


def several_warned() -> LaneState:
    other = falling("right calf", Priority.CAUTION)
    return lane(falling(), site(), other)


def session(*lanes: LaneState) -> SessionSnapshot:
    return SessionSnapshot(NOW_S, "2026-01-02T10:00:00+00:00", lanes, (), False)


SCENES: dict[str, Callable[[], LaneState]] = {
    "quiet": quiet,
    "warned": warned,
    "cautioned": cautioned,
    "stale strap": stale_strap,
    "no contact": no_contact,
    "recovering": recovering,
    "half back": half_back,
    "soon over": soon_over,
    "at low": at_low,
    "just begun": just_begun,
    "long names": long_names,
    "several warned": several_warned,
    "one site": lambda: many_sites(1),
    "four sites": lambda: many_sites(4),
    "six sites": lambda: many_sites(6),
    "measured effort": measured,
    "old effort": old_effort,
    "low is near": lambda: lane(replace(falling(), forecast=Forecast(30.0, 300.0)), site()),
    "ten sites": lambda: many_sites(10),
}


def class_of(count: int) -> SessionSnapshot:
    """Return a class in which a few lanes need a look."""
    makers = {
        2: warned, 5: measured, 6: cautioned, 0: stale_strap, 4: recovering, 9: no_contact,
        13: long_names, 17: cautioned, 20: at_low,
    }  # fmt: skip
    lanes = []
    for i in range(count):
        base = makers[i]() if i in makers else lane(site("left thigh", 40 + (i * 7) % 30), site())
        name = base.name if i == 13 else f"Lane {i + 1}"
        lanes.append(replace(base, athlete=f"a{i + 1}", name=name))
    return session(*lanes)
