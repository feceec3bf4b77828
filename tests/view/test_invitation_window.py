"""How relays join, seen in the window and read back from the screen with zxing-cpp."""

from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest
import scenes
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel

from livemon.net.share_qr import qr_matrix
from livemon.view.invitation import InvitationModel
from livemon.view.qt.invitation_panel import InvitationPanel
from livemon.view.qt.window import LiveWindow
from livemon.view.settings import ThemeChoice, ViewSettings

np = pytest.importorskip("numpy")
zxingcpp = pytest.importorskip("zxingcpp", reason="reads QR codes; an extra of the tests")
pytest.importorskip("segno", reason="the extra `share`")

#: Invented; as long as one over TLS is.
URI = "livemon://192.168.1.20:8883/join?code=K7QM-3XHD-9PTR-W4NA&sha256=" + "k" * 43
SIZES = [(1366, 768), (1920, 1080)]
THEMES = [ThemeChoice.DARK, ThemeChoice.LIGHT]


class Nobody:
    """Asked for nothing but to stop."""

    def stop(self) -> None:
        pass

    def finished(self) -> bool:
        return True

    def undo(self) -> None:
        pass


class Door:
    """A share whose invitation changes when somebody is refused."""

    def __init__(self) -> None:
        command = "livemon relay --join K7QM-3XHD-9PTR-W4NA@192.168.1.20:8883"
        self.model = InvitationModel(
            "K7QM-3XHD-9PTR-W4NA", "192.168.1.20:8883", "on the local network", command,
            qr_matrix(URI),
        )  # fmt: skip

    def __call__(self) -> InvitationModel:
        return self.model


class Opened:
    """A window with the invitation lying over it."""

    def __init__(self, size: tuple[int, int] = SIZES[0], theme: ThemeChoice = THEMES[0]) -> None:
        self.door = Door()
        snapshot = scenes.session(scenes.quiet())
        self.window = LiveWindow(
            lambda: snapshot, Nobody(), ViewSettings(theme=theme), invitation=self.door
        )
        self.window.resize(*size)
        self.window.show()
        self.window.activateWindow()
        assert QTest.qWaitForWindowActive(self.window)
        self.window.refresh()
        self.press()
        (self.panel,) = self.window.findChildren(InvitationPanel)

    def press(self) -> None:
        QTest.keyClick(QApplication.focusWidget() or self.window, Qt.Key.Key_J)
        self.window.refresh()
        QApplication.processEvents()

    def seen(self) -> QImage:
        return self.window.grab().toImage().convertToFormat(QImage.Format.Format_Grayscale8)


@pytest.fixture
def opened(application: QApplication) -> Iterator[Callable[..., Opened]]:
    made: list[Opened] = []

    def open_one(*chosen: object, **named: object) -> Opened:
        made.append(Opened(*chosen, **named))
        return made[-1]

    yield open_one
    for one in made:
        one.window.close()
        one.window.deleteLater()
    application.processEvents()
    application.sendPostedEvents(None, QEvent.Type.DeferredDelete)  # else they pile up


def pixels(image: QImage):
    width, height, line = image.width(), image.height(), image.bytesPerLine()
    return np.frombuffer(image.constBits(), np.uint8).reshape(height, line)[:, :width].copy()


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("theme", THEMES)
def test_the_code_is_read_from_the_screen(
    opened: Callable[..., Opened], size: tuple[int, int], theme: ThemeChoice
) -> None:
    shown = opened(size, theme)
    (found,) = zxingcpp.read_barcodes(pixels(shown.seen()), try_invert=False)

    assert found.text == URI


@pytest.mark.parametrize("theme", THEMES)
def test_four_light_modules_are_around_it(
    opened: Callable[..., Opened], theme: ThemeChoice
) -> None:
    """ISO/IEC 18004: the quiet zone of a QR code is 4 modules wide."""
    shown = opened(theme=theme)
    qr = shown.panel.qr
    at = qr.mapTo(shown.window, QPoint(0, 0))
    side = qr.width()
    module = side // len(shown.door.model.matrix)
    seen = pixels(shown.seen())[at.y() : at.y() + side, at.x() : at.x() + side]

    dark = np.argwhere(seen < 128)
    assert dark.min() == 4 * module
    assert dark.max() == side - 4 * module - 1
    assert seen[: 4 * module].min() == 255
    assert set(np.unique(seen)) == {0, 255}


@pytest.mark.parametrize("size", [*SIZES, (800, 480)])
def test_the_whole_code_and_all_words_have_room(
    opened: Callable[..., Opened], size: tuple[int, int]
) -> None:
    shown = opened(size)
    panel = shown.panel
    qr = panel.qr
    inside = shown.window.rect()

    assert inside.contains(qr.mapTo(shown.window, QPoint(qr.width() - 1, qr.height() - 1)))
    for label in panel.findChildren(QLabel):
        if label.isVisible():
            needed = label.heightForWidth(label.width()) if label.wordWrap() else 0
            assert label.height() >= needed, label.text()
            right = label.mapTo(shown.window, QPoint(label.width() - 1, 0))
            assert inside.contains(right), label.text()
    assert panel.code.fontMetrics().horizontalAdvance(panel.code.text()) <= panel.code.width()


def test_a_screen_reader_is_told_the_code(opened: Callable[..., Opened]) -> None:
    shown = opened()

    assert QApplication.focusWidget() is shown.panel
    assert shown.panel.accessibleName() == "How relays join"
    assert "Join code K7QM-3XHD-9PTR-W4NA" in shown.panel.accessibleDescription()
    assert "192.168.1.20:8883" in shown.panel.accessibleDescription()
    assert shown.panel.qr.accessibleName() == "QR code of the invitation"


def test_who_is_refused_is_shown_while_it_is_open(opened: Callable[..., Opened]) -> None:
    shown = opened()
    before = shown.panel.refused.isVisible()
    words = "3 times somebody gave a wrong join code"
    shown.door.model = replace(shown.door.model, refused=(words,))
    shown.window.refresh()

    assert not before
    assert shown.panel.refused.isVisible()
    assert shown.panel.refused.text() == words


def test_a_code_that_can_not_be_drawn_leaves_the_words(opened: Callable[..., Opened]) -> None:
    shown = opened()
    shown.door.model = replace(shown.door.model, matrix=(), trouble="no QR code without: …")
    shown.window.refresh()

    assert not shown.panel.qr.isVisible()
    assert shown.panel.code.text() == "K7QM-3XHD-9PTR-W4NA"
    assert "no QR code without" in shown.panel.refused.text()


def test_the_key_opens_and_closes_it(opened: Callable[..., Opened]) -> None:
    shown = opened()
    assert shown.panel.isVisible()
    shown.press()
    assert not shown.panel.isVisible()
