"""Decode what fitness machines send: a record, whole or in pieces.

A record that does not fit one notification is split. Pieces that say "more data" come first; the
piece that doesn't closes the record. A field may have one of two sizes, by the edition of the
standard that the machine's maker had; the size is right with which the packet's length comes out
exactly. Taken for the other, every field behind it would be read wrong, power among them.
Source: as `livemon.decode.machine_fields`; the order of the pieces is from memory of the Fitness
Machine Service 1.0.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from livemon.decode.machine_fields import Machine, Part
from livemon.decode.samples import IntensitySample
from livemon.errors import DecodeError

_MORE_DATA: Final = 1 << 0

#: A piece that waits longer for the rest belongs to a record that was lost. Common practice, no
#: source: machines send about one record a second.
_RECORD_TAKES_S: Final = 2.0

_RACE_M: Final = 500  # a rower's pace is the time for so many metres


@dataclass(frozen=True, slots=True)
class Piece:
    """One notification.

    Attributes:
        values: by the name of the part; None where the machine says "not available".
        more: the rest of the record is still to come.
    """

    values: Mapping[str, float | None]
    more: bool


def decode_piece(machine: Machine, payload: bytes) -> Piece:
    """Decode one notification of a machine.

    Raises:
        DecodeError: its length is that of neither edition.
    """
    if len(payload) < machine.flag_octets:
        raise DecodeError(machine.characteristic, "ends before flags", payload)
    flags = int.from_bytes(payload[: machine.flag_octets], "little")
    lengths = []
    for edition_2017 in (False, True):
        parts = _parts(machine, flags, edition_2017=edition_2017)
        length = machine.flag_octets + sum(part.octets for part in parts)
        if length == len(payload):
            return Piece(_values(parts, payload, machine.flag_octets), bool(flags & _MORE_DATA))
        lengths.append(length)
    expected = " or ".join(str(length) for length in dict.fromkeys(lengths))
    problem = f"{len(payload)} octets, expected {expected}"
    raise DecodeError(machine.characteristic, problem, payload)


def _parts(machine: Machine, flags: int, *, edition_2017: bool) -> tuple[Part, ...]:
    present = flags ^ _MORE_DATA  # the first row is there when its bit is 0
    return tuple(
        part
        for row in machine.rows
        if present >> row.bit & 1
        for part in row.of(edition_2017=edition_2017)
    )


def _values(parts: tuple[Part, ...], payload: bytes, at: int) -> dict[str, float | None]:
    values: dict[str, float | None] = {}
    for part in parts:
        raw = int.from_bytes(payload[at : at + part.octets], "little", signed=part.signed)
        values[part.name] = None if raw == part.not_known else raw / part.down
        at += part.octets
    return values


class MachineDecoder:
    """One machine's notifications, put together to records."""

    __slots__ = ("_begun_t_s", "_machine", "_values")

    def __init__(self, machine: Machine) -> None:
        self._machine = machine
        self._values: dict[str, float | None] = {}
        self._begun_t_s = 0.0

    def decode(self, payload: bytes, t_s: float, sensor: str) -> tuple[IntensitySample, ...]:
        """Decode one notification; gives a sample when it closes a record."""
        piece = decode_piece(self._machine, payload)
        if t_s - self._begun_t_s > _RECORD_TAKES_S or self._values.keys() & piece.values.keys():
            self._values = {}
        if not self._values:
            self._begun_t_s = t_s
        self._values |= piece.values
        if piece.more:
            return ()
        values, self._values = self._values, {}
        return (_sample(self._machine, values, t_s, sensor),)


def _sample(
    machine: Machine, values: Mapping[str, float | None], t_s: float, sensor: str
) -> IntensitySample:
    bpm = values.get("bpm")
    return IntensitySample(
        t_s,
        sensor,
        machine.source,
        power_w=values.get("power_w"),
        speed_m_per_s=_speed(values),
        cadence_per_min=values.get("cadence_per_min"),
        distance_m=values.get("distance_m"),
        incline_pct=values.get("incline_pct"),
        bpm=None if bpm is None else int(bpm),
    )


def _speed(values: Mapping[str, float | None]) -> float | None:
    if "speed_m_per_s" in values:
        return values["speed_m_per_s"]
    pace = values.get("pace_s_per_500_m")
    return _RACE_M / pace if pace else None  # a pace of 0 is what a rower sends at rest
