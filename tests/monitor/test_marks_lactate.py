"""Two lactate samples differ only where the analyser could have told."""

from statistics import NormalDist

import pytest

from livemon.monitor.lactate import CLEAR_MMOL_L, LactateChange, LactateSample, compare_lactate


def drop(mmol_l: float, site: str = "earlobe") -> LactateSample:
    return LactateSample(0, mmol_l, site)


def test_the_limit_follows_from_the_published_scatter() -> None:
    """Mentzoni et al. 2024: residual standard error of 0.15 to 0.22, taken as 0.2 mmol/L."""
    assert pytest.approx(NormalDist().inv_cdf(0.975) * 2**0.5 * 0.2, abs=0.006) == CLEAR_MMOL_L


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        pytest.param(drop(1.0), drop(1.54), LactateChange.NO_CLEAR_DIFFERENCE, id="just within"),
        pytest.param(drop(1.0), drop(1.55), LactateChange.HIGHER, id="just beyond"),
        pytest.param(drop(4.1), drop(3.55), LactateChange.LOWER, id="just below"),
        pytest.param(drop(2.0), drop(2.0), LactateChange.NO_CLEAR_DIFFERENCE, id="the same"),
        pytest.param(drop(2.0), drop(9.0, "fingertip"), LactateChange.OTHER_SITE, id="other place"),
        pytest.param(drop(2.0), drop(9.0, ""), LactateChange.HIGHER, id="place not noted"),
    ],
)
def test_says_no_more_than_the_analyser_can_tell(
    before: LactateSample, after: LactateSample, said: LactateChange
) -> None:
    assert compare_lactate(before, after) is said
