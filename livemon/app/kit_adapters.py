"""Which adapters can be chosen, what each finds in the air, and what is odd about a new one."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Final

from livemon.app.kit_kinds import STRAP_KIND, oximeter_kind
from livemon.decode.adapter import Adapter, adapter_text, parse_adapter
from livemon.decode.check import check_adapter
from livemon.decode.heart_rate import HEART_RATE_MEASUREMENT
from livemon.link.plan import HEART_RATE_SERVICE
from livemon.link.standard_work import WORK_KINDS, work_kind
from livemon.tongue import marked, said
from livemon.view.kit_facts import STRAP, WORK

_ADDED: Final = marked("Adapter “{name}” can be chosen now.")
_REPLACED: Final = marked("Adapter “{name}” is replaced.")


class KitAdapters:
    """The adapters by name.

    Args:
        texts: TOML texts by name.
        keep: takes name and text of one that was added.
    """

    def __init__(
        self, texts: Mapping[str, str], keep: Callable[[str, str], None] = lambda _name, _text: None
    ) -> None:
        self._keep = keep
        self._texts = dict(texts)
        self._read = {name: parse_adapter(text, where=name) for name, text in texts.items()}

    @property
    def names(self) -> tuple[str, ...]:
        """The names, in the order in which they came."""
        return tuple(self._texts)

    def text(self, name: str) -> str:
        """Return the TOML text of an adapter."""
        return self._texts[name]

    def read(self, name: str) -> Adapter:
        """Return an adapter."""
        return self._read[name]

    def add(self, path: Path) -> tuple[str, ...]:
        """Offer the adapter in this file; return its name and what to look at, line by line.

        Raises:
            AdapterError: it can't be used at all.
            ConfigError: it can't be kept for the next session.
        """
        text = adapter_text(path)
        adapter = parse_adapter(text, where=path.name)
        replaced = adapter.name in self._texts
        self._texts[adapter.name], self._read[adapter.name] = text, adapter
        self._keep(adapter.name, text)
        sentence = _REPLACED if replaced else _ADDED
        findings = check_adapter(text, path.name)  # about the file, in its own terms: English
        return (
            said(sentence, name=adapter.name),
            *(findings or (said("Its check found nothing odd."),)),
        )

    def kinds(self) -> dict[str, str]:
        """Return the services that can be read, and what they stand for, in words."""
        words = {HEART_RATE_SERVICE: STRAP_KIND, **WORK_KINDS}
        for name, adapter in self._read.items():
            words[adapter.connection.service] = oximeter_kind(name)
        return words

    def offered(self, characteristics: frozenset[str]) -> tuple[str, ...]:
        """Return what offers these characteristics can be read as, in the words of `kinds`."""
        words = [STRAP_KIND] if HEART_RATE_MEASUREMENT in characteristics else []
        words += [
            oximeter_kind(name)
            for name, adapter in self._read.items()
            if adapter.characteristic in characteristics
        ]
        if (kind := work_kind(characteristics)) is not None:
            words.append(kind)
        return tuple(words)

    def reading(self, looks_like: tuple[str, ...]) -> str | None:
        """Return how what looks so can be read; None if that isn't plain."""
        names = {oximeter_kind(name): name for name in self._texts} | {STRAP_KIND: STRAP}
        names |= dict.fromkeys(WORK_KINDS.values(), WORK)
        return next((names[words] for words in looks_like if words in names), None)
