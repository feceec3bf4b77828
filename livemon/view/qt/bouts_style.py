"""The Bouts page's lists, tables and pages of text in the colours of the theme."""

from livemon.view.qt.kit_style import kit_style
from livemon.view.theme import Theme
from livemon.warn.priority import Priority


def bouts_style(theme: Theme, px: int) -> str:
    """Return the style sheet for text of `px` pixels: the Kit page's, and what is here alone."""
    box = round(px * 0.7)
    quiet = theme.band[Priority.INFORMATION]
    return f"""{kit_style(theme, px)}
    QWidget#bouts {{ background: {theme.ground}; }}
    QListView::item {{ padding: {round(px * 0.3)}px {round(px * 0.4)}px; border-radius: 4px; }}
    QListView::item:selected, QListView::item:hover {{
        background: {quiet}; color: {theme.ink};
    }}
    QListView::indicator, QCheckBox::indicator {{
        width: {box}px; height: {box}px; border: 1px solid {theme.scale}; border-radius: 3px;
        padding: 2px;
    }}
    QListView::indicator:checked, QCheckBox::indicator:checked {{
        background: {theme.ink}; background-clip: content; border-color: {theme.ink};
    }}
    QTableView {{
        background: {theme.card}; border: 1px solid {theme.card}; border-radius: 8px;
        gridline-color: {theme.rule}; selection-background-color: {quiet};
        selection-color: {theme.ink}; outline: none;
    }}
    QTableView:focus {{ border-color: {theme.scale}; }}
    QTableView::item {{ padding: 0 {round(px * 0.6)}px; }}
    QHeaderView, QHeaderView::section {{ background: {theme.card}; border: none; }}
    QHeaderView::section {{
        color: {theme.dim}; padding: {round(px * 0.35)}px {round(px * 0.6)}px;
        border-bottom: 1px solid {theme.rule};
    }}
    QTextBrowser {{
        background: {theme.card}; border: 1px solid {theme.card}; border-radius: 8px;
        padding: {round(px * 0.5)}px {round(px * 0.7)}px;
    }}
    QTextBrowser:focus {{ border-color: {theme.scale}; }}
    QTabWidget::pane {{ border: none; }}
    QTabBar {{ background: transparent; }}
    QTabBar::tab {{
        background: transparent; color: {theme.dim}; border: none;
        border-bottom: 2px solid transparent; padding: 4px {round(px * 0.9)}px;
        min-height: {round(px * 1.5)}px;
    }}
    QTabBar::tab:selected {{ color: {theme.ink}; border-bottom-color: {theme.ink}; }}
    QTabBar QToolButton {{
        background: {theme.card}; color: {theme.ink}; border: 1px solid {theme.scale};
        border-radius: 3px;
    }}
    QTabBar:focus {{ border: 1px solid {theme.scale}; border-radius: 4px; }}
    QToolTip {{ color: {theme.ink}; background: {theme.card}; border: 1px solid {theme.scale}; }}
    QSplitter::handle {{ background: {theme.ground}; }}
    QScrollBar:horizontal {{ background: transparent; height: 10px; margin: 0; }}
    QScrollBar::handle:horizontal {{
        background: {theme.scale}; border-radius: 4px; min-width: 32px;
    }}
    OverlayView {{ border: 1px solid transparent; }}
    """
