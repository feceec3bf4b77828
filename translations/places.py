"""The places in a text, as {site}: a translation has the same ones, or it can't be filled."""

from string import Formatter

from babel.messages import Catalog


def places(text: str) -> frozenset[str]:
    """Return the names of the places in `text`.

    Raises:
        ValueError: a brace is not closed.
    """
    return frozenset(name for _, name, _, _ in Formatter().parse(text) if name is not None)


def complaints(catalogue: Catalog) -> list[str]:
    """Return a line for each translation that can't be filled; untranslated texts stay English."""
    found = []
    for message in catalogue:
        if not message.id or message.fuzzy:
            continue
        originals = _forms(message.id)
        for translated in _forms(message.string):
            if translated:
                found += _wrong(originals, translated)
    return found


def _forms(text: str | list[str] | tuple[str, ...] | None) -> tuple[str, ...]:
    return (text or "",) if text is None or isinstance(text, str) else tuple(text)


def _wrong(originals: tuple[str, ...], translated: str) -> list[str]:
    wanted = frozenset().union(*map(places, originals))
    try:
        have = places(translated)
    except ValueError as error:
        return [f"{translated!r}: {error}"]
    missing = [f"{translated!r} has no {{{name}}}" for name in sorted(wanted - have)]
    unknown = [f"{translated!r} has an unknown {{{name}}}" for name in sorted(have - wanted)]
    return missing + unknown
