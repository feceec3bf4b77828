"""Where the parts of a site's card lie: two columns, and on a narrow card one line beneath both."""

from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QRectF

#: Narrower than this, the longest line would be cut short beside the number.
_WIDE: Final = 3.9
#: Two bold digits by their height, with the unit and a little air.
_NUMBER_ASPECT: Final = 2.75


@dataclass(frozen=True, slots=True)
class CardFrame:
    """Boxes for everything on the card."""

    name: QRectF
    number: QRectF
    tilt: QRectF
    symbol: QRectF  #: of a warning; its place is kept, so that a warning moves no word
    balance: QRectF
    rate: QRectF
    detail: QRectF
    further: QRectF | None  #: a line below `detail` while a muscle refills, where there is room
    fault: QRectF  #: in place of balance, rate and detail


#: Where the lines beside the number begin, and how tall they are, by the height of all.
_THREE: Final = ((0.05, 0.37), (0.45, 0.25), (0.74, 0.23))
_FOUR: Final = ((0.0, 0.32), (0.34, 0.22), (0.58, 0.2), (0.8, 0.2))


def card_frame(width: float, height: float, *, lines: int = 3) -> CardFrame:
    """Divide a card of this size; beside the number of a wide one stand three lines, or four."""
    pad = min(height * 0.1, 20.0)
    area = QRectF(1.6 * pad, pad, width - 3.2 * pad, height - 2 * pad)
    wide = width > _WIDE * height
    name = min(area.height() * (0.22 if wide else 0.2), area.width() * 0.07)
    foot = 0.0 if wide else min(area.height() * 0.24, area.width() * 0.085)
    middle_top = area.top() + name * 1.3
    middle = area.height() - name * 1.3 - foot
    digits = middle * (0.88 if wide else 0.80)
    digits = min(digits, area.width() * (0.14 if wide else 0.145))
    number = QRectF(area.left(), middle_top + (middle - digits) / 2, digits * 2.1, digits)
    split = area.left() + area.width() * (0.47 if wide else 0.51)
    tilt_left = min(area.left() + digits * _NUMBER_ASPECT, split - digits)
    tilt_width = min(split - tilt_left - 0.1 * digits, middle * 1.5)
    tilt = QRectF(split - 0.25 * digits - tilt_width, middle_top, tilt_width, middle)
    right = QRectF(split, area.top(), area.right() - split, area.height())
    symbol = min(area.height() * 0.26, 44.0)
    if wide:
        line = min(area.height(), right.width() * 0.42)
        top = area.center().y() - line / 2
        rows = [
            QRectF(split, top + line * start, right.width(), line * share)
            for start, share in (_THREE if lines == 3 else _FOUR)
        ]
        balance, rate, detail = rows[0].adjusted(0, 0, -1.3 * symbol, 0), rows[1], rows[2]
        further = rows[3] if lines == 4 else None
        symbol_top = balance.center().y() - symbol / 2
    else:
        line = min(middle, right.width() * 0.36)
        top = middle_top + (middle - line) / 2
        balance = QRectF(split, top + line * 0.08, right.width(), line * 0.46)
        rate = QRectF(split, top + line * 0.54, right.width(), line * 0.38)
        detail = QRectF(area.left(), area.bottom() - foot * 0.9, area.width(), foot * 0.9)
        further = None
        symbol_top = area.top()
    fault = QRectF(
        split, area.center().y() - area.height() * 0.15, right.width(), area.height() * 0.3
    )
    name_right = split if wide else area.right() - 1.3 * symbol
    return CardFrame(
        name=QRectF(area.left(), area.top(), name_right - area.left() - 0.5 * pad, name),
        number=number,
        tilt=tilt,
        symbol=QRectF(area.right() - symbol, symbol_top, symbol, symbol),
        balance=balance,
        rate=rate,
        detail=detail,
        further=further,
        fault=fault,
    )
