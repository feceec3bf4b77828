"""`livemon adapter`: is this adapter file right, and what does it make of these bytes."""

import argparse
import json
from dataclasses import asdict
from pathlib import Path

from livemon.decode.adapter import Adapter, adapter_text, parse_adapter
from livemon.decode.check import check_adapter
from livemon.decode.explain import FieldReading
from livemon.decode.presentation_format import contradictions, decode_presentation_format
from livemon.decode.shipped import shipped_adapters
from livemon.errors import DecodeError, UsageError


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what can stand behind the command."""
    parts = parser.add_subparsers(dest="part", required=True, metavar="PART")
    check = parts.add_parser("check", help="validate adapter files and tell what looks odd")
    check.add_argument("files", nargs="+", metavar="FILE", help="adapter file (TOML)")
    attempt = parts.add_parser("try", help="decode bytes and show every field")
    attempt.add_argument("file", metavar="FILE", help="adapter file, or the name of a shipped one")
    attempt.add_argument("--hex", required=True, metavar="BYTES", help='payload, as "7A 02 FF FF"')
    attempt.add_argument(
        "--described",
        metavar="BYTES",
        help="what the sensor says of the characteristic (descriptor 0x2904), to compare",
    )
    attempt.add_argument("--json", action="store_true", help="one JSON object instead of a table")
    parts.add_parser("list", help="name the adapters that come with livemon")
    show = parts.add_parser("show", help="print a shipped adapter, to start your own from")
    show.add_argument("name", metavar="NAME")


def run(arguments: argparse.Namespace) -> int:
    """Do it; return the exit code."""
    if arguments.part == "check":
        return check([Path(file) for file in arguments.files])
    if arguments.part == "try":
        described = arguments.described
        said = None if described is None else _octets("--described", described)
        return attempt(arguments.file, arguments.hex, said, as_json=arguments.json)
    if arguments.part == "list":
        for name, text in shipped_adapters().items():
            print(f"{name:16} {parse_adapter(text, where=name).connection.about}")
        return 0
    print(named(arguments.name), end="")
    return 0


def named(name: str) -> str:
    """Return the text of a shipped adapter.

    Raises:
        UsageError: there is none of that name.
    """
    shipped = shipped_adapters()
    if name not in shipped:
        raise UsageError(f"no adapter {name!r} comes with livemon; there are {', '.join(shipped)}.")
    return shipped[name]


def text_of(file_or_name: str) -> str:
    """Return the text of an adapter file, or of the shipped adapter of that name."""
    path = Path(file_or_name)
    if not path.exists() and file_or_name in shipped_adapters():
        return named(file_or_name)
    return adapter_text(path)


def check(files: list[Path]) -> int:
    """Tell what is odd in each file; 1 if there was anything, AdapterError if one is unusable."""
    odd = 0
    for file in files:
        findings = check_adapter(adapter_text(file), str(file))
        odd += len(findings)
        print(f"{file}: can be used" + (", but look at this:" if findings else "."))
        for finding in findings:
            print(f"  {finding}")
    return 1 if odd else 0


def attempt(file: str, octets: str, described: bytes | None = None, *, as_json: bool) -> int:
    """Show what the adapter makes of a payload; 1 if it rejects it, or the sensor contradicts.

    `described` is what the sensor says of its characteristic.
    """
    payload = _octets("--hex", octets)
    adapter = parse_adapter(text_of(file), where=file)
    readings = adapter.explain(payload)
    rejected = _rejected(adapter, payload)
    differs = _differs(adapter, described)
    if as_json:
        fields = [asdict(reading) | {"octets": reading.octets.hex()} for reading in readings]
        told = {"adapter": adapter.name, "rejected": rejected, "fields": fields}
        print(json.dumps(told if described is None else told | {"differs": differs}))
    else:
        for row in _table(readings):
            print(row)
        print(f"rejected: {rejected}" if rejected else f"{len(payload)} bytes, accepted")
        for finding in differs:
            print(f"differs: {finding}")
        if described is not None and not differs:
            print("what the sensor says of the characteristic contradicts nothing")
    return 1 if rejected or differs else 0


def _octets(option: str, text: str) -> bytes:
    try:
        return bytes.fromhex(text.replace("0x", "").replace(",", " ").replace(":", " "))
    except ValueError as error:
        raise UsageError(
            f'{option}: expected pairs of hex digits such as "7A 02", found {text!r}.'
        ) from error


def _differs(adapter: Adapter, described: bytes | None) -> tuple[str, ...]:
    if described is None:
        return ()
    try:
        return contradictions(adapter, decode_presentation_format(described))
    except DecodeError as error:
        raise UsageError(f"--described: expected 7 octets; {error.problem}.") from error


def _rejected(adapter: Adapter, payload: bytes) -> str | None:
    try:
        adapter.decode(payload, 0.0, sites=adapter.channels)
    except DecodeError as error:
        return error.problem
    return None


def _table(readings: tuple[FieldReading, ...]) -> list[str]:
    rows = [("field", "at", "bytes", "raw", "value")]
    for reading in readings:
        value = "–" if reading.value is None else f"{reading.value:g} {reading.unit}".strip()
        rows.append(
            (
                reading.key,
                "–" if reading.offset is None else str(reading.offset),
                reading.octets.hex(" ") or "–",
                "–" if reading.raw is None else f"{reading.raw:g}",
                f"{value} ({reading.why})" if reading.why else value,
            )
        )
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    return [
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]
