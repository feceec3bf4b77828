"""Lactate: the steady-state criterion, change against error, and what can't be used."""

import pytest

from livemon.analyse.bout import Bout
from livemon.analyse.lactate import LactateSample, judge_lactate

HALF_HOUR = Bout(1, 0, 1800)


@pytest.mark.parametrize(("at_30", "met"), [(5.0, True), (5.1, False), (4.0, True), (3.0, True)])
def test_the_criterion_is_one_millimole_from_minute_10_to_30(at_30: float, met: bool) -> None:
    """MLSS, doi 10.1055/s-0032-1321719: a rise of at most 0.05 mmol/L per minute."""
    samples = [LactateSample(600, 4.0, "ear"), LactateSample(1800, at_30, "ear")]
    found = judge_lactate(samples, HALF_HOUR)

    assert found.mlss_rise.value == pytest.approx((at_30 - 4) / 20)
    assert found.mlss_met is met


def test_samples_of_two_sites_say_nothing_about_the_criterion() -> None:
    samples = [LactateSample(600, 4.0, "ear"), LactateSample(1800, 4.5, "finger")]
    found = judge_lactate(samples, HALF_HOUR)

    assert (found.mlss_met, found.mlss_clear) == (None, False)
    assert found.mlss_rise.unit == "mmol/L/min"
    assert found.mlss_rise.reason == "drawn at different sites: ear and finger"


@pytest.mark.parametrize(("at_30", "clear"), [(5.0, False), (4.5, True), (5.1, False), (5.5, True)])
def test_the_error_of_two_samples_may_leave_doubt(at_30: float, clear: bool) -> None:
    samples = [LactateSample(600, 4.0, "ear"), LactateSample(1800, at_30, "ear")]

    assert judge_lactate(samples, HALF_HOUR).mlss_clear is clear


def test_a_change_has_the_error_of_two_samples() -> None:
    samples = [LactateSample(95, 1.5, "ear"), LactateSample(500, 2.0, "ear")]
    found = judge_lactate(samples, Bout(1, 100, 400))

    assert found.last.value == 2.0
    assert found.change.value == pytest.approx(0.5)
    assert found.change.low == pytest.approx(0.5 - 1.645 * 0.2 * 2**0.5, abs=1e-3)


def test_the_last_sample_counts_up_to_three_minutes_after_the_end() -> None:
    bout = Bout(1, 100, 400)

    assert judge_lactate([LactateSample(580, 3.0)], bout).last.value == 3.0
    assert judge_lactate([LactateSample(581, 3.0)], bout).last.value is None


@pytest.mark.parametrize(
    ("samples", "words"),
    [
        ([], "no lactate sample"),
        ([LactateSample(None, 3.0)], "without a time"),
        ([LactateSample(95, 1.0, "ear"), LactateSample(400, 3.0, "finger")], "different sites"),
        ([LactateSample(300, 3.0)], "before the bout"),
    ],
    ids=["none", "no time", "two sites", "no first sample"],
)
def test_says_why_there_is_no_change(samples: list[LactateSample], words: str) -> None:
    found = judge_lactate(samples, Bout(1, 100, 400))

    assert found.change.value is None
    assert words in found.change.reason
    assert found.mlss_met is None
    assert "30 minutes" in found.mlss_rise.reason
