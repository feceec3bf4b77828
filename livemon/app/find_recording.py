"""A recording as people name it on the command line: a path, or what the library calls it."""

from livemon.app.places import recordings_folder
from livemon.record.library import Library
from livemon.record.reader import Recording, open_recording


def named_recording(name: str) -> Recording:
    """Open the recording that is called `name`.

    Raises:
        UsageError: none is called so, or several are.
        RecordingError: it can't be read.
    """
    return open_recording(Library(recordings_folder()).find(name))
