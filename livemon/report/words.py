"""The balance words as an athlete reads them."""

from typing import Final

from livemon.estimate.balance import Balance

#: One word for a picture.
ONE_WORD: Final = {
    Balance.SUPPLY_AHEAD: "Refilling",
    Balance.IN_BALANCE: "Holding",
    Balance.DEMAND_AHEAD: "Draining",
    Balance.AT_LOW: "At its low",
    Balance.UNSURE: "Can’t tell",
}

#: What it means, for the legend. The words in brackets are the coach's.
MEANING: Final = {
    Balance.SUPPLY_AHEAD: "more oxygen came than the muscle used (supply ahead)",
    Balance.IN_BALANCE: "as much came as it used (in balance)",
    Balance.DEMAND_AHEAD: "it used more than came (demand ahead)",
    Balance.AT_LOW: "level, where it could fall no further (at low)",
    Balance.UNSURE: "too little or too rough a signal to say (unsure)",
}
