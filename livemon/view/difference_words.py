"""A sensor whose own description and its adapter differ, in words."""

from collections.abc import Sequence
from typing import Final

from livemon.monitor.session import Difference
from livemon.tongue import marked, said

_OF_ONE: Final = marked(
    "{name}: its own description and its adapter differ ({found}). Check the adapter file before "
    "you trust the numbers."
)
_OF_THIS: Final = marked(
    "Its own description and its adapter differ ({found}). Check the adapter file before you trust "
    "the numbers."
)


def difference_words(differences: Sequence[Difference]) -> tuple[str, ...]:
    """Return a line for each sensor that there is something to say of."""
    names = {sensor: name for sensor, name, _ in differences}
    return tuple(
        said(_OF_ONE, name=name, found=_found(differences, sensor))
        for sensor, name in names.items()
    )


def difference_hint(differences: Sequence[Difference], sensor: str) -> str:
    """Return what to say of one sensor; empty where nothing differs."""
    found = _found(differences, sensor)
    return said(_OF_THIS, found=found) if found else ""


def _found(differences: Sequence[Difference], sensor: str) -> str:
    return "; ".join(words for one, _, words in differences if one == sensor)
