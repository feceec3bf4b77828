"""Whether a window can be opened is told in words, before Qt gets the chance to abort."""

from livemon.view.qt.availability import why_no_window

EVERYTHING = lambda library: library  # noqa: E731 - a loader that always succeeds


def without(*missing: str):
    def load(library: str) -> str:
        if library in missing:
            raise OSError(library)
        return library

    return load


def test_no_display_is_told_first_even_when_libraries_are_missing() -> None:
    why = why_no_window({}, platform="linux", load=without("libxcb-cursor.so.0"))

    assert why is not None
    assert "DISPLAY" in why
    assert "xcb" not in why


def test_a_missing_library_names_the_packages_to_install() -> None:
    why = why_no_window(
        {"DISPLAY": ":0"}, platform="linux", load=without("libxcb-cursor.so.0", "libGL.so.1")
    )

    assert why is not None
    assert "apt-get install libgl1 libxcb-cursor0" in why


def test_all_there() -> None:
    assert why_no_window({"DISPLAY": ":0"}, platform="linux", load=EVERYTHING) is None


def test_wayland_needs_no_x11_libraries() -> None:
    load = without("libxcb-cursor.so.0")

    assert why_no_window({"WAYLAND_DISPLAY": "w"}, platform="linux", load=load) is None


def test_drawing_into_memory_needs_no_display_but_its_libraries() -> None:
    off_screen = {"QT_QPA_PLATFORM": "offscreen"}

    assert why_no_window(off_screen, platform="linux", load=EVERYTHING) is None
    assert why_no_window(off_screen, platform="linux", load=without("libEGL.so.1")) is not None


def test_other_systems_bring_everything() -> None:
    assert why_no_window({}, platform="darwin", load=without("libGL.so.1")) is None
    assert why_no_window({}, platform="win32", load=without("libGL.so.1")) is None
