"""Why a value that somebody typed can't be kept: the words of the table that checks marks."""

from typing import Final

from livemon.reworded.forms import NUMBER, Forms
from livemon.tongue import marked

#: Names of what is entered, and what is said as it stands.
PLAIN: Final = frozenset(
    {
        marked("load"),
        marked("power"),
        marked("speed"),
        marked("repetitions"),
        marked("distance"),
        marked("RPE (Borg CR10)"),
        marked("lactate"),
        marked("sampling site"),
        marked("note"),
        marked("bout"),
        marked("kind of work"),
        marked("planned time"),
        marked("planned distance"),
        marked("lower edge"),
        marked("upper edge"),
        marked("refilling to end at"),
        marked("% of baseline"),
        marked("muscle site"),
        marked("plan"),
        marked("step"),
        marked("steps in all"),
        marked("this step"),
        marked("next step"),
        marked("heart-rate band: give both edges, or neither for no band"),
    }
)

FORMS: Final = (
    marked("{low} to {high}"),
    marked("{low} to {high} {unit}"),
    marked("{share} % of baseline"),
    marked("heart-rate band: {low} to {high} bpm is none: the upper edge has to be higher"),
    marked("load: give one number, in one of {units}"),
    marked("load: expected one of {units}"),
    marked("{field}: missing; expected text"),
    marked("{field}: missing; expected one of {choices}"),
    marked("{field}: missing; expected {limits}"),
    marked("{field}: at most {most} characters, got {count}"),
    marked("{field}: expected one of {choices}, got {text}"),
    marked("{field}: expected a whole number, got {text}"),
    marked("{field}: expected {limits}, got {text}"),
    marked("{field}: {text} is not a number; expected {limits}"),
)
_RANGE: Final = rf"{NUMBER} to {NUMBER}(?: .+?)?"
_PLACES: Final = {"low": NUMBER, "high": NUMBER, "limits": _RANGE, "share": NUMBER}
_OURS: Final = frozenset({"field", "limits", "text", "unit"})
_SAYS: Final = Forms(PLAIN, FORMS, _PLACES, _OURS)


def refusal_said(english: str) -> str:
    """Return why a value was refused, in the language spoken; what isn't known stays as it is."""
    return _SAYS.said(english)
