"""Give Qt's own widgets (table, entry line, help) the theme's colours."""

from PySide6.QtGui import QColor, QPalette

from livemon.view.theme import Theme


def palette(theme: Theme) -> QPalette:
    """Return the palette for everything that isn't painted by hand."""
    made = QPalette()
    for role, colour in (
        (QPalette.ColorRole.Window, theme.ground),
        (QPalette.ColorRole.Base, theme.card),
        (QPalette.ColorRole.AlternateBase, theme.ground),
        (QPalette.ColorRole.Button, theme.card),
        (QPalette.ColorRole.ToolTipBase, theme.card),
        (QPalette.ColorRole.WindowText, theme.ink),
        (QPalette.ColorRole.Text, theme.ink),
        (QPalette.ColorRole.ButtonText, theme.ink),
        (QPalette.ColorRole.ToolTipText, theme.ink),
        (QPalette.ColorRole.PlaceholderText, theme.dim),
        (QPalette.ColorRole.Mid, theme.scale),
        (QPalette.ColorRole.Highlight, theme.curves[0]),
        (QPalette.ColorRole.HighlightedText, theme.ground),
    ):
        made.setColor(role, QColor(colour))
    for role in (QPalette.ColorRole.ButtonText, QPalette.ColorRole.WindowText):
        made.setColor(QPalette.ColorGroup.Disabled, role, QColor(theme.old))
    return made
