"""The Pace page's structure: all text inside, none over another, at every size and theme."""

import pytest
import scenes
from PySide6.QtGui import QImage, QRawFont
from PySide6.QtWidgets import QApplication, QWidget
from seen_text import misplaced, written

from livemon.view.legibility import arcminutes
from livemon.view.present import present
from livemon.view.qt.lettering import Lettering
from livemon.view.qt.look import Look
from livemon.view.qt.pace import PacePage
from livemon.view.settings import ViewSettings
from livemon.view.theme import DARK, LIGHT, Theme

SIZES = [(800, 480), (1366, 768), (1920, 1080), (2560, 1080), (1080, 1350)]


def page(
    application: QApplication, name: str, size: tuple[int, int], theme: Theme = DARK
) -> PacePage:
    shown = PacePage(Look(theme, Lettering(), True))
    shown.resize(*size)
    shown.show_model(present(scenes.SCENES[name](), ViewSettings()), lit=True)
    shown.grab()
    return shown


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("name", scenes.SCENES)
def test_no_text_is_clipped_or_over_another(
    application: QApplication, name: str, size: tuple[int, int]
) -> None:
    shown = page(application, name, size)

    assert written(shown)
    assert misplaced(shown) == []


@pytest.mark.parametrize("size", [(1366, 768), (1920, 1080)])
@pytest.mark.parametrize("name", [name for name in scenes.SCENES if name != "long names"])
def test_ordinary_words_are_never_cut_short(
    application: QApplication, name: str, size: tuple[int, int]
) -> None:
    cut = [
        line.text
        for _, line, _ in written(page(application, name, size))
        if line.shown != line.text
    ]

    assert cut == []


@pytest.mark.parametrize("name", scenes.SCENES)
def test_every_glyph_is_in_the_font(application: QApplication, name: str) -> None:
    """Asked of the raw font: QFontMetricsF.inFont answers no to all beyond Latin-1 here."""
    font = QRawFont.fromFont(Lettering().at(20, bold=False)[0])
    lines = written(page(application, name, (1920, 1080)))
    missing = {c for _, line, _ in lines for c in line.shown if not font.supportsCharacter(ord(c))}

    assert missing == set()


@pytest.mark.parametrize(
    ("size", "pixel_mm"),
    [
        pytest.param((1920, 1080), 0.161, id="14 inch, 1080 lines"),
        pytest.param((1366, 768), 0.227, id="14 inch, 768 lines"),
    ],
)
def test_primary_numbers_are_readable_at_three_metres(
    application: QApplication, size: tuple[int, int], pixel_mm: float
) -> None:
    """ISO 9241-303: 20 minutes of arc are preferred; the page of one athlete with two sites."""
    heights = {
        line.text: line.capital_px * pixel_mm
        for _, line, _ in written(page(application, "warned", size))
    }

    for number in ("158", "47", "66"):
        assert arcminutes(heights[number], 3.0) >= 20, number


def test_words_reach_the_screen(application: QApplication) -> None:
    shown = {line.shown for _, line, _ in written(page(application, "warned", (1366, 768)))}

    assert {
        "158",
        "47",
        "66",
        "Demand ahead",
        "In balance",
        "−4.1 %/min",
        "1:48",
        "left of 5:00",
    } <= shown
    assert "Left thigh falling 4.1 %/min for 24 s while heart rate holds 158" in shown


def test_accessible_names_and_what_they_say(application: QApplication) -> None:
    shown = page(application, "warned", (1366, 768))
    said = {
        part.accessibleName(): part.accessibleDescription()
        for part in shown.findChildren(QWidget)
        if part.accessibleName()
    }

    assert said["Left thigh"].startswith("Left thigh 47 percent, demand ahead")
    assert said["Heart rate"].startswith("Heart rate 158 beats per minute, in band")
    assert said["Watch"].startswith("Left thigh falling")
    assert "last 6 minutes" in said["Strip chart"]


def pixels(image: QImage) -> set[str]:
    """Return the colours seen at every fourth pixel."""
    return {
        image.pixelColor(x, y).name().upper()
        for x in range(0, image.width(), 4)
        for y in range(0, image.height(), 4)
    }


@pytest.mark.parametrize("theme", [DARK, LIGHT], ids=lambda theme: theme.name)
def test_priority_colour_is_seen_only_while_a_warning_is_on(
    application: QApplication, theme: Theme
) -> None:
    for name, wanted in (("warned", True), ("quiet", False), ("stale strap", False)):
        image = page(application, name, (1366, 768), theme).grab().toImage()
        loud = {colour.upper() for colour in list(theme.priority.values())[1:]}
        assert bool(loud & pixels(image)) is wanted, name


def test_fewer_sites_leave_no_card_behind(application: QApplication) -> None:
    shown = page(application, "ten sites", (1366, 768))
    shown.show_model(present(scenes.quiet(), ViewSettings()), lit=True)
    shown.grab()

    texts = [line.text for _, line, _ in written(shown)]
    assert "Left glute" not in texts
