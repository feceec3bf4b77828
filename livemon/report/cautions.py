"""The cautions that every sheet carries. Local rules and licensed practice come first."""

from typing import Final

from livemon.tongue import marked, said

CAUTIONS: Final = (
    marked(
        "This is training information, not a medical device and not a diagnosis; local rules and"
        " the advice of licensed professionals come first."
    ),
    marked(
        "Stop and get help with chest pain, faintness, unusual breathlessness, palpitations or"
        " confusion."
    ),
    marked(
        "Before hard training go through a pre-exercise screening, above all with symptoms, known"
        " disease or after a long pause."
    ),
    marked(
        "Readings belong to this sensor at this place: fat under the skin above 7 mm damps them, a"
        " tight strap can fake a fall, and they can’t be compared between people."
    ),
    marked("Blood for lactate: a new single-use lancet for each person, clean hands, clean meter."),
)


def cautions() -> str:
    """Return all of them, in the language spoken."""
    return " ".join(said(line) for line in CAUTIONS)
