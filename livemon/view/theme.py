"""Two sets of colours, dark and light, chosen by meaning. No Qt: plain hexadecimal.

Curves and warnings take their hues from the palette of Okabe and Ito (Color Universal Design,
2008). On white most of that palette is too pale for lines, so the light theme darkens it.
Colour says how urgent a warning is and helps to follow a curve; the words, the place and the
shape of a marker say the same.
"""

from dataclasses import dataclass
from typing import Final

from livemon.warn.priority import Priority


@dataclass(frozen=True, slots=True)
class Theme:
    """Colours by meaning.

    Attributes:
        ink: what is to be read first.
        dim: labels and explanations.
        old: large numbers that are old or unknown.
        rule: hairlines that only divide; nobody needs them to understand anything.
        scale: axis lines, brackets and pointers, which are needed.
        curves: by the place of the site, again from the start after the last.
        priority: a warning's frame and symbol.
        band: the ground behind a warning's sentence.
    """

    name: str
    ground: str
    card: str
    ink: str
    dim: str
    old: str
    rule: str
    scale: str
    focus: str
    curves: tuple[str, ...]
    priority: dict[Priority, str]
    band: dict[Priority, str]


DARK: Final = Theme(
    name="dark",
    ground="#0F1317",
    card="#181E24",
    ink="#EDF1F4",
    dim="#9DA8B3",
    old="#6B7783",
    rule="#2A323A",
    scale="#7C8894",
    focus="#EDF1F4",
    curves=("#56B4E9", "#CC79A7", "#16A37C", "#C3CBD3"),
    priority={
        Priority.INFORMATION: "#C3CBD3",
        Priority.CAUTION: "#F0E442",
        Priority.DRAIN: "#FF7A2F",
    },
    band={
        Priority.INFORMATION: "#1C2329",
        Priority.CAUTION: "#26250F",
        Priority.DRAIN: "#2E1B10",
    },
)

LIGHT: Final = Theme(
    name="light",
    ground="#F1F3F5",
    card="#FFFFFF",
    ink="#12161A",
    dim="#525C66",
    old="#828C96",
    rule="#D6DCE1",
    scale="#737E89",
    focus="#12161A",
    curves=("#0072B2", "#A84A80", "#00785A", "#4B555F"),
    priority={
        Priority.INFORMATION: "#4B555F",
        Priority.CAUTION: "#7D6A00",
        Priority.DRAIN: "#B83C00",
    },
    band={
        Priority.INFORMATION: "#E6EAED",
        Priority.CAUTION: "#FFF7C2",
        Priority.DRAIN: "#FFE6D8",
    },
)
