"""Put the page's models into its tables."""

from typing import Final

from livemon.tongue import said
from livemon.view.bouts_differences import DifferenceRow, Differences
from livemon.view.bouts_figures import Figures
from livemon.view.bouts_numbers import Cell
from livemon.view.bouts_overlay import ReadOut
from livemon.view.numbers import DASH
from livemon.view.qt.bouts_icon import marker_icon
from livemon.view.qt.bouts_table import BoutsTable, TableRow
from livemon.view.qt.look import Look
from livemon.view.words import shortened

_SHORT: Final = 22  #: characters of a site, in two lines


def show_figures(table: BoutsTable, model: Figures, look: Look, px: int) -> None:
    """Show a column for each bout."""
    icons = [None, *(marker_icon(place, px, look) for place in model.places)]
    rows = [TableRow((Cell(row.name), *row.cells), row.heading) for row in model.rows]
    table.show_table(("", *model.columns), icons, rows, look, px)


def show_differences(table: BoutsTable, model: Differences, look: Look, px: int) -> None:
    """Show a row for each difference; what is clear is bold."""
    columns = (said("Bout"), said("Site"), said("Quantity"), said("Difference"), said("Verdict"))
    rows = [_difference(row) for row in model.rows]
    table.show_table(columns, (None,) * len(columns), rows, look, px)


def show_read_out(table: BoutsTable, model: ReadOut, look: Look, px: int) -> None:
    """Show what stands at the cross-hair, under short headings."""
    columns = (said("Bout"), *(_short(title) for title in model.columns[1:]))
    rows = [
        TableRow(
            (Cell(row[0].split()[0], row[0]), *(Cell(v, "", v != DASH) for v in row[1:])),
            place=place,
        )
        for place, row in zip(model.places, model.rows, strict=True)
    ]
    table.show_table(columns, (None,) * len(columns), rows, look, px)
    table.share_width()


def _difference(row: DifferenceRow) -> TableRow:
    cells = Cell(row.bout), Cell(row.site), Cell(row.quantity), row.difference, Cell(row.verdict)
    return TableRow(cells, bold=(3, 4) if row.clear else (), place=row.place)


def _short(title: str) -> str:
    """Return a pane's title without its unit, which the numbers don't need in so little room."""
    return shortened(title.rsplit(", ", 1)[0], _SHORT)
