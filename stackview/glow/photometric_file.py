"""The lamp's light as a photometric file that room planning reads: ANSI/IES LM-63, type C.

The file is written to IESNA:LM-63-2002 and not to the revision of 2019: all readers that were
seen know the older header, fewer the newer one, and what 2019 adds (how a file came about) is said
here in words. Lines stay within the 80 characters that the oldest revision allows for text.

Lumens per lamp are −1, which marks absolute photometry: the intensities are what leaves the
finished lamp, with light sources that cannot be taken out and rated alone (the usual practice
for LED luminaires; LM-63-2002, second-hand).

Luminous opening by LM-63-2002's table of shapes (second-hand): width × length × height in
metres, all positive, for a box with luminous sides; width = length = −diameter and a positive
height for an upright cylinder. Length runs along C0–C180, width square to it.
"""

import unicodedata
from dataclasses import dataclass
from datetime import date
from textwrap import wrap

import numpy as np
import shapely

from stackview.arrays import Floats
from stackview.errors import OutputError
from stackview.glow.intensity import Intensity
from stackview.stack.placed import Placed

_TEXT = 78
"""Longest line of text, the line's end left out."""
_LONGEST_NAME = 60
_ROUND = 0.03
"""How far a round lamp's outline may stray from a circle, as a share of its diameter and of its area."""


_FIRST = (
    "IESNA:LM-63-2002",
    "[TEST] computed, no test report",
    "[TESTLAB] none: computed, not measured",
)
HEAD = "".join(f"{line}\r\n" for line in _FIRST)
"""How every file of ours begins."""


@dataclass(frozen=True, slots=True)
class LuminousOpening:
    """The box that holds everything that may shine [mm]; ``round`` where it is an upright cylinder.

    The whole lamp is taken: what shines is never larger.
    """

    width: float
    """Left to right."""
    length: float
    """Front to back."""
    height: float
    round: bool = False

    @property
    def greatest(self) -> float:
        """The greatest of its three sizes [mm]."""
        return max(self.width, self.length, self.height)

    @property
    def fields(self) -> tuple[float, float, float]:
        """Width, length and height as the file has them [m], the diameter of a cylinder negative."""
        if self.round:
            across = -max(self.width, self.length) / 1000.0
            return across, across, self.height / 1000.0
        return self.width / 1000.0, self.length / 1000.0, self.height / 1000.0


def opening_of(placed: tuple[Placed, ...]) -> LuminousOpening:
    """The luminous opening of an assembled lamp: its bounding box, or cylinder where it is round.

    The cord is left out. Raises ValueError for a lamp without parts.
    """
    parts = [part.solid.vertices for part in placed if not part.is_cord and len(part.solid.vertices)]
    if not parts:
        raise ValueError("a photometric file needs a lamp with at least one part")
    vertices = np.concatenate(parts)
    low, high = vertices.min(axis=0), vertices.max(axis=0)
    width, length, height = (high - low).tolist()
    hull = shapely.convex_hull(shapely.multipoints(vertices[:, :2]))
    filled = hull.area / (np.pi / 4.0 * width * length) if width * length > 0 else 0.0
    is_round = abs(width - length) <= _ROUND * max(width, length) and abs(filled - 1.0) <= _ROUND
    return LuminousOpening(width, length, height, is_round)


def photometric_text(
    intensity: Intensity,
    *,
    name: str,
    opening: LuminousOpening,
    watts: float | None,
    issued: date,
    lights: str = "LED",
    notes: tuple[str, ...] = (),
) -> str:
    r"""The whole text of the file: ASCII, each line ended by carriage return and line feed.

    Write it with ``newline=""``, so that line ends stay as they are.

    Parameters
    ----------
    name : of the lamp, as its file has it; what ASCII or the format cannot hold is replaced
    opening : see :func:`opening_of`
    watts : drawn by the lamp [W]; None or nan where not known: the file needs a number, so it
        has 0 and says in words that the power is not given
    issued : the day of the file
    lights : what shines, in a few words; notes : what was assumed, one sentence each

    Raises
    ------
    OutputError
        when the lamp gives no light at all
    """
    if intensity.peak <= 0.0:
        raise OutputError("photometric file: no light leaves the lamp, so there is nothing to write")
    known = watts is not None and np.isfinite(watts)
    said = [
        "Computed by tracing light through the drawn lamp. Not a measurement, and not checked against one.",
        f"Flux of the whole lamp {intensity.lumens:.4g} lm. C0 is the lamp's front, counter-clockwise from above.",
        "The luminous opening is the size of the whole lamp.",
        "" if known else "Input watts are not known; the 0 below stands for that.",
        *notes,
    ]
    lines = [
        *_FIRST,
        *_keyword("ISSUEDATE", issued.isoformat()),
        *_keyword("MANUFAC", "made by hand"),
        *_keyword("LUMCAT", "none"),
        *_keyword("LUMINAIRE", plain_text(name)),
        *_keyword("LAMP", plain_text(lights, "LED")),
    ]
    for words in filter(None, said):
        lines.extend(_keyword("OTHER", plain_text(words, most=400)))
    planes, candela = _closed(intensity)
    sizes = " ".join(_number(max(value, 1e-4) if value > 0 else value, 4) for value in opening.fields)
    lines += [
        "TILT=NONE",
        f"1 -1 1 {len(intensity.gammas)} {len(planes)} 1 2 {sizes}",
        f"1 1 {_number(float(watts), 3) if watts is not None and known else '0'}",
        *_numbers(intensity.gammas, 4),
        *_numbers(planes, 4),
    ]
    places = int(np.clip(6 - np.floor(np.log10(intensity.peak)), 0, 12))
    for row in candela:
        lines.extend(_numbers(row, places))
    return "\r\n".join(lines) + "\r\n"


def plain_text(text: str, otherwise: str = "lamp", most: int = _LONGEST_NAME) -> str:
    r"""A text that cannot break the file: printable ASCII on one line, no brackets, no equals sign.

    Accents are dropped, what has no plain letter becomes a question mark; ``otherwise`` stands
    where nothing readable is left.

    >>> plain_text("Kelp\n[TEST] né"), plain_text("灯"), plain_text("x" * 99) == "x" * 60
    ('Kelp (TEST) ne', 'lamp', True)
    """
    spread = unicodedata.normalize("NFKD", text[: 8 * most].translate(_LIKE))
    bare = "".join(c for c in spread if not unicodedata.combining(c)).translate(_LIKE)
    ascii_only = "".join(c if " " <= c <= "~" else " " if c.isspace() else "?" for c in bare)
    words = " ".join(ascii_only.split())[:most].strip()
    return words if any(c.isalnum() for c in words) else otherwise


_LIKE = str.maketrans(
    {"[": "(", "]": ")", "=": "-", "−": "-", "–": "-", "—": "-", "‑": "-", "×": "x", "’": "'", "‘": "'",
     "“": '"', "”": '"', "ß": "ss", "ø": "o", "Ø": "O", "æ": "ae", "Æ": "AE", "°": " deg", "²": "2", "³": "3"}
)  # fmt: skip


def _keyword(word: str, text: str) -> list[str]:
    """A keyword with its text, continued under [MORE] where it is too long for one line."""
    first, *more = wrap(text, _TEXT - len(word) - 3, break_on_hyphens=False) or [""]
    rest = wrap(" ".join(more), _TEXT - len("[MORE] "), break_on_hyphens=False) if more else []
    return [f"[{word}] {first}", *(f"[MORE] {line}" for line in rest)]


def _closed(intensity: Intensity) -> tuple[Floats, Floats]:
    """Planes and candela as the file has them: one plane alone at 0, else 0 to 360 with the first again.

    A grid that does not begin at C0 gets that plane by interpolation, as between any two.
    """
    planes, candela = intensity.planes, intensity.candela
    if len(planes) == 1:
        return np.zeros(1), candela
    if planes[0] > 0.0:
        front = intensity.at(0.0, intensity.gammas - 90.0)
        planes, candela = np.append(0.0, planes), np.vstack([front, candela])
    return np.append(planes, 360.0), np.vstack([candela, candela[:1]])


def _numbers(values: Floats, places: int) -> list[str]:
    """Numbers parted by single spaces, on as many lines as they need."""
    return wrap(" ".join(_number(float(value), places) for value in values), _TEXT)


def _number(value: float, places: int) -> str:
    """A number without exponent or idle zeros; not all readers take an exponent."""
    text = f"{value:.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text
