"""Libraries that only some people need: imported when they are used, and named when missing."""

from importlib import import_module
from typing import Any

from livemon.errors import UsageError


def needed(module: str, install: str) -> Any:  # noqa: ANN401 - a module without types
    """Import `module`.

    Args:
        module: dotted name.
        install: what to give to pip.

    Raises:
        UsageError: it isn't installed; says how to get it.
    """
    try:
        return import_module(module)
    except ImportError as error:
        raise UsageError(
            f"this needs {module.partition('.')[0]}, which isn't installed: "
            f"python -m pip install '{install}'"
        ) from error
