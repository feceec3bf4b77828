"""What a device looks like, for the screen.

Kinds are compared and kept in English; here they are put into the language that was chosen.
"""

from typing import Final

from livemon.tongue import marked, said

STRAP_KIND: Final = marked("heart-rate strap")
#: As `WORK_KINDS` has them.
WORK_WORDS: Final = (
    marked("machine"),
    marked("power meter"),
    marked("foot sensor"),
    marked("wheel or crank sensor"),
    marked("pulse oximeter (SpO2)"),
)
_BEFORE, _AFTER = "oximeter (", ")"


def oximeter_kind(adapter: str) -> str:
    """Return the kind of what this adapter reads."""
    return f"{_BEFORE}{adapter}{_AFTER}"


def kinds_said(kinds: tuple[str, ...]) -> tuple[str, ...]:
    """Return the kinds in the language spoken."""
    return tuple(_said(kind) for kind in kinds)


def _said(kind: str) -> str:
    if kind.startswith(_BEFORE) and kind.endswith(_AFTER):
        adapter = kind.removeprefix(_BEFORE).removesuffix(_AFTER)
        return said("oximeter ({adapter})", adapter=adapter)
    return said(kind)
