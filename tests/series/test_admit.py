"""What is let in, and the reason for what is not."""

import pytest

from livemon.decode.samples import HeartRateSample, OxygenationSample
from livemon.series.admit import HeartRateGate, OxygenationGate, Refusal

FIRST = OxygenationSample(1.0, "leg", 60.0, sequence=7)


def after_first(t_us: int, sample: OxygenationSample) -> Refusal | None:
    gate = OxygenationGate()
    assert gate.refuse(1_000_000, FIRST) is None
    return gate.refuse(t_us, sample)


@pytest.mark.parametrize(
    ("t_us", "pct", "contact", "sequence", "reason"),
    [
        pytest.param(2_000_000, 61.0, None, 8, None, id="the next one"),
        pytest.param(2_000_000, 60.0, True, 8, None, id="the same value later"),
        pytest.param(1_000_000, 60.0, None, None, Refusal.REPEAT, id="twice at once"),
        pytest.param(1_029_999, 60.0, None, None, Refusal.REPEAT, id="twice within 30 ms"),
        pytest.param(1_000_000, 60.0, None, 8, None, id="the next packet at once"),
        pytest.param(1_030_000, 60.0, None, None, None, id="the same value after 30 ms"),
        pytest.param(1_500_000, 60.0, None, 7, Refusal.REPEAT, id="the same packet, later"),
        pytest.param(1_000_000, 61.0, None, None, None, id="another value at once"),
        pytest.param(999_999, 60.5, None, None, Refusal.LATE, id="late"),
        pytest.param(2_000_000, None, None, None, Refusal.MISSING, id="not known"),
        pytest.param(2_000_000, 60.0, False, None, Refusal.NO_CONTACT, id="no contact"),
        pytest.param(2_000_000, 100.1, None, None, Refusal.IMPLAUSIBLE, id="above 100 %"),
        pytest.param(2_000_000, -0.1, None, None, Refusal.IMPLAUSIBLE, id="below 0 %"),
        pytest.param(2_000_000, float("nan"), None, None, Refusal.IMPLAUSIBLE, id="not a number"),
        pytest.param(2_000_000, 41.9, None, None, Refusal.JUMP, id="18.1 points in a second"),
        pytest.param(2_000_000, 42.0, None, None, None, id="18 points in a second"),
    ],
)
def test_oxygenation(
    t_us: int, pct: float | None, contact: bool | None, sequence: int | None, reason: Refusal | None
) -> None:
    sample = OxygenationSample(t_us / 1e6, "leg", pct, contact=contact, sequence=sequence)

    assert after_first(t_us, sample) is reason


@pytest.mark.parametrize("pct", [0.0, 0.5, 100.0])
def test_the_ends_of_the_scale_are_values(pct: float) -> None:
    assert OxygenationGate().refuse(0, OxygenationSample(0.0, "leg", pct)) is None


def test_a_jump_that_is_confirmed_is_let_in() -> None:
    gate = OxygenationGate()
    gate.refuse(0, FIRST)

    seen = [
        gate.refuse(i * 1_000_000, OxygenationSample(float(i), "leg", pct))
        for i, pct in enumerate([30.0, 31.0, 30.5], start=1)
    ]

    assert seen == [Refusal.JUMP, None, None]


@pytest.mark.parametrize(("pct", "reason"), [(38.0, None), (38.1, Refusal.JUMP)])
def test_a_jump_is_confirmed_by_a_neighbour_within_8_points(
    pct: float, reason: Refusal | None
) -> None:
    gate = OxygenationGate()
    gate.refuse(0, FIRST)
    gate.refuse(1_000_000, OxygenationSample(1.0, "leg", 30.0))

    assert gate.refuse(2_000_000, OxygenationSample(2.0, "leg", pct)) is reason


def test_two_different_spikes_are_both_refused() -> None:
    gate = OxygenationGate()
    gate.refuse(0, FIRST)

    assert gate.refuse(1_000_000, OxygenationSample(1.0, "leg", 95.0)) is Refusal.JUMP
    assert gate.refuse(2_000_000, OxygenationSample(2.0, "leg", 15.0)) is Refusal.JUMP
    assert gate.refuse(3_000_000, OxygenationSample(3.0, "leg", 61.0)) is None


def test_after_a_restart_any_level_is_let_in() -> None:
    gate = OxygenationGate()
    gate.refuse(0, FIRST)
    gate.restart()

    assert gate.refuse(1_000_000, OxygenationSample(1.0, "leg", 20.0)) is None


@pytest.mark.parametrize(
    ("t_us", "bpm", "contact", "rr_s", "reason"),
    [
        pytest.param(2_000_000, 151.0, True, (), None, id="the next one"),
        pytest.param(1_010_000, 150.0, True, (0.4,), Refusal.REPEAT, id="the same packet"),
        pytest.param(1_030_000, 150.0, True, (0.4,), None, id="the same after 30 ms"),
        pytest.param(1_010_000, 150.0, True, (0.41,), None, id="the same rate, other beats"),
        pytest.param(900_000, 150.0, True, (), Refusal.LATE, id="late"),
        pytest.param(2_000_000, None, True, (), Refusal.MISSING, id="none"),
        pytest.param(2_000_000, 0.0, True, (), Refusal.MISSING, id="zero"),
        pytest.param(2_000_000, 150.0, False, (), Refusal.NO_CONTACT, id="no contact"),
        pytest.param(2_000_000, 240.0, True, (), None, id="as fast as can be"),
        pytest.param(2_000_000, 241.0, True, (), Refusal.IMPLAUSIBLE, id="too fast"),
        pytest.param(2_000_000, 25.0, True, (), None, id="as slow as can be"),
        pytest.param(2_000_000, 24.0, True, (), Refusal.IMPLAUSIBLE, id="too slow"),
        pytest.param(2_000_000, float("inf"), True, (), Refusal.IMPLAUSIBLE, id="infinite"),
        pytest.param(1_000_000, 149.0, True, (), None, id="another value at once"),
    ],
)
def test_heart_rate(
    t_us: int, bpm: float | None, contact: bool, rr_s: tuple[float, ...], reason: Refusal | None
) -> None:
    gate = HeartRateGate()
    assert gate.refuse(1_000_000, HeartRateSample(1.0, 150.0, True, (0.4,))) is None

    assert gate.refuse(t_us, HeartRateSample(t_us / 1e6, bpm, contact, rr_s)) is reason
