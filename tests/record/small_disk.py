"""A disk with little room, for the journal to write to."""

import errno
import os


class SmallDisk:
    """Takes bytes as long as there is room; stores a part of a write, as real disks do."""

    def __init__(self, room: int) -> None:
        self.room = room
        self.refused = 0

    def write(self, descriptor: int, data: bytes) -> int:
        """Do as os.write would on a disk with `room` bytes left."""
        if self.room == 0:
            self.refused += 1
            raise OSError(errno.ENOSPC, "No space left on device")
        taken = os.write(descriptor, data[: self.room])
        self.room -= taken
        return taken
