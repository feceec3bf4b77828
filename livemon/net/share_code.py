"""The join code: what a person reads off one screen and types into another.

    K7QM-3XHD             a share on this computer only
    K7QM-3XHD-9PTR-W4NA   beyond it: the second half is the mark of the hub's certificate

The first half is a secret, new at each start. The second is none: it lets a relay that was only
told the code tell the hub from an impostor before it gives the secret away. Nothing here knows how
either travels.
"""

import hmac
from collections.abc import Callable
from dataclasses import dataclass, field
from hashlib import scrypt
from typing import Final

from livemon.errors import UsageError

#: Letters and digits without those that people mix up on a screen or in handwriting:
#: 0 O, 1 I L, 2 Z, 5 S, 8 B, U V (V stays).
ALPHABET: Final = "34679ACDEFGHJKMNPQRTVWXY"
#: 24⁸ ≈ 1.1 · 10¹¹ codes. Whoever guesses is let wait a second each time, in at most some dozens of
#: connections, and finds one in a million in a class of two hours at best.
_HALF: Final = 8
_BLOCK: Final = 4
#: RFC 7914, 2: N, r, p. About 40 ms a try, so that nobody makes a certificate with the same mark
#: while a class lasts: 24⁸ tries are more than a hundred years of a computer's core.
_SLOW: Final = {"n": 2**14, "r": 8, "p": 1}
_SALT: Final = b"livemon: mark of a certificate, 1"


@dataclass(frozen=True, slots=True)
class JoinCode:
    """A code that was read or made.

    Attributes:
        secret: lets a relay in.
        mark: of the certificate that the hub has to show; None on this computer only.
    """

    secret: str = field(repr=False)
    mark: str | None = None

    def __str__(self) -> str:
        letters = self.secret + (self.mark or "")
        return "-".join(letters[at : at + _BLOCK] for at in range(0, len(letters), _BLOCK))


def new_secret(below: Callable[[int], int]) -> str:
    """Return a secret; `below(n)` draws a number from 0 to n - 1, as `secrets.randbelow` does."""
    return "".join(ALPHABET[below(len(ALPHABET))] for _ in range(_HALF))


def mark_of(certificate: bytes) -> str:
    """Return the mark of a certificate in DER."""
    digest = scrypt(certificate, salt=_SALT, n=_SLOW["n"], r=_SLOW["r"], p=_SLOW["p"], dklen=16)
    number = int.from_bytes(digest, "big")  # 128 bits, so all marks are as likely
    letters = []
    for _ in range(_HALF):
        number, letter = divmod(number, len(ALPHABET))
        letters.append(ALPHABET[letter])
    return "".join(letters)


def read_code(text: str) -> JoinCode:
    """Return the code that a person typed; blanks, hyphens and small letters do no harm.

    Raises:
        UsageError: it is none.
    """
    letters = "".join(text.upper().replace("-", " ").split())
    strange = sorted(set(letters) - set(ALPHABET))
    if strange:
        raise UsageError(
            f"{text!r} is no join code: {', '.join(strange)} never occurs in one; look again at"
            " the hub's screen"
        )
    if len(letters) not in (_HALF, 2 * _HALF):
        raise UsageError(
            f"{text!r} is no join code: it has {len(letters)} letters and digits; one has"
            f" {2 * _HALF}, or {_HALF} on the hub's own computer"
        )
    return JoinCode(letters[:_HALF], letters[_HALF:] or None)


def same(one: str, other: str) -> bool:
    """Compare in a time that does not tell where they differ."""
    return hmac.compare_digest(one.encode(), other.encode())
