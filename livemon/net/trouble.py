"""What can go wrong between machines, told apart by what to do next."""

from livemon.errors import LinkLost, LivemonError


class MessageError(LivemonError):
    """What arrived is no message of ours: counted, dropped, carried on."""


class BrokerLost(LinkLost):
    """The broker can't be reached, or went away; worth another try."""
