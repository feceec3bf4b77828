"""Which marks hold, after all corrections: the same answer in whatever order they came.

Marks that replace one another form a tree. Of each tree the latest word holds, and none if that
is a withdrawal. A correction whose original never came stands for itself, so nothing is lost when
an original arrives late or not at all.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from livemon.events import Mark
from livemon.monitor.mark_fields import MarkKind
from livemon.monitor.marks import happened_ns


@dataclass(frozen=True, slots=True)
class Standing:
    """A mark that holds.

    Attributes:
        first: id of the mark at the root of its tree: what others refer to, whatever replaced it.
        t_ns: when it happened.
    """

    first: str
    t_ns: int
    mark: Mark


class MarkBook:
    """Takes marks in any order, also twice, and knows which of them hold."""

    __slots__ = ("_marks", "_standing")

    def __init__(self, marks: Iterable[Mark] = ()) -> None:
        self._marks: dict[str, Mark] = {}
        self._standing: tuple[Standing, ...] | None = None
        for mark in marks:
            self.add(mark)

    def add(self, mark: Mark) -> None:
        """Take one more mark."""
        known = self._marks.get(mark.mark)
        # Two that claim one id are somebody's mistake; the later word holds, as everywhere.
        self._marks[mark.mark] = mark if known is None else max(known, mark, key=_word)
        self._standing = None

    @property
    def standing(self) -> tuple[Standing, ...]:
        """The marks that hold, in the order in which they happened."""
        if self._standing is None:
            self._standing = _resolved(self._marks)
        return self._standing

    def first_of(self, mark: str) -> str:
        """Return the id that a corrected mark is referred to by, given any id of its tree."""
        return _first(self._marks, mark)


def _resolved(marks: Mapping[str, Mark]) -> tuple[Standing, ...]:
    trees: dict[str, list[Mark]] = {}
    for mark in marks.values():
        trees.setdefault(_first(marks, mark.mark), []).append(mark)
    latest = {first: _latest(first, tree) for first, tree in trees.items()}
    standing = [
        Standing(first, happened_ns(mark), mark)
        for first, mark in latest.items()
        if mark.kind != MarkKind.WITHDRAWN
    ]
    return tuple(sorted(standing, key=lambda one: (one.t_ns, one.mark.t_ns, one.first)))


def _first(marks: Mapping[str, Mark], mark: str) -> str:
    """Return the root of the tree that `mark` belongs to."""
    path = [mark]
    while True:
        known = marks.get(path[-1])
        if known is None or known.replaces is None:
            return path[-1]
        if known.replaces in path:  # a ring, which no person makes; any fixed choice will do
            return min(path[path.index(known.replaces) :])
        path.append(known.replaces)


def _latest(first: str, tree: list[Mark]) -> Mark:
    # Any correction outdoes the original, even one entered in the same instant.
    return max(tree, key=lambda mark: (mark.mark != first, *_word(mark)))


def _word(mark: Mark) -> tuple[int, str, str]:
    """Order words by when they were said; what is left is arbitrary, but always the same."""
    return mark.t_ns, mark.mark, repr(mark)
