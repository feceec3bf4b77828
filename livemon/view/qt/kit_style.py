"""The Kit page's buttons, fields and cards in the colours of the theme."""

from livemon.view.theme import Theme
from livemon.warn.priority import Priority


def kit_style(theme: Theme, px: int) -> str:
    """Return the style sheet for text of `px` pixels."""
    field = max(24, round(px * 1.5))
    return f"""
    QWidget {{ color: {theme.ink}; font-size: {px}px; }}
    QWidget#kit, QWidget#ground, QScrollArea {{ background: {theme.ground}; border: none; }}
    QFrame#card {{ background: {theme.card}; border-radius: 8px; }}
    QLabel {{ background: transparent; }}
    QLabel#title {{ font-size: {round(px * 1.9)}px; font-weight: bold; }}
    QLabel#heading {{ font-weight: bold; }}
    QLabel#column {{ font-weight: bold; min-height: {field + 6}px; }}
    QLabel#dim {{ color: {theme.dim}; }}
    QLabel#small {{ color: {theme.dim}; font-size: {max(12, round(px * 0.88))}px; }}
    QLineEdit, QComboBox {{
        background: {theme.ground}; border: 1px solid {theme.scale}; border-radius: 6px;
        padding: 2px 8px; min-height: {field}px;
    }}
    QComboBox::drop-down {{ border: none; width: {round(px * 1.8)}px; }}
    QComboBox::down-arrow {{ image: none; }}
    QComboBox QLineEdit {{ border: none; padding: 0; min-height: 0; background: transparent; }}
    QLineEdit:focus, QComboBox:focus {{ border: 2px solid {theme.focus}; padding: 1px 7px; }}
    QLineEdit:disabled, QComboBox:disabled {{ color: {theme.dim}; border-color: {theme.rule}; }}
    QComboBox QAbstractItemView {{
        background: {theme.card}; selection-background-color: {theme.ink};
        selection-color: {theme.ground};
    }}
    QPushButton {{
        background: transparent; border: 1px solid {theme.scale}; border-radius: 6px;
        padding: 2px 12px; min-height: {field}px;
    }}
    QPushButton:hover, QPushButton:checked {{ background: {theme.band[Priority.INFORMATION]}; }}
    QPushButton:focus {{ border: 2px solid {theme.focus}; padding: 1px 11px; }}
    QPushButton#main {{ background: {theme.ink}; color: {theme.ground}; font-weight: bold; }}
    QPushButton#main:focus {{ border: 2px solid {theme.curves[0]}; }}
    QPushButton:disabled, QPushButton#main:disabled {{
        background: transparent; color: {theme.old}; border: 1px solid {theme.rule};
    }}
    QListView {{
        background: {theme.card}; border: 1px solid {theme.card}; border-radius: 8px;
        outline: none;
    }}
    QListView:focus {{ border-color: {theme.scale}; }}
    QProgressBar {{
        background: {theme.rule}; border: none; border-radius: 3px; min-height: 6px;
        max-height: 6px;
    }}
    QProgressBar::chunk {{ background: {theme.curves[0]}; border-radius: 3px; }}
    QScrollBar:vertical {{ background: transparent; width: 10px; margin: 0; }}
    QScrollBar::handle:vertical {{
        background: {theme.scale}; border-radius: 4px; min-height: 32px;
    }}
    QScrollBar::add-line, QScrollBar::sub-line, QScrollBar::add-page, QScrollBar::sub-page {{
        background: transparent; height: 0;
    }}
    """
