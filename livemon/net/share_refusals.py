"""What a share refuses, in words, and how often it did. It knows neither sockets nor packets."""

import logging
from collections import Counter
from enum import Enum
from typing import Final

from livemon.errors import LivemonError
from livemon.net.share_packets import Answer

_log = logging.getLogger(__name__)


class Refusal(Enum):
    """Why somebody is not let in, or is not let on."""

    SILENT = "did not say in time who it is"
    CROWD = "was sent away, because too many connections say nothing"
    NOT_OURS = "does not speak MQTT 3.1.1 as relays do"
    NO_CREDENTIALS = "came without a relay's name or without the join code"
    WRONG_CODE = "gave a wrong join code"
    BAD_NAME = "chose a name that no relay can have"
    NAME_TAKEN = "uses the name of a relay that runs on another computer"
    FULL = "came when the places for relays were all taken"
    FOREIGN_TOPIC = "reached for what is not its own"
    TOO_LONG = "sent a message that is too long"
    TOO_MUCH = "sends more than a relay may, and is slowed down to that"
    GONE = "was given up, because nothing came from it any more"


#: What is answered to a CONNECT; nothing where no answer is due, or where there is none in MQTT.
ANSWERS: Final[dict[Refusal, Answer | None]] = {
    Refusal.SILENT: None,
    Refusal.CROWD: None,
    Refusal.NOT_OURS: Answer.OTHER_VERSION,
    Refusal.NO_CREDENTIALS: Answer.NOT_ALLOWED,
    Refusal.WRONG_CODE: Answer.WRONG_PASSWORD,
    Refusal.BAD_NAME: Answer.OTHER_NAME,
    Refusal.NAME_TAKEN: Answer.OTHER_NAME,
    Refusal.FULL: Answer.LATER,
    Refusal.FOREIGN_TOPIC: Answer.NOT_ALLOWED,
    Refusal.TOO_LONG: None,
    Refusal.TOO_MUCH: None,
    Refusal.GONE: None,
}

#: Beyond so many different visitors the counts begin anew.
_MOST_REMEMBERED: Final = 1_000


class Refused(LivemonError):  # noqa: N818 - somebody else's fault, not ours
    """A connection ends here."""

    def __init__(self, refusal: Refusal, detail: str = "") -> None:
        super().__init__(f"{refusal.value}: {detail}" if detail else refusal.value)
        self.refusal = refusal


class RefusalLog:
    """Counts, and writes a line at the first, tenth, hundredth … time: a flood fills no disk.

    Attributes:
        counts: how often, by reason.
    """

    def __init__(self) -> None:
        self.counts: Counter[Refusal] = Counter()
        self._of_whom: Counter[tuple[Refusal, str]] = Counter()

    def note(self, refused: Refused, who: str) -> None:
        """Take note that `who` was refused."""
        self.counts[refused.refusal] += 1
        if len(self._of_whom) >= _MOST_REMEMBERED:
            self._of_whom.clear()
        self._of_whom[refused.refusal, who] += 1
        times = self._of_whom[refused.refusal, who]
        if str(times).strip("0") == "1":
            again = f" (now {times} times)" if times > 1 else ""
            _log.warning("%s %s%s", who, refused, again)
