"""Read little-endian fields off a payload one by one, and name the one that is missing."""

from livemon.errors import DecodeError


class FieldReader:
    """A payload and how far it has been read."""

    __slots__ = ("_at", "_characteristic", "_payload")

    def __init__(self, payload: bytes, characteristic: str) -> None:
        self._payload = payload
        self._characteristic = characteristic
        self._at = 0

    @property
    def remaining(self) -> int:
        """Octets not read yet."""
        return len(self._payload) - self._at

    def uint(self, octets: int, field: str) -> int:
        """Read the next unsigned number; raise DecodeError if the payload ends inside it."""
        return int.from_bytes(self._take(octets, field), "little")

    def sint(self, octets: int, field: str) -> int:
        """Read the next signed number; raise DecodeError if the payload ends inside it."""
        return int.from_bytes(self._take(octets, field), "little", signed=True)

    def _take(self, octets: int, field: str) -> bytes:
        if self.remaining < octets:
            raise DecodeError(self._characteristic, f"ends before {field}", self._payload)
        start, self._at = self._at, self._at + octets
        return self._payload[start : self._at]
