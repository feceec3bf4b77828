"""How relays join this session, as the window shows it."""

from dataclasses import dataclass

from livemon.tongue import said

#: Rows of modules, True where dark, with the quiet zone around them.
Matrix = tuple[tuple[bool, ...], ...]


@dataclass(frozen=True, slots=True)
class InvitationModel:
    """What to show.

    Attributes:
        code: what a person types.
        place: address and port.
        reach: who can reach it.
        command: what to type on a relay.
        matrix: the QR code; empty if it can't be drawn.
        trouble: why it can't; empty if it can.
        refused: whom the door turned away, and how often, in words.
    """

    code: str
    place: str
    reach: str
    command: str
    matrix: Matrix
    trouble: str = ""
    refused: tuple[str, ...] = ()


def spoken_invitation(model: InvitationModel) -> str:
    """Return what a screen reader says of it."""
    code = said("Join code {code}", code=model.code)
    return ". ".join((code, said("at {place}", place=model.place), model.reach, *model.refused))
