"""How long a sensor may be silent."""

import pytest

from livemon.link.silence import SECOND_NS, Patience, Silence, silence


@pytest.mark.parametrize(
    ("period_s", "stale_s", "dead_s"),
    [
        pytest.param(1.0, 3, 12, id="a strap at 1 Hz"),
        pytest.param(0.1, 3, 12, id="10 Hz: three seconds at least"),
        pytest.param(2.0, 6, 12, id="0.5 Hz: three periods"),
        pytest.param(10.0, 30, 40, id="one that sends rarely"),
    ],
)
def test_patience_suits_the_period(period_s: float, stale_s: int, dead_s: int) -> None:
    patience = Patience.for_period(period_s)

    assert patience == Patience(stale_s * SECOND_NS, dead_s * SECOND_NS)
    assert silence(stale_s * SECOND_NS - 1, 0, patience) is Silence.NONE
    assert silence(stale_s * SECOND_NS, 0, patience) is Silence.STALE
    assert silence(dead_s * SECOND_NS - 1, 0, patience) is Silence.STALE
    assert silence(dead_s * SECOND_NS, 0, patience) is Silence.DEAD
