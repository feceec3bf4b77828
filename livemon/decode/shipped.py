"""The adapters that come with livemon: invented examples, and the one of the demo."""

from importlib.resources import files


def shipped_adapters() -> dict[str, str]:
    """Return their TOML texts by name, in alphabetical order."""
    folder = files("livemon") / "adapters"
    named = {file.name: file for file in folder.iterdir() if file.name.endswith(".toml")}
    return {
        name.removesuffix(".toml"): named[name].read_text(encoding="utf-8")
        for name in sorted(named)
    }
