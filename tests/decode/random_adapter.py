"""Hypothesis strategies: adapters nobody thought of, as TOML text."""

from hypothesis import strategies as st

HEAD = """
livemon_adapter = 1
name = "drawn"
service = "1822"
characteristic = "2A5F"
channels = ["a", "b"]
"""
WHOLE_NUMBERS = ["uint8", "uint12", "uint16", "uint24", "uint32", "uint48", "sint16", "sint24"]
FORMATS = [*WHOLE_NUMBERS, "float32", "float64", "medfloat16", "medfloat32"]
QUANTITIES = [
    "smo2.a",
    "smo2.b",
    "thb.a",
    "o2hb.b",
    "hhb.b",
    "quality",
    "device_time",
    "sequence",
    "contact",
    "battery",
]


@st.composite
def adapters(draw: st.DrawFn) -> str:
    """Fields in any order, of any format and byte order, some of them optional.

    Octet 0 holds the presence bits, octets 1 and 2 the bits that say whether a value is known.
    """
    order = draw(st.permutations(QUANTITIES))
    optional = {key: draw(st.none() | st.integers(0, 3)) for key in order}
    rows = [HEAD]
    for index, key in enumerate(order):
        quantity, _, channel = key.partition(".")
        counted = quantity in {"sequence", "contact"}
        rows.append(f'[[field]]\nquantity = "{quantity}"')
        rows.append('offset = "next"' if index else "offset = 3")
        rows.append(
            f'format = "{draw(st.sampled_from(WHOLE_NUMBERS[:6] if counted else FORMATS))}"'
        )
        rows.append(f'byte_order = "{draw(st.sampled_from(["little", "big"]))}"')
        if channel:
            rows.append(f'channel = "{channel}"')
        if not counted:
            rows.append(
                f"scale = {{ d = {draw(st.integers(-3, 0))}, b = {draw(st.integers(-3, 0))} }}"
            )
        if quantity in {"thb", "o2hb", "hhb"}:
            rows.append('unit = "a.u."')
        if index and optional[key] is not None and optional[order[0]] is None:
            rows.append(f"present_if = {{ offset = 0, bit = {optional[key]} }}")
        if draw(st.booleans()):
            rows.append(f"known_if = {{ offset = {1 + index // 8}, bit = {index % 8} }}")
    return "\n".join(rows)
