"""The Bouts page of the recording that is running or replayed, opened from its window."""

from pathlib import Path

from livemon.app.bouts_desk import BoutsDesk, BoutsWish


class BoutsBeside:
    """Opens desks on one recording; each reads what is written by then.

    Args:
        growing: a live session is writing it; see `BoutsWish`.
    """

    def __init__(self, path: Path, *, growing: bool) -> None:
        self._wish = BoutsWish((path,), growing=growing)
        self._desks: list[BoutsDesk] = []

    def open(self) -> BoutsDesk:
        """Begin to read."""
        desk = BoutsDesk(self._wish)
        desk.start()
        self._desks.append(desk)
        return desk

    def close(self) -> None:
        """Leave off reading; return once nothing is running any more."""
        for desk in self._desks:
            desk.stop()
            desk.join()
