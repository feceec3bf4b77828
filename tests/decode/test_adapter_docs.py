"""What docs/adapters.md says is true of the code."""

import re
from pathlib import Path

import pytest

from livemon.decode.adapter import parse_adapter
from livemon.decode.formats import FORMATS
from livemon.decode.layout import Quantity
from livemon.decode.samples import OxygenationSample
from livemon.decode.shipped import shipped_adapters

PAGE = (Path(__file__).parents[2] / "docs" / "adapters.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"```toml\n(.*?)```", PAGE, re.DOTALL)


def test_the_plain_example_is_the_shipped_one() -> None:
    printed = parse_adapter(EXAMPLES[0], where="adapters.md")

    assert printed == parse_adapter(shipped_adapters()["invented-plain"], where="shipped")


def test_the_packet_of_the_page_reads_as_the_page_says() -> None:
    adapter = parse_adapter(EXAMPLES[0], where="adapters.md")

    assert adapter.decode(bytes.fromhex("7A 02 C4 04"), 0.0, sites=("calf",)) == (
        OxygenationSample(0.0, "calf", 63.4, 12.2),
    )


def test_the_start_up_write_of_the_page_can_be_read() -> None:
    text = EXAMPLES[0].replace("[[field]]", EXAMPLES[1] + "\n[[field]]", 1)

    (write,) = parse_adapter(text, where="adapters.md").connection.start_up

    assert (write.octets, write.response) == (b"\x01\x0a", True)


def test_packed_twelve_bit_numbers_as_the_page_says() -> None:
    """AB C1 23: the low 12 bits of C1AB are 1AB; the upper 12 of 23C1 are 23C."""
    text = """
        livemon_adapter = 1
        name = "packed"
        service = "1822"
        characteristic = "2A5F"
        [[field]]
        quantity = "smo2"
        offset = 0
        format = "uint16"
        bits = [0, 11]
        scale = { d = -1 }
        [[field]]
        quantity = "thb"
        offset = 1
        format = "uint16"
        bits = [4, 15]
        unit = "a.u."
    """
    adapter = parse_adapter(text, where="packed")

    assert adapter.decode(b"\xab\xc1\x23", 0.0, sites=("calf",)) == (
        OxygenationSample(0.0, "calf", 0x1AB / 10, 0x23C),
    )


@pytest.mark.parametrize("word", [*FORMATS, *(quantity.value for quantity in Quantity)])
def test_every_format_and_quantity_is_explained(word: str) -> None:
    assert f"`{word}`" in PAGE
