"""Turn one field of a payload into its value, or None where it stands for no reading.

A field is compiled once into a small function, so that reading a packet stays quick.
"""

from collections.abc import Callable

from livemon.decode.formats import Kind, Word, reader
from livemon.decode.layout import Condition, Field, Quantity
from livemon.decode.medfloat import decode_float, decode_sfloat

ReadValue = Callable[[bytes], float | None]


def value_reader(field: Field, offset: int) -> ReadValue:
    """Return a function that reads the field's value off a payload that is long enough."""
    if field.quantity is Quantity.CONTACT:
        read = _contact_reader(field, offset)
    elif field.quantity is Quantity.SEQUENCE:
        read = _count_reader(field, offset)
    elif field.word.format.kind is Kind.MEDFLOAT:
        read = _medfloat_reader(field, offset)
    else:
        read = _number_reader(field, offset)
    return read if field.known_if is None else _only_if(field.known_if, read)


def medfloat_of(word: Word) -> Callable[[int], float | None]:
    """Return the function that gives the number in a whole medical float."""
    return decode_sfloat if word.format.name == "medfloat16" else decode_float


def _number_reader(field: Field, offset: int) -> ReadValue:
    raw_of, not_known = reader(field.word, offset), frozenset(field.not_known)
    numerator, denominator = field.scale.fraction
    low, high = field.low, field.high

    def read(payload: bytes) -> float | None:
        raw = raw_of(payload)
        if raw in not_known:
            return None
        value = raw * numerator / denominator
        return value if low <= value <= high else None  # false for NaN, too

    return read


def _medfloat_reader(field: Field, offset: int) -> ReadValue:
    word_of, not_known = reader(field.word, offset), frozenset(field.not_known)
    number_of = medfloat_of(field.word)
    numerator, denominator = field.scale.fraction
    low, high = field.low, field.high

    def read(payload: bytes) -> float | None:
        word = int(word_of(payload))
        number = None if word in not_known else number_of(word)
        if number is None:
            return None
        value = number * numerator / denominator
        return value if low <= value <= high else None

    return read


def _count_reader(field: Field, offset: int) -> ReadValue:
    raw_of, not_known = reader(field.word, offset), frozenset(field.not_known)

    def read(payload: bytes) -> float | None:
        raw = raw_of(payload)
        return None if raw in not_known else raw

    return read


def _contact_reader(field: Field, offset: int) -> ReadValue:
    raw_of, not_known = reader(field.word, offset), frozenset(field.not_known)
    touching = frozenset(field.means_contact)

    def read(payload: bytes) -> float | None:
        raw = raw_of(payload)
        if raw in not_known:
            return None
        return raw in touching if touching else raw != 0

    return read


def _only_if(condition: Condition, read: ReadValue) -> ReadValue:
    return lambda payload: read(payload) if condition.holds(payload) else None
