"""The measured half of docs/performance.md: a section a part, the newest in place of the old."""

import os
import platform
from importlib.metadata import version
from pathlib import Path
from typing import Final

from benchmarks.figure import Figure, table
from benchmarks.picture import picture

PAGE: Final = Path(__file__).parents[1] / "docs" / "performance.md"
MEASURED: Final = "## Measured"
#: Pictures by the name of their curve: what stands along each axis.
AXES: Final = {
    "growth-athletes": ("athletes", "µs of processor a notification"),
    "growth-minutes": ("minutes of session", "µs of processor a notification, last tenth"),
}
_LIBRARIES: Final = ("numpy", "PySide6-Essentials", "pyqtgraph", "bleak", "aiomqtt")
_HEAD: Final = "### "


def load() -> float:
    """Return how many programs wanted a processor in the last minute; 0 where nobody knows."""
    return os.getloadavg()[0] if hasattr(os, "getloadavg") else 0.0


def section(name: str, figures: tuple[Figure, ...], loads: tuple[float, float]) -> str:
    """Return a part's section; `loads` are of its begin and its end."""
    curves = sorted({one.curve for one in figures if one.curve})
    drawn = "".join(
        f"\n![{AXES[one][1]} by {AXES[one][0]}](pictures/{one}.svg)\n" for one in curves
    )
    busy = (
        f"Load when it began {loads[0]:.1f}, when it ended {loads[1]:.1f}, "
        f"on {os.cpu_count()} cores."
    )
    return f"{_HEAD}{name}\n\n{table(figures)}\n\n{busy}\n{drawn}"


def write(sections: dict[str, str], order: tuple[str, ...]) -> None:
    """Put sections, by name, in the place of the old ones."""
    before, _, after = PAGE.read_text("utf-8").partition(MEASURED)
    kept = {one.partition("\n")[0]: _HEAD + one.rstrip() + "\n" for one in after.split(_HEAD)[1:]}
    all_of_them = kept | sections
    libraries = ", ".join(f"{name} {version(name)}" for name in _LIBRARIES)
    machine = (
        f"{platform.platform()}, {platform.machine()}, {os.cpu_count()} cores, "
        f"Python {platform.python_version()}, {libraries}."
    )
    body = "\n".join(all_of_them[name] for name in order if name in all_of_them)
    PAGE.write_text(f"{before}{MEASURED}\n\n{machine}\n\n{body}", "utf-8")


def draw(figures: tuple[Figure, ...]) -> None:
    """Draw the curves that these figures make."""
    for name, (across, up) in AXES.items():
        if points := [one for one in figures if one.curve == name]:
            path = PAGE.parent / "pictures" / f"{name}.svg"
            path.write_text(picture(points, across, up), "utf-8")
