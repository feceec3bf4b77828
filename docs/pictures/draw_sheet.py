"""Draw the picture of the sheet in docs/analysis.md, from the invented record that the tests use.

QT_QPA_PLATFORM=offscreen python docs/pictures/draw_sheet.py       needs pdftoppm (Poppler)
"""

import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

HERE = Path(__file__).parent
sys.path.append(str(HERE.parent.parent / "tests" / "report"))

from invented_sheet import invented_record  # noqa: E402 - the tests' invented record

from livemon.analyse.session import analyse_athlete  # noqa: E402 - stands below what needs the path
from livemon.app.sheet_pdf import write_pdf  # noqa: E402 - the same
from livemon.report.paper import sheet_paper  # noqa: E402 - the same
from livemon.report.sheet import Heading  # noqa: E402 - the same

#: Dots per inch: an A4 page is then about 850 wide, as wide as a page of text is shown.
DPI = 103


def draw() -> None:
    """Print the sheet, and take a picture of the page."""
    record = invented_record()
    heading = Heading(record.athlete, "Four paces (invented data) · 12 May 2026, 17:30", "")
    with TemporaryDirectory() as folder:
        pdf = Path(folder) / "sheet.pdf"
        write_pdf(pdf, sheet_paper(heading, record, analyse_athlete(record)))
        picture = HERE / "sheet"
        command = ["pdftoppm", "-png", "-singlefile", "-r", str(DPI), str(pdf), str(picture)]
        subprocess.run(command, check=True)


if __name__ == "__main__":
    draw()
