"""Names of files from names of parts: safe on every system, none twice."""

import unicodedata
from collections.abc import Iterable

_MOST_BYTES = 80
"""Longest name without its ending; file systems take 255 bytes."""
_RESERVED = {"con", "prn", "aux", "nul", *(f"{word}{n}" for word in ("com", "lpt") for n in range(1, 10))}
"""Names that Windows keeps for devices, from memory."""


def file_names(words: Iterable[str], taken: Iterable[str] = ()) -> tuple[str, ...]:
    """Name a file, without its ending, for each of ``words``; a number follows where two are alike.

    Letters and figures of any script stay, all else becomes a hyphen. Large and small letters count
    as alike, since some systems do not tell them apart; so do the names in ``taken``.

    >>> file_names(["ring 1", "Ring/1", "../..", "con"])
    ('ring-1', 'Ring-1-2', 'part', 'con-part')
    """
    used = {name.casefold() for name in taken}
    found = []
    for name in map(_plain_name, words):
        own, number = name, 1
        while own.casefold() in used:
            number += 1
            own = f"{name}-{number}"
        used.add(own.casefold())
        found.append(own)
    return tuple(found)


def _plain_name(words: str) -> str:
    text = unicodedata.normalize("NFC", words)
    plain = "".join(sign if sign.isalnum() else "-" for sign in text)
    plain = "-".join(part for part in plain.split("-") if part)
    while len(plain.encode("utf-8", "replace")) > _MOST_BYTES:
        plain = plain[:-1]
    plain = plain.strip("-") or "part"
    return f"{plain}-part" if plain.casefold() in _RESERVED else plain
