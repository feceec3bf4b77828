"""The balance words as an athlete reads them."""

from typing import Final

from livemon.estimate.balance import Balance
from livemon.tongue import marked

#: One word for a picture.
ONE_WORD: Final = {
    Balance.SUPPLY_AHEAD: marked("Refilling"),
    Balance.IN_BALANCE: marked("Holding"),
    Balance.DEMAND_AHEAD: marked("Draining"),
    Balance.AT_LOW: marked("At its low"),
    Balance.UNSURE: marked("Can’t tell"),
}

#: What it means, for the legend. The words in brackets are the coach's.
MEANING: Final = {
    Balance.SUPPLY_AHEAD: marked("more oxygen came than the muscle used (supply ahead)"),
    Balance.IN_BALANCE: marked("as much came as it used (in balance)"),
    Balance.DEMAND_AHEAD: marked("it used more than came (demand ahead)"),
    Balance.AT_LOW: marked("level, where it could fall no further (at low)"),
    Balance.UNSURE: marked("too little or too rough a signal to say (unsure)"),
}
