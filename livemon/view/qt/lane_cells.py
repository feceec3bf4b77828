"""What stands in the cells of a strip: name and reason, heart rate, one site, the bout clock."""

from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter

from livemon.tongue import marked, said
from livemon.view.lanes_model import LaneModel, Urgency
from livemon.view.model import HeartRateModel, SiteModel, Tone
from livemon.view.numbers import DASH
from livemon.view.qt.band_gauge import draw_band
from livemon.view.qt.look import Look
from livemon.view.qt.scribe import Scribe
from livemon.view.qt.shapes import draw_fault, draw_marker, draw_priority, draw_tilt
from livemon.view.words import halves, widest_balance

#: Words that would have to be set smaller than this share stand on two lines instead.
_ONE_LINE_SHARE: Final = 0.8
#: A cell this much wider than tall has room for words beside the number.
_WORDS_BESIDE: Final = 3.6
_WIDEST_CLOCK: Final = "00:00"
_WIDEST_FOOT: Final = marked("Demand ahead −10.0")


def draw_name(painter: QPainter, scribe: Scribe, box: QRectF, model: LaneModel, look: Look) -> None:
    """Draw number, name, and below them why somebody should look here."""
    theme, height = look.theme, box.height()
    top = QRectF(box.left(), box.top(), box.width(), height * 0.40)
    number = scribe.line(f"{model.number}{'•' if model.pinned else ''}", top, theme.dim)
    name = top.adjusted(number.width() + height * 0.14, 0, 0, 0)
    written = scribe.line(model.name, name, theme.ink, bold=True)
    if model.effort is not None:
        _draw_effort(scribe, box, written.right() + height * 0.2, model, look)
    if not model.words:
        return
    left, size = box.left(), height * 0.30
    symbol = QRectF(left, box.top() + height * 0.71 - size / 2, size, size)
    if model.priority is not None and model.urgency is not Urgency.FAULT:
        draw_priority(painter, symbol, model.priority, look)
        left = symbol.right() + height * 0.12
    elif model.urgency is Urgency.FAULT:
        draw_fault(painter, symbol, theme.dim)
        left = symbol.right() + height * 0.12
    area = QRectF(left, box.top() + height * 0.45, box.right() - left, height * 0.53)
    line = area.height() * 0.58
    colour = theme.dim if model.urgency is Urgency.CALM else theme.ink
    if scribe.width(model.words, line * _ONE_LINE_SHARE) <= area.width():
        scribe.line(
            model.words, QRectF(left, area.center().y() - line / 2, area.width(), line), colour
        )
        return
    half = area.height() / 2
    for at, words in enumerate(halves(model.words)):
        scribe.line(words, QRectF(left, area.top() + at * half, area.width(), half), colour)


def _draw_effort(
    scribe: Scribe, box: QRectF, name_right: float, model: LaneModel, look: Look
) -> None:
    """Write power or speed: below the name, or behind it where the reason needs that place."""
    effort, line = model.effort, box.height() * 0.31
    if effort is None:
        return
    colour = look.theme.dim if effort.tone is Tone.FRESH else look.theme.old
    if not model.words:
        below = QRectF(box.left(), box.top() + box.height() * 0.52, box.width(), line)
        scribe.line(effort.whole, below, colour)
    elif scribe.width(effort.text, line) <= box.right() - name_right:
        behind = QRectF(name_right, box.top() + box.height() * 0.05, box.right() - name_right, line)
        scribe.line(effort.text, behind, colour, align=Qt.AlignmentFlag.AlignRight)


def draw_heart_rate(
    painter: QPainter, scribe: Scribe, box: QRectF, model: HeartRateModel, look: Look
) -> None:
    """Draw the number, right-aligned to its band."""
    gauge = box.height() * 0.46
    width = box.width() - gauge
    digits = min(box.height() * 0.62, width * 0.345)
    number = QRectF(box.left(), box.center().y() - digits / 2, width, digits)
    colour = look.theme.ink if model.tone is Tone.FRESH else look.theme.old
    scribe.figure(model.text, number, colour, align=Qt.AlignmentFlag.AlignRight, widest="188")
    if model.band is not None:
        area = QRectF(number.right() + gauge * 0.1, box.top(), gauge * 0.9, box.height())
        draw_band(painter, area, model.band, model.bpm, look)


def draw_site(
    painter: QPainter, scribe: Scribe, box: QRectF, model: SiteModel, place: int, look: Look
) -> None:
    """Draw one site: name, number and tilt, balance and rate."""
    theme, height = look.theme, box.height()
    row = height * 0.25
    dot = row * 0.5
    draw_marker(painter, QPointF(box.left() + dot / 2, box.top() + row / 2), dot, place, look)
    name = QRectF(box.left() + dot * 1.6, box.top(), box.width() - dot * 1.6, row)
    scribe.line(model.name, name, theme.dim)
    beside = box.width() > _WORDS_BESIDE * height
    digits = min(height * (0.58 if beside else 0.42), box.width() * 0.24)
    below = height - row if beside else height - 2 * row
    top = box.top() + row + (below - digits) * (0.7 if beside else 0.45)
    colour = theme.ink if model.tone is Tone.FRESH else theme.old
    number = scribe.figure(
        model.text, QRectF(box.left(), top, box.width() * 0.5, digits), colour, widest="88"
    )
    if model.text != DASH:
        unit = digits * 0.42
        box_of_unit = QRectF(number.right() + unit * 0.2, number.bottom() - unit * 0.8, unit, unit)
        scribe.line("%", box_of_unit, theme.dim)
    left = box.left() + digits * 2.5
    tilt_width = (
        min(digits * 1.1, box.right() - left) if beside else min(box.right() - left, height)
    )
    tilt = QRectF(left, box.top() + row, tilt_width, below)
    if model.tilt is not None:
        draw_tilt(painter, tilt, model.tilt, place, look)
    words = QRectF(box.left(), box.bottom() - row, box.width(), row)
    if beside:
        words = QRectF(tilt.right() + row * 0.3, box.top() + row * 1.25, 0, row * 1.1)
        words.setRight(box.right())
    _draw_words(scribe, words, model, look, beside=beside)


def _draw_words(scribe: Scribe, box: QRectF, model: SiteModel, look: Look, *, beside: bool) -> None:
    """Write balance and rate, on two lines beside the number or on one below it."""
    theme = look.theme
    sure = model.tilt is not None and model.tilt.sure
    second = box.translated(0, box.height() * 1.15)
    if model.tone is not Tone.FRESH:
        scribe.line(model.detail, second if beside else box, theme.ink)
    elif beside:
        scribe.line(model.balance, box, theme.ink, widest=widest_balance())
        scribe.line(model.rate if sure else DASH, second, theme.ink)
    else:
        rate = " " + model.rate.removesuffix(" %/min") if sure else ""
        scribe.line(f"{model.balance}{rate}", box, theme.ink, widest=said(_WIDEST_FOOT))


def draw_clock(scribe: Scribe, box: QRectF, model: LaneModel, look: Look) -> None:
    """Draw how long the bout or recovery has lasted, or has left of what is planned."""
    if not model.clock.elapsed:
        return
    right = Qt.AlignmentFlag.AlignRight
    line = box.height() * 0.42 * min(1.0, len(_WIDEST_CLOCK) / len(model.clock.elapsed))
    middle = QRectF(box.left(), box.center().y() - line / 2, box.width(), line)
    if model.resting:
        row = box.height() * 0.26
        rest = QRectF(box.left(), box.top(), box.width(), row)
        scribe.line(said("rest"), rest, look.theme.dim, align=right)
    scribe.line(
        model.clock.elapsed,
        middle,
        look.theme.dim,
        align=right,
        widest=_WIDEST_CLOCK,
    )
    counts = _counts(model) if model.clock.planned else ""
    row = box.height() * 0.26
    scribe.line(
        counts,
        QRectF(box.left(), box.bottom() - row, box.width(), row),
        look.theme.dim,
        align=right,
    )


def _counts(model: LaneModel) -> str:
    """Return whether a planned time is still to come or has passed."""
    return said("over") if model.clock.elapsed.startswith("+") else said("left")
