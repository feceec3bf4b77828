"""Whether warnings are heard, and whose are not: always on the screen."""

from typing import Final

from livemon.tongue import said, said_n

#: More lanes than this are counted, not listed.
_MOST: Final = 4


def sound_words(on: bool, muted: tuple[int, ...], here: int | None) -> str:
    """Return how sound stands.

    Args:
        on: sound is on at all.
        muted: the numbers of the lanes that are muted.
        here: the number of the lane that is shown alone; None where all are shown.
    """
    if not on:
        return said("sound off")
    if here is not None:
        return said("sound on, muted here") if here in muted else said("sound on")
    if not muted:
        return said("sound on")
    if len(muted) > _MOST:
        return said_n("sound on, {n} lane muted", "sound on, {n} lanes muted", len(muted))
    listed = ", ".join(str(number) for number in muted)
    return said_n(
        "sound on, lane {lanes} muted", "sound on, lanes {lanes} muted", len(muted), lanes=listed
    )
