"""Words as a terminal or an old encoding takes them: control characters shown, signs written plainly."""

import codecs
import unicodedata

WRITTEN_PLAINLY = "stackview-plain"
"""Name of the error handler for streams whose encoding lacks our signs."""
_PLAINLY = {
    "−": "-", "–": "-", "—": "-", "‑": "-", "×": "x", "·": "-", "…": "...", "±": "+/-", "≤": "<=", "≥": ">=",
    "≈": "~", "→": "->", "←": "<-", "↑": "^", "↓": "v", "°": " deg", "′": "'", "″": '"', "“": '"', "”": '"',
    "‘": "'", "’": "'", "Ø": "dia. ", "ø": "dia. ", "µ": "u", "μ": "u", "Ω": "ohm", "√": "sqrt ", "π": "pi",
    "α": "alpha", "θ": "theta", "ρ": "rho", "ζ": "zeta", "Δ": "delta ", "⁄": "/", "∞": "inf", "№": "No. ",
    "█": "#", "▓": "#", "▒": "+", "░": ".", "•": "*", "━": "-", "─": "-", "│": "|", "├": "|", "└": "`",
}  # fmt: skip
"""What stands for signs that an encoding lacks: a minus must not become a question mark."""


def _plainly(error: UnicodeError) -> tuple[str, int]:
    """Signs that cannot be encoded, written plainly as far as they can be."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return "".join(map(_in_ascii, error.object[error.start : error.end])), error.end


def _in_ascii(sign: str) -> str:
    """One sign in ASCII.

    >>> "".join(map(_in_ascii, "−5 mm², ½ café 月"))
    '-5 mm2, 1/2 cafe ?'
    """
    if sign in _PLAINLY:
        return _PLAINLY[sign]
    parts = (_PLAINLY.get(part, part) for part in unicodedata.normalize("NFKD", sign))
    return "".join(part for part in parts if part.isascii()) or ("" if unicodedata.combining(sign) else "?")


codecs.register_error(WRITTEN_PLAINLY, _plainly)


def has_controls(text: str) -> bool:
    r"""Whether a terminal would obey something in the text instead of showing it.

    >>> has_controls("lamp.toml"), has_controls("\x1b[2J"), has_controls("café\u202e")
    (False, True, True)
    """
    return any(_is_control(sign) for sign in text)


def control_shown(text: str) -> str:
    r"""The text with its control characters, line ends too, written as Python writes them.

    >>> control_shown("two\nlines \x1b[31m é")
    'two\\nlines \\x1b[31m é'
    """
    return "".join(sign.encode("unicode_escape").decode() if _is_control(sign) else sign for sign in text)


def _is_control(sign: str) -> bool:
    """Controls (Cc), ends of lines, and signs that turn the direction of writing (Unicode Bidirectional Algorithm, 2)."""
    kind = unicodedata.category(sign)
    return (
        kind in ("Cc", "Zl", "Zp")
        or sign in "\u061c\u200e\u200f"
        or "\u202a" <= sign <= "\u202e"
        or ("\u2066" <= sign <= "\u2069")
    )
