"""The history of a quantity as plain text for a terminal."""

from collections.abc import Sequence

from livemon.tongue import said
from livemon.view.bouts_history import QUANTITIES, HistoryModel, history_model, kinds_of
from livemon.view.bouts_source import BoutsSession, sites_of


def history_texts(sessions: Sequence[BoutsSession], name: str) -> tuple[str, ...]:
    """Return one paragraph for each site and kind of work."""
    followed = next(one for one in QUANTITIES if one.name == name)
    models = [
        history_model(sessions, followed, site, kind)
        for kind in kinds_of(sessions)
        for site in sites_of(sessions)
    ]
    return tuple(_text(model) for model in models if model.dots) or (
        said("No recording has a bout at a muscle site."),
    )


def _text(model: HistoryModel) -> str:
    rows = [(d.day or said("day not known"), d.bout, d.shown.text, d.change) for d in model.dots]
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    lines = [
        "  ".join(text.ljust(width) for text, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]
    return "\n".join([model.title, *(f"  {line}" for line in lines), f"  {model.note}"])
