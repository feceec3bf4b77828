"""Whether warnings are heard, and whose are not: always on the screen."""

from typing import Final

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
        return "sound off"
    if here is not None:
        return "sound on, muted here" if here in muted else "sound on"
    if not muted:
        return "sound on"
    if len(muted) > _MOST:
        return f"sound on, {len(muted)} lanes muted"
    listed = ", ".join(str(number) for number in muted)
    return f"sound on, {'lane' if len(muted) == 1 else 'lanes'} {listed} muted"
