"""What is wrong with a link and what to do about it, in words for the person on the gym floor.

Nothing but words chosen from facts; no state, no clock.
"""

from typing import Final

from livemon.link.status import Cause, LinkState
from livemon.tongue import marked, said

#: A remembered sensor that is not heard for this long has a reason worth naming.
_HELD_AFTER_S: Final = 10.0
#: The smallest adapters hold five links, others seven or eight; from here on being full is likely.
_MAYBE_FULL_AT: Final = 4
#: Another program's scan ends within seconds; beyond this the adapter itself is stuck.
_STUCK_AFTER_S: Final = 30.0

_HELD: Final = marked(
    "Not heard for {seconds} s. It may be switched off, dry or out of range; or another device (a"
    " phone, a watch) holds its only link: close that program, or switch that device's Bluetooth"
    " off."
)
_FULL: Final = marked(
    "The Bluetooth adapter of this computer may be full ({links} links are open; many hold 5 to 8)."
    " Take a sensor off the list, plug in a second adapter, or let another computer relay."
)
_STUCK: Final = marked(
    "The Bluetooth adapter has been busy for {seconds} s. Close other Bluetooth windows; if"
    " that does not help, unplug and replug the adapter or restart the Bluetooth service."
)
_REFUSED: Final = marked(
    "{problem}. Forget the sensor in the system's Bluetooth settings, then try again from the Kit"
    " page; livemon does not keep trying by itself."
)
_SILENT: Final = marked(
    "Linked, but nothing has come for {seconds} s. Check that it sits and is wet or warm; the"
    " link is opened afresh by itself."
)
_FIRST: Final = marked(
    "Linked, waiting for the first data. Some sensors send only while they sit on the skin."
)
#: A strap sends once a second.
_FIRST_AFTER_S: Final = 3.0
_MISTAKE: Final = marked(
    "livemon made a mistake with this sensor and wrote it to its log. It is tried again every few"
    " seconds; the other sensors are not touched."
)
_ASKING: Final = marked(
    "A device with this sensor's name is here, but it may be another one. Hold the right one close"
    " to the computer and choose it, so that nobody gets another person's data."
)


def hint(
    state: LinkState,
    *,
    missing_s: float,
    links: int,
    cause: Cause,
    busy: bool,
    trouble: str,
    problem: str,
) -> str:
    """Return what to say of one link; empty when all is well or it is too early to say.

    Args:
        state: where the link stands.
        missing_s: for how long no data have come.
        links: how many links we hold.
        cause: why the last attempt or link failed.
        busy: the adapter is busy with something else.
        trouble: why Bluetooth as a whole can't be used; empty if it can.
        problem: the same in words.
    """
    seconds = f"{missing_s:.0f}"
    match state:
        case LinkState.LIVE | LinkState.STOPPED:
            return ""
        case LinkState.REFUSED:
            return said(_REFUSED, problem=_sentence(problem))
        case LinkState.ASKING:
            return said(_ASKING)
        case LinkState.OPEN:
            return said(_FIRST) if missing_s >= _FIRST_AFTER_S else ""
        case LinkState.SILENT:
            return said(_SILENT, seconds=seconds)
    if trouble:
        return said(trouble)
    if cause is Cause.MISTAKE:
        return said(_MISTAKE)
    if busy and missing_s >= _STUCK_AFTER_S:
        return said(_STUCK, seconds=seconds)
    reasons = []
    if links >= _MAYBE_FULL_AT and (cause is Cause.NOT_FOUND or missing_s >= _HELD_AFTER_S):
        reasons.append(said(_FULL, links=links))
    if missing_s >= _HELD_AFTER_S:
        reasons.append(said(_HELD, seconds=seconds))
    if reasons:
        return " ".join(reasons)
    return said("{problem}; trying again.", problem=_sentence(problem)) if problem else ""


def _sentence(text: str) -> str:
    told = said(text) if text else ""
    return told[:1].upper() + told[1:]
