"""The installed Qt binding must keep its references; this test goes red where it doesn't."""

from PySide6.QtWidgets import QApplication

from livemon.view.qt.canary import qt_binding_is_sane


def test_the_installed_binding_keeps_its_references(application: QApplication) -> None:
    assert qt_binding_is_sane()
