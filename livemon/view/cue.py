"""What can be heard: warnings by their priority, and a plan that goes on."""

from enum import Enum
from typing import Final

from livemon.warn.priority import Priority


class Cue(Enum):
    """The sounds there are."""

    CAUTION = "caution"
    DRAIN = "drain"
    STEP = "step"  #: a plan announces its next step, or begins it


#: Information is shown and never heard.
CUE_OF: Final = {Priority.CAUTION: Cue.CAUTION, Priority.DRAIN: Cue.DRAIN}
