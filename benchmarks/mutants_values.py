"""Put a bug at a module's own level into the module that is there already.

The changed module is run beside the old one, and what it computed - numbers, tables, default
arguments - is carried over to the old one and to whoever imported it by name. Classes stay the old
ones, so that objects of before and after go together. What other modules computed from the old
values while they were imported stays as it was.
"""

import sys
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, fields, is_dataclass
from enum import Enum
from pathlib import Path
from types import CodeType, FunctionType, MappingProxyType, ModuleType
from typing import cast


class CannotPlantError(Exception):
    """The bug changes a class itself, or more than values."""


@dataclass(slots=True)
class Planted:
    """What was carried over.

    Attributes:
        files: of the modules that have a changed value now.
        with_plain: those of them that know one by name which is no table and no object: what they
            made of it while they were imported can't be found.
        replaced: old and new values.
    """

    files: set[str]
    with_plain: set[str] = field(default_factory=set)
    replaced: list[tuple[object, object]] = field(default_factory=list)

    def now(self, value: object) -> object:
        """Return what stands for `value` now."""
        for old, new in self.replaced:
            if value is old:
                return new
        return tuple(map(self.now, value)) if type(value) is tuple else value


def plant(path: Path, code: CodeType) -> Planted:
    """Carry the values of `code`, the changed module, over.

    Raises:
        CannotPlantError: only importing everything anew shows this bug.
    """
    old = next((m for m in sys.modules.values() if getattr(m, "__file__", "") == str(path)), None)
    if old is None:
        raise CannotPlantError(path)
    new = ModuleType(old.__name__)
    new.__file__ = str(path)
    exec(code, new.__dict__)
    try:
        return _carried_over(new, old)
    except (AttributeError, KeyError, TypeError, ValueError) as error:
        raise CannotPlantError(path) from error


def _carried_over(new: ModuleType, old: ModuleType) -> Planted:
    planted = Planted({old.__file__ or ""})
    before = vars(old).copy()
    for name, value in vars(new).items():
        if name.startswith("__") or name not in before:
            continue
        if isinstance(value, FunctionType):
            _take_over(value, before[name], old)
        elif isinstance(value, type):
            _take_over_class(value, before[name], old)
        else:
            there = _as_before(value, old)
            if not _equal(there, before[name]):
                _replace(name, before[name], there, planted)
    return planted


def _equal(one: object, other: object) -> bool:
    try:
        return bool(one == other)
    except ValueError:  # arrays
        return False


def _replace(name: str, old: object, new: object, planted: Planted) -> None:
    planted.replaced.append((old, new))
    for module in [m for m in sys.modules.values() if isinstance(m, ModuleType)]:
        if vars(module).get(name) is old:
            vars(module)[name] = new
            file = getattr(module, "__file__", None) or ""
            planted.files.add(file)
            if isinstance(old, int | float | str):
                planted.with_plain.add(file)


def _take_over(new: FunctionType, there: object, old: ModuleType) -> None:
    if not isinstance(there, FunctionType) or new.__module__ != old.__name__:
        return
    if len(new.__code__.co_freevars) != len(there.__code__.co_freevars):
        raise CannotPlantError(new.__qualname__)
    there.__code__ = new.__code__
    there.__defaults__ = _as_before(new.__defaults__, old)  # type: ignore[assignment]  # a tuple
    there.__kwdefaults__ = _as_before(new.__kwdefaults__, old)  # type: ignore[assignment]  # a dict


def _take_over_class(new: type, there: object, old: ModuleType) -> None:
    if new.__module__ != old.__name__ or not isinstance(there, type):
        return
    if vars(new).keys() != vars(there).keys() or _settings(new) != _settings(there):
        raise CannotPlantError(new.__qualname__)
    for name, value in vars(new).items():
        if isinstance(value, FunctionType):
            _take_over(value, vars(there)[name], old)


def _settings(one: type) -> object:
    """Return what a class was made with, as far as its methods don't say it."""
    if issubclass(one, Enum):
        return [(member.name, repr(member.value)) for member in one]
    if not is_dataclass(one):
        return None
    kinds = [(f.name, f.init, f.repr, f.compare, f.kw_only) for f in fields(one)]
    return repr(vars(one)["__dataclass_params__"]), kinds


def _as_before(value: object, old: ModuleType) -> object:
    """Return a value of the changed module made of the old module's classes and functions."""
    kind = type(value)
    own = kind.__module__ == old.__name__
    if isinstance(value, Enum):
        return getattr(old, kind.__name__)[value.name] if own else value
    if isinstance(value, FunctionType):
        return getattr(old, value.__name__, value) if value.__module__ == old.__name__ else value
    if isinstance(value, type):
        return getattr(old, value.__name__) if value.__module__ == old.__name__ else value
    if kind in {tuple, list, frozenset}:
        made_again = [_as_before(one, old) for one in cast("Iterable[object]", value)]
        return cast("type[list[object]]", kind)(made_again)
    if isinstance(value, Mapping):
        made = {_as_before(k, old): _as_before(v, old) for k, v in value.items()}
        return MappingProxyType(made) if isinstance(value, MappingProxyType) else made
    if own and is_dataclass(value):
        made_of: Callable[..., object] = getattr(old, kind.__name__)
        told = {f.name: _as_before(getattr(value, f.name), old) for f in fields(value) if f.init}
        return made_of(**told)
    if own:
        raise CannotPlantError(kind.__qualname__)
    return value
