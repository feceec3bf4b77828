"""Contrast of both themes, by the formula of WCAG 2.2 (relative luminance, 1.4.3, 1.4.11)."""

from itertools import product

import pytest

from livemon.view.theme import DARK, LIGHT, Theme

TEXT, LARGE_TEXT, GRAPHICS = 4.5, 3.0, 3.0


def luminance(colour: str) -> float:
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_formula_agrees_with_published_pairs() -> None:
    """Okabe and Ito's colours on black, as several packages' documents list them."""
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert contrast("#E69F00", "#000000") == pytest.approx(9.3, abs=0.05)
    assert contrast("#56B4E9", "#000000") == pytest.approx(9.1, abs=0.05)
    assert contrast("#0072B2", "#FFFFFF") == pytest.approx(5.2, abs=0.05)


@pytest.mark.parametrize("theme", [DARK, LIGHT], ids=lambda theme: theme.name)
class TestTheme:
    def test_text_on_every_ground(self, theme: Theme) -> None:
        for text, ground in product((theme.ink, theme.dim), (theme.ground, theme.card)):
            assert contrast(text, ground) >= TEXT, (text, ground)
        for ground in theme.band.values():
            assert contrast(theme.ink, ground) >= TEXT

    def test_large_old_numbers(self, theme: Theme) -> None:
        for ground in (theme.ground, theme.card):
            assert contrast(theme.old, ground) >= LARGE_TEXT, ground

    def test_old_is_seen_to_be_old(self, theme: Theme) -> None:
        """Grey must differ from ink by more than a shade."""
        assert contrast(theme.ink, theme.old) >= GRAPHICS

    def test_curves_and_axes(self, theme: Theme) -> None:
        for colour, ground in product((*theme.curves, theme.scale), (theme.card, theme.ground)):
            assert contrast(colour, ground) >= GRAPHICS, (colour, ground)

    def test_warning_frames_and_symbols(self, theme: Theme) -> None:
        for priority, colour in theme.priority.items():
            for ground in (theme.ground, theme.card, theme.band[priority]):
                assert contrast(colour, ground) >= GRAPHICS, (priority, ground)

    def test_no_frame_counts_as_saturated_red(self, theme: Theme) -> None:
        """WCAG 2.2, 2.3.1: a red flash needs R/(R+G+B) of 0.8 or more."""
        for ground in theme.band.values():
            red, green, blue = (int(ground[i : i + 2], 16) for i in (1, 3, 5))
            assert red / (red + green + blue) < 0.8
