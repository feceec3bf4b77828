"""Does the installed Qt binding keep count of its references?

PySide6 6.12.0 gives one reference to None away with each call that returns nothing. On Python
before 3.12, where None can die, the process is then killed without a word after some thousand
calls. Better told beforehand.
"""

import sys
from typing import Final

from PySide6.QtWidgets import QLabel

_CALLS: Final = 300
#: Other threads may hold or drop a few at the same time; a broken binding loses one a call.
_ALLOWED_LOSS: Final = 50
#: From here on None is immortal and cannot be counted down.
_IMMORTAL_NONE: Final = (3, 12)


def qt_binding_is_sane() -> bool:
    """Return False when the binding loses references; needs a QApplication."""
    if sys.version_info >= _IMMORTAL_NONE:
        return True
    label = QLabel()
    before = sys.getrefcount(None)
    for _ in range(_CALLS):
        label.setText("x")
    return before - sys.getrefcount(None) < _ALLOWED_LOSS
