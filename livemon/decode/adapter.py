"""The oxygenation adapter: what a TOML file says about one kind of oximeter.

No two makes of muscle oximeter agree on a packet, and no standard has one. So a file describes
the packet, and a new sensor needs no code. `docs/adapters.md` explains every key.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from livemon.decode.adapter_file import Connection, read_connection, read_layout
from livemon.decode.encode import encode_packet
from livemon.decode.explain import FieldReading, explain_packet
from livemon.decode.layout import Layout, Quantity
from livemon.decode.oximeter import OximeterReader
from livemon.decode.samples import BatterySample, OxygenationSample
from livemon.decode.toml_table import parse_toml
from livemon.errors import AdapterError


@dataclass(frozen=True, slots=True)
class Adapter:
    """One kind of oximeter: how to reach it and how to read it."""

    connection: Connection
    layout: Layout
    _reader: OximeterReader = field(repr=False, compare=False)

    @property
    def name(self) -> str:
        """Its own id, as recordings and settings name it."""
        return self.connection.name

    @property
    def service(self) -> str:
        """UUID of the service, 36 characters in lower case."""
        return self.connection.service

    @property
    def characteristic(self) -> str:
        """UUID of the characteristic that notifies, 36 characters in lower case."""
        return self.connection.characteristic

    @property
    def channels(self) -> tuple[str, ...]:
        """Names of the channels, in the order in which sites are given."""
        return self.layout.channels

    @property
    def sequence_modulo(self) -> int | None:
        """At how many steps the packet counter starts again at 0; None if there is no counter."""
        for one in self.layout.fields:
            if one.quantity is Quantity.SEQUENCE:
                return one.modulo
        return None

    def decode(
        self, payload: bytes, t_s: float, *, sites: tuple[str, ...], sensor: str = ""
    ) -> tuple[OxygenationSample | BatterySample, ...]:
        """Decode one notification that arrived at `t_s`.

        `sites` names the muscle site of each channel; channels beyond them are left out.
        `sensor` says whose battery it is, where the packet tells of one.

        Raises:
            DecodeError: the payload ends before a field, or is shorter than the adapter says.
        """
        return self._reader.read(payload, t_s, sites=sites, sensor=sensor)

    def explain(self, payload: bytes) -> tuple[FieldReading, ...]:
        """Show every field of a payload of any length, for people who write an adapter."""
        return explain_packet(self.layout, payload)

    def encode(self, values: Mapping[str, float | None]) -> bytes:
        """Make the packet that says `values`, by field key; None says "not known".

        Optional fields that are not among `values` are left out of the packet, others are
        written as not known.

        Raises:
            UsageError: a key that is no field, or a value that its field can't hold.
        """
        return encode_packet(self.layout, values)


def parse_adapter(text: str, *, where: str) -> Adapter:
    """Read an adapter; `where` names the file in messages.

    Raises:
        AdapterError: not TOML, or a key missing, unknown or of no use.
    """
    table = parse_toml(text, where, AdapterError)
    connection = read_connection(table)
    layout = read_layout(table)
    return Adapter(connection, layout, OximeterReader(connection.characteristic, layout))


def adapter_text(path: Path) -> str:
    """Return an adapter file's text, as a recording keeps it.

    Raises:
        AdapterError: the file can't be read, or isn't text.
    """
    try:
        return path.read_text(encoding="utf-8")
    except OSError as error:
        reason = error.strerror or str(error)
        raise AdapterError(str(path), "", f"can't be read: {reason}") from error
    except UnicodeDecodeError as error:
        raise AdapterError(str(path), "", "expected UTF-8 text, found other bytes") from error
