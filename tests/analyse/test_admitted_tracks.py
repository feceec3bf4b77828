"""Tracks keep what live would have used."""

from livemon.analyse.tracks import HeartTrack, MuscleTrack
from livemon.decode.samples import HeartRateSample, OxygenationSample


def reading(t_s: float, pct: float | None, thb: float | None = None) -> OxygenationSample:
    return OxygenationSample(t_s, "thigh", pct, thb)


def test_a_far_value_waits_for_company_but_not_after_a_pause() -> None:
    spiky, rested = MuscleTrack(), MuscleTrack()
    for track in (spiky, rested):
        track.take(reading(1, 70))
    rested.restart()
    for track in (spiky, rested):
        track.take(reading(2, 30))
        track.take(reading(3, 70))

    assert spiky.smo2().values.tolist() == [70, 70]
    assert rested.smo2().values.tolist()[:2] == [70, 30]


def test_haemoglobin_goes_with_admitted_saturation() -> None:
    track = MuscleTrack()
    track.take(reading(1, 70, 12.1))
    track.take(reading(2, None, 12.5))
    track.take(reading(3, 71))

    assert track.smo2().t_s.tolist() == [1, 3]
    assert (track.thb().t_s.tolist(), track.thb().values.tolist()) == ([1], [12.1])


def test_beats_without_contact_are_left_out() -> None:
    track = HeartTrack()
    track.take(HeartRateSample(1, 120))
    track.take(HeartRateSample(2, 121, contact=False))
    track.take(HeartRateSample(3, None))

    assert track.series().values.tolist() == [120]
