"""What invented sensors report, and how it arrives."""

from dataclasses import replace

import numpy as np
import pytest

from livemon.decode.samples import HeartRateSample, OxygenationSample
from livemon.synthetic.body import Truth, truth
from livemon.synthetic.oximeter import Oximeter, oximeter_stream
from livemon.synthetic.radio import Radio, arrivals, in_arrival_order
from livemon.synthetic.script import Body, Phase, SitePhase, ramp
from livemon.synthetic.strap import Strap, strap_stream


def run(seconds: float = 300.0) -> Truth:
    site = SitePhase(level_pct=55.0, legs=ramp(-4.0, 100.0))
    return truth((Phase("run", True, seconds, 150.0, (site,)),), Body())


def strap_samples(strap: Strap, seed: int = 1, seconds: float = 300.0) -> list[HeartRateSample]:
    stream = strap_stream(np.random.default_rng(seed), run(seconds), strap)
    return [s for _, s in stream if isinstance(s, HeartRateSample)]


def oximeter_samples(oximeter: Oximeter, seed: int = 1) -> list[OxygenationSample]:
    stream = oximeter_stream(np.random.default_rng(seed), run(), 0, oximeter)
    return [s for _, s in stream if isinstance(s, OxygenationSample)]


def test_the_strap_follows_the_heart() -> None:
    samples = strap_samples(Strap(wander_bpm=0.0))

    late = [s.bpm for s in samples if s.t_s > 250]
    assert set(late) <= {149.0, 150.0, 151.0}


def test_rr_intervals_agree_with_heart_rate_and_none_is_lost() -> None:
    samples = strap_samples(Strap())

    late = [rr for s in samples if s.t_s > 200 for rr in s.rr_s]
    assert 60 / np.mean(late) == pytest.approx(150.0, abs=2.0)
    total_s = sum(rr for s in samples for rr in s.rr_s)
    assert total_s == pytest.approx(samples[-1].t_s, abs=3.0)
    assert all(rr * 1024 == round(rr * 1024) for rr in late)


def test_a_failing_strap_is_silent_or_locked_to_the_cadence() -> None:
    strap = Strap(silent=((100.0, 120.0),), locked=((200.0, 230.0),), cadence_bpm=85.0)
    samples = strap_samples(strap)

    quiet = [s for s in samples if 101 < s.t_s < 119]
    assert quiet
    assert all(s.bpm is None and s.contact is False and s.rr_s == () for s in quiet)
    locked = [s.bpm for s in samples if 201 < s.t_s < 229]
    assert all(bpm is not None and 78 < bpm < 92 for bpm in locked)


def test_a_quiet_oximeter_shows_the_truth() -> None:
    quiet = Oximeter(white_sd=0, wander_sd=0, slow_sd=0, ripple_sd=0, step_pct=0)
    true = run()
    for sample in oximeter_samples(quiet):
        expected = np.interp(sample.t_s, true.t_s, true.sites[0].smo2_pct)
        assert sample.smo2_pct == pytest.approx(expected, abs=0.6)  # jitter, in the steep onset


def test_a_slip_moves_the_level_and_a_burst_shakes_it() -> None:
    quiet = Oximeter(white_sd=0.1, wander_sd=0, slow_sd=0, ripple_sd=0)
    before = [s.smo2_pct or 0.0 for s in oximeter_samples(quiet)]
    slipped = replace(quiet, slips=((60.0, -8.0),), bursts=((80.0, 90.0),))
    after = [s.smo2_pct or 0.0 for s in oximeter_samples(slipped)]

    moved = np.array(after) - np.array(before)
    assert moved[:58] == pytest.approx(0.0)
    assert moved[62:78] == pytest.approx(-8.0)
    assert moved[81:89].std() > 2.0


@pytest.mark.parametrize("rate_hz", [0.5, 2.0, 10.0])
def test_the_oximeter_keeps_its_rate(rate_hz: float) -> None:
    assert len(oximeter_samples(Oximeter(rate_hz=rate_hz))) == pytest.approx(300 * rate_hz, abs=1)


def test_without_contact_nothing_is_known() -> None:
    samples = oximeter_samples(Oximeter(no_contact=((50.0, 60.0),)))

    apart = [s for s in samples if 50.2 < s.t_s < 59.9]
    assert apart
    assert all(s.smo2_pct is None and s.thb is None and s.contact is False for s in apart)


def test_readings_stay_between_0_and_100() -> None:
    samples = oximeter_samples(Oximeter(white_sd=40.0))

    assert {0.0, 100.0} <= {s.smo2_pct for s in samples}
    assert all(s.smo2_pct is not None and 0 <= s.smo2_pct <= 100 for s in samples)


def test_readings_come_in_batches() -> None:
    t_s = np.arange(0, 10, 0.1) + 0.05
    _, stamps, _ = arrivals(np.random.default_rng(1), t_s, Radio(jitter_s=0, batch_s=0.5))

    assert sorted(set(np.round(stamps * 2).astype(int))) == list(range(1, 21))
    assert np.all(np.diff(stamps) >= 0)


def test_a_link_keeps_the_order_however_much_it_jitters() -> None:
    which, stamps, _ = arrivals(np.random.default_rng(1), np.arange(0, 60, 0.1), Radio(jitter_s=1))

    assert which.tolist() == sorted(which.tolist())
    assert np.all(np.diff(stamps) >= 0)


@pytest.mark.parametrize("flushes", [False, True])
def test_a_gap_swallows_or_holds_back(flushes: bool) -> None:
    t_s = np.arange(0, 60, 1.0)
    radio = Radio(jitter_s=0, gaps=((20.0, 30.0),), flushes=flushes)
    which, stamps, handed = arrivals(np.random.default_rng(1), t_s, radio)

    assert not np.any((stamps >= 20) & (stamps < 30))
    assert len(which) == (60 if flushes else 50)
    assert np.count_nonzero(handed == 30.0) == (11 if flushes else 1)


def test_repeats_and_late_ones() -> None:
    t_s = np.arange(0, 1000, 1.0)
    radio = Radio(jitter_s=0, twice_share=0.1, late_share=0.1, lost_share=0.1)
    which, stamps, handed = arrivals(np.random.default_rng(1), t_s, radio)

    assert np.all(np.diff(handed) >= 0)
    assert len(set(which.tolist())) == pytest.approx(900, abs=40)
    assert len(which) - len(set(which.tolist())) == pytest.approx(90, abs=30)
    assert np.count_nonzero(handed > stamps) == pytest.approx(90, abs=30)
    assert np.any(np.diff(stamps) < 0)


def test_streams_merge_in_arrival_order_and_chance_is_the_seed() -> None:
    def both(seed: int) -> list[HeartRateSample | OxygenationSample]:
        rng, true = np.random.default_rng(seed), run()
        radio = Radio(batch_s=0.3, twice_share=0.05)
        return in_arrival_order(
            [
                strap_stream(rng, true, Strap()),
                oximeter_stream(rng, true, 0, Oximeter(rate_hz=4, radio=radio)),
            ]
        )

    assert both(1) == both(1)
    assert both(1) != both(2)
    stamps = [s.t_s for s in both(1)]
    assert stamps == sorted(stamps)
