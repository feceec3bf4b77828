"""Edges for what can be pressed on the panels over a page.

Qt draws these edges darker than the ground, so that in the dark theme nobody sees them: a box that
is not ticked would be invisible. Each button has the style sheet for itself, since a panel with one
would no longer follow the colours of the window.
"""

from PySide6.QtWidgets import QAbstractButton, QWidget

from livemon.view.theme import Theme


def dress_buttons(panel: QWidget, theme: Theme) -> None:
    """Give the panel's buttons and boxes edges that are seen."""
    for button in panel.findChildren(QAbstractButton):
        button.setStyleSheet(_style(theme))


def _style(theme: Theme) -> str:
    return f"""
    QCheckBox, QPushButton {{ color: {theme.ink}; }}
    QCheckBox::indicator {{
        width: 9px; height: 9px; border: 1px solid {theme.scale}; border-radius: 3px; padding: 2px;
    }}
    QCheckBox::indicator:checked {{
        background: {theme.ink}; background-clip: content; border-color: {theme.ink};
    }}
    QCheckBox::indicator:focus {{ border: 2px solid {theme.focus}; padding: 1px; }}
    QPushButton {{
        background: {theme.card}; border: 1px solid {theme.scale}; border-radius: 4px;
        padding: 4px 10px;
    }}
    QPushButton:focus {{ border: 2px solid {theme.focus}; padding: 3px 9px; }}
    QPushButton:disabled {{ color: {theme.old}; border-color: {theme.rule}; }}
    """
