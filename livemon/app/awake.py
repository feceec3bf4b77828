"""Keep the screen from going dark while a session is live, if wakepy is installed and gets through.

A screen that sleeps warns nobody; so where it can't be kept on, that is said.
"""

from contextlib import ExitStack
from typing import Final

from livemon.tongue import said

#: What to install.
EXTRA: Final = "pip install 'livemon[awake]'"


class Awake:
    """Keeps the screen on from `keep` to `let_go`; both are called in the same thread."""

    def __init__(self) -> None:
        self._held = ExitStack()
        self._tried = False
        self.trouble = ""  #: why the screen may go dark; empty while it is kept on, or may sleep

    def keep(self, wanted: bool) -> str:
        """Keep the screen on from now on, or no longer; return why it may go dark all the same."""
        if wanted and not self._tried:
            self._tried = True
            self.trouble = self._begin()
        elif not wanted and self._tried:
            self.let_go()
        return self.trouble

    def let_go(self) -> None:
        """Let the screen sleep as it likes."""
        self._held.close()
        self._tried, self.trouble = False, ""

    def _begin(self) -> str:
        try:
            from wakepy import keep
        except ImportError:
            return said(
                "It may go dark all the same: {command} lets livemon keep it on.", command=EXTRA
            )
        mode = self._held.enter_context(keep.presenting(on_fail="pass"))
        if mode.active:
            return ""
        return said("It may go dark all the same: this system would not let livemon keep it on.")
