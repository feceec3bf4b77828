"""Invented foot sensors and rowing machines say what their script says, in standard packets."""

import numpy as np
import pytest

from livemon.decode.samples import IntensitySample, IntensitySource
from livemon.decode.standard import STANDARD
from livemon.synthetic.effort import Device, EffortPacket, effort_packets, speeds_m_per_s
from livemon.synthetic.pace_steps import PACE_STEPS


def decoded(packets: list[EffortPacket]) -> list[IntensitySample]:
    decode = STANDARD[packets[0].characteristic](None)
    samples = [sample for one in packets for sample in decode(one.payload, one.t_s, "s")]
    assert all(isinstance(sample, IntensitySample) for sample in samples)
    return [sample for sample in samples if isinstance(sample, IntensitySample)]


@pytest.mark.parametrize(
    ("device", "source"),
    [(Device.FOOT, IntensitySource.RUNNING), (Device.ROWER, IntensitySource.ROWER)],
)
def test_each_bout_is_done_at_its_speed(device: Device, source: IntensitySource) -> None:
    packets = effort_packets(np.random.default_rng(1), PACE_STEPS.phases, device)
    samples = decoded(packets)
    assert {sample.source for sample in samples} == {source}

    at_s = 0
    for phase in PACE_STEPS.phases:
        late = samples[at_s + 60 : at_s + round(phase.seconds)]
        speeds = [sample.speed_m_per_s or 0.0 for sample in late]
        assert np.mean(speeds) == pytest.approx(phase.speed_m_per_s or 0.0, abs=0.02)
        at_s += round(phase.seconds)
    way_m = [sample.distance_m or 0.0 for sample in samples]
    assert way_m == sorted(way_m)
    true = speeds_m_per_s(np.random.default_rng(1), PACE_STEPS.phases)
    assert way_m[-1] == pytest.approx(true.sum(), abs=1.0)


def test_the_same_chance_gives_the_same_bytes() -> None:
    first, second = (
        effort_packets(np.random.default_rng(4), PACE_STEPS.phases, Device.FOOT) for _ in range(2)
    )

    assert first == second
