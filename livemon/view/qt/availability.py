"""Can a window be opened here? Asked before Qt is imported, since Qt answers by aborting.

Without a display, or without one of the system's shared libraries, QApplication ends the process
and cannot be stopped from doing so. So look first, and say in words what is missing.
"""

import ctypes
import sys
from collections.abc import Callable, Mapping
from typing import Final

#: Shared libraries that Qt's wheels leave to the system, and the Debian packages that bring them.
#: Found by starting from a bare Debian 12 and adding what the next message asked for.
_FOR_ANY: Final = (
    ("libglib-2.0.so.0", "libglib2.0-0"),
    ("libGL.so.1", "libgl1"),
    ("libEGL.so.1", "libegl1"),
    ("libxkbcommon.so.0", "libxkbcommon0"),
    ("libfontconfig.so.1", "libfontconfig1"),
    ("libdbus-1.so.3", "libdbus-1-3"),
)
_FOR_X11: Final = (
    ("libxcb-cursor.so.0", "libxcb-cursor0"),
    ("libxcb-icccm.so.4", "libxcb-icccm4"),
    ("libxcb-keysyms.so.1", "libxcb-keysyms1"),
    ("libxcb-shape.so.0", "libxcb-shape0"),
    ("libxkbcommon-x11.so.0", "libxkbcommon-x11-0"),
)
#: Platforms of Qt that draw into memory and need no display.
_OFF_SCREEN: Final = {"offscreen", "minimal", "vnc"}


def why_no_window(
    environment: Mapping[str, str],
    *,
    platform: str = sys.platform,
    load: Callable[[str], object] = ctypes.CDLL,
) -> str | None:
    """Return in words why no window can be opened here; None when one can."""
    if not platform.startswith("linux"):
        return None  # Windows and macOS bring everything with them
    chosen = environment.get("QT_QPA_PLATFORM", "").split(":")[0]
    needed = list(_FOR_ANY)
    if chosen not in _OFF_SCREEN:
        wayland = bool(environment.get("WAYLAND_DISPLAY"))
        if not wayland and not environment.get("DISPLAY"):
            return (
                "There is no display: neither DISPLAY nor WAYLAND_DISPLAY is set. Start livemon "
                "from a desktop session, or use the terminal view."
            )
        if not wayland:
            needed += _FOR_X11
    missing = [package for library, package in needed if not _loads(library, load)]
    if missing:
        return (
            "The window needs system libraries that are not installed. On Debian and its "
            f"relatives: sudo apt-get install {' '.join(missing)}"
        )
    return None


def _loads(library: str, load: Callable[[str], object]) -> bool:
    try:
        load(library)
    except OSError:
        return False
    return True
