"""How many of something, in words: "1 bout", "2 bouts"."""


def counted(n: int, one: str) -> str:
    """Return `n` with the word `one`, or with its plural in s where that is right."""
    return f"{n:,} {one if n == 1 else f'{one}s'}"
