"""Scales as the SIG's GATT Specification Supplement writes them: value = raw × M × 10^d × 2^b."""

import pytest

from livemon.decode.scale import Scale


@pytest.mark.parametrize(
    ("scale", "raw", "value"),
    [
        (Scale(), 634, 634.0),
        (Scale(d=-1), 634, 63.4),
        (Scale(d=2), 23, 2300.0),  # the SIG's own example of an exponent of 2
        (Scale(d=-3), 3892, 3.892),  # and of -3
        (Scale(b=-10), 340, 0.33203125),
        (Scale(b=3), 5, 40.0),
        (Scale(m=5), 7, 35.0),
        (Scale(m=-2, d=-1, b=-1), 5, -0.5),
    ],
)
def test_there_and_back(scale: Scale, raw: int, value: float) -> None:
    assert scale.value(raw) == value
    assert scale.raw(value) == pytest.approx(raw, rel=1e-12)
