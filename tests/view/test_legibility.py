"""Reading at a distance, against the table of heights that follows from ISO 9241-303."""

import pytest

from livemon.view.legibility import arcminutes, distance_m, height_mm, legibility_words, pixel_mm


@pytest.mark.parametrize(
    ("arcmin", "metres", "millimetres"),
    [
        (16, 0.7, 3.3), (16, 1, 4.7), (16, 2, 9.3), (16, 3, 14.0), (16, 5, 23.3),
        (20, 0.7, 4.1), (20, 1, 5.8), (20, 2, 11.6), (20, 3, 17.5), (20, 5, 29.1),
        (22, 0.7, 4.5), (22, 1, 6.4), (22, 2, 12.8), (22, 3, 19.2), (22, 5, 32.0),
    ],
)  # fmt: skip
def test_height_by_angle_and_distance(arcmin: float, metres: float, millimetres: float) -> None:
    assert height_mm(arcmin, metres) == pytest.approx(millimetres, abs=0.051)
    assert arcminutes(height_mm(arcmin, metres), metres) == pytest.approx(arcmin)
    assert distance_m(height_mm(arcmin, metres), arcmin) == pytest.approx(metres)


def test_agrees_with_the_formula_of_nureg_0700() -> None:
    """NUREG-0700 rev. 2, 1.3.1-4: height = 6.283 · D · MA / 21600."""
    assert height_mm(20, 3) == pytest.approx(6.283 * 3000 * 20 / 21600, rel=1e-3)


def test_a_fourteen_inch_screen_needs_108_pixels_at_three_metres() -> None:
    """1920 × 1080 on 14 inches has 157 dots an inch, 0.161 mm a pixel."""
    pixel = pixel_mm(157.35)

    assert pixel == pytest.approx(0.1614, abs=1e-4)
    assert height_mm(20, 3) / pixel == pytest.approx(108, abs=0.5)


@pytest.mark.parametrize(
    ("pixels", "words"),
    [
        (109, "20′ at 3 m: easy to read"),
        (90, "17′ at 3 m: readable"),
        (60, "11′ at 3 m: too small; readable to 2.1 m"),
    ],
)
def test_words(pixels: float, words: str) -> None:
    assert legibility_words(pixels, 0.1614, 3.0) == words
