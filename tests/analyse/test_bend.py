"""Two lines that meet, against published fits; and when one line is enough."""

import numpy as np
import pytest

from livemon.analyse.breakpoint import CAUTION, find_breakpoint
from livemon.analyse.two_lines import bent_at, fit_two_lines

# Hinkley 1971, J Am Stat Assoc 66:736: data, and the estimates published with them.
HINKLEY_X = np.array(
    [2, 2.52288, 3, 3.52288, 4, 4.52288, 5, 5.52288, 6, 6.52288, 7, 7.52288, 8, 8.52288, 9]
)
HINKLEY_Y = np.array([
    0.370483, 0.537970, 0.607684, 0.723323, 0.761856, 0.892063, 0.956707, 0.940349, 0.898609,
    0.953850, 0.990834, 0.890291, 0.990779, 1.050865, 0.982785,
])  # fmt: skip
# Stagnant band height, Bacon & Watts 1971, Biometrika 58:525.
BAND_X = np.array([
    -1.39, -1.39, -1.08, -1.08, -0.94, -0.80, -0.63, -0.63, -0.25, -0.25, -0.12, -0.12, 0.01,
    0.11, 0.11, 0.11, 0.25, 0.25, 0.34, 0.34, 0.44, 0.59, 0.70, 0.70, 0.85, 0.85, 0.99, 0.99, 1.19,
])  # fmt: skip
BAND_Y = np.array([
    1.12, 1.12, 0.99, 1.03, 0.92, 0.90, 0.81, 0.83, 0.65, 0.67, 0.60, 0.59, 0.51, 0.44, 0.43,
    0.43, 0.33, 0.30, 0.25, 0.24, 0.13, -0.01, -0.13, -0.14, -0.30, -0.33, -0.46, -0.43, -0.65,
])  # fmt: skip


def test_agrees_with_hinkley() -> None:
    fit = fit_two_lines(HINKLEY_X, HINKLEY_Y)

    assert fit is not None
    published = (4.652, 0.9180, 0.1935)
    assert (fit.bend, fit.level, fit.before) == pytest.approx(published, abs=5e-4)
    assert fit.residual_sum / 11 == pytest.approx(0.00166, abs=5e-6)


def test_agrees_with_bacon_and_watts() -> None:
    """They put the change near 0 with slopes of about -0.4 and -1.0 (read from memory)."""
    fit = fit_two_lines(BAND_X, BAND_Y)

    assert fit is not None
    assert fit.bend == pytest.approx(0.0, abs=0.06)
    assert (fit.before, fit.after) == pytest.approx((-0.4, -1.0), abs=0.03)


@pytest.mark.parametrize(
    ("x", "y"), [(HINKLEY_X, HINKLEY_Y), (BAND_X, BAND_Y)], ids=["Hinkley", "Bacon & Watts"]
)
def test_no_bend_on_a_fine_lattice_fits_better(x: np.ndarray, y: np.ndarray) -> None:
    """The lattice is fitted by numpy's own least squares."""
    best = fit_two_lines(x, y)
    lattice = np.linspace(x[1], x[-2], 2001)
    sums = []
    for bend in lattice:
        design = np.column_stack([np.ones(len(x)), x, np.maximum(x - bend, 0)])
        solution = np.linalg.lstsq(design, y, rcond=None)[0]
        sums.append(((y - design @ solution) ** 2).sum())

    assert best is not None
    assert best.residual_sum <= min(sums) * (1 + 1e-12)
    assert best.residual_sum == pytest.approx(min(sums), rel=1e-4)
    assert best.bend == pytest.approx(lattice[int(np.argmin(sums))], abs=0.005)


def test_a_bend_without_noise_is_found_exactly() -> None:
    x = np.arange(100.0, 420.0, 20.0)
    fit = fit_two_lines(x, 60 - 0.02 * x - 0.1 * np.maximum(x - 273, 0))

    assert fit is not None
    assert fit.bend == pytest.approx(273, rel=1e-9)
    assert (fit.before, fit.after) == pytest.approx((-0.02, -0.12), rel=1e-9)


@pytest.mark.parametrize("points", [8, 12, 20])
def test_the_interval_holds_the_bend_nine_times_in_ten(points: int) -> None:
    rng = np.random.default_rng(points)
    x = np.linspace(0, 10, points)
    found = []
    for _ in range(100):
        y = 60 - x - 5 * np.maximum(x - 6.2, 0) + rng.normal(size=points)
        at = find_breakpoint(x.tolist(), y.tolist(), "W").at
        if at.low is not None and at.high is not None:
            found.append(at.low <= 6.2 <= at.high)

    assert len(found) > 90
    assert 0.84 <= np.mean(found) <= 0.97


def test_a_straight_line_is_seldom_called_bent() -> None:
    rng = np.random.default_rng(4)
    x = np.arange(10.0)
    bent = [
        find_breakpoint(x.tolist(), (60 - 2 * x + rng.normal(size=10)).tolist(), "W").at.value
        for _ in range(150)
    ]

    assert sum(b is not None for b in bent) <= 0.05 * 150


def test_the_caution_goes_with_it() -> None:
    x = list(range(100, 420, 40))
    found = find_breakpoint(x, [60 - 0.1 * max(v - 250, 0) for v in x], "W")

    assert found.at.value == pytest.approx(250)
    assert found.caution == CAUTION
    assert "not a load that can be kept up" in CAUTION


@pytest.mark.parametrize(
    ("x", "y", "words"),
    [
        ([], [], "6 different loads"),
        ([1, 2, 3, 4, 5], [1, 2, 3, 4, 9], "6 different loads"),
        ([1] * 8, [1, 2, 3, 4, 5, 6, 7, 8], "6 different loads"),
        ([1, 2, 3, 4, 5, 6, 7], [5] * 7, "one straight line"),
        ([1, 2, 3, 4, 5, 6, 7], [1, 2, 3, 4, 5, 6, 7], "one straight line"),
    ],
    ids=["nothing", "five", "one load", "constant", "straight"],
)
def test_says_why_there_is_none(x: list[float], y: list[float], words: str) -> None:
    found = find_breakpoint(x, y, "W")

    assert found.at.value is None
    assert words in found.at.reason


def test_a_bend_outside_the_points_has_no_fit() -> None:
    assert bent_at(np.arange(6.0), np.arange(6.0), -1.0) is None


def test_five_points_are_too_few_for_two_lines() -> None:
    assert fit_two_lines(np.arange(5.0), np.arange(5.0)) is None
    assert fit_two_lines(np.arange(6.0), np.arange(6.0)) is not None


def test_a_level_trace_is_level_wherever_it_bends() -> None:
    fit = fit_two_lines(np.arange(8.0), np.full(8, 5.0))

    assert fit is not None
    assert (fit.level, fit.before, fit.after, fit.residual_sum) == pytest.approx((5, 0, 0, 0))


def test_equal_loads_at_the_beginning_are_no_place_to_bend() -> None:
    x = np.array([1, 1, 1, 2, 3, 4, 5, 6.0])
    fit = fit_two_lines(x, np.minimum(x, 4))

    assert fit is not None
    assert (fit.bend, fit.residual_sum) == (pytest.approx(4), pytest.approx(0))
