"""Paper, ink and type of the window's panels, drawn with Pillow: dark paper, readable by day and evening."""

from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from stackview.drawings.chart_style import printable
from stackview.sight.bands import HIDDEN, Kind

PANEL_PAPER = (27, 29, 32, 226)
PANEL_INK = (243, 240, 234, 255)
PANEL_QUIET = (188, 184, 176, 255)
PANEL_FAINT = (255, 255, 255, 60)
WARM = (255, 176, 96, 255)
FAULT_PAPER = (104, 24, 20, 240)
MARKS: dict[int, tuple[int, int, int, int]] = {
    Kind.BARE: WARM,
    Kind.GLAZED: (142, 200, 240, 255),
    Kind.VEILED: (200, 190, 222, 255),
    HIDDEN: (150, 147, 140, 255),
}

Ink = tuple[int, int, int, int]
LONGEST = 600
"""Signs of a line that are looked at when it is cut to fit; no panel holds as many in one."""
_TWICE = 2
"""Shapes are drawn this much larger and scaled down, for smooth edges."""


@cache
def font(size: int, bold: bool = False) -> Any:
    """The panels' type at a size [px]."""
    import matplotlib
    from PIL import ImageFont

    name = "DejaVuSans-Bold" if bold else "DejaVuSans"
    return ImageFont.truetype(f"{matplotlib.get_data_path()}/fonts/ttf/{name}.ttf", size)


class Slip:
    """One panel being drawn; places are pixels from its upper left corner."""

    def __init__(self, width: int, height: int, em: float, paper: Ink = PANEL_PAPER) -> None:
        from PIL import Image, ImageDraw

        self.width, self.height, self.em = width, height, em
        self.image: Any = Image.new("RGBA", (width, height), (0, 0, 0, 0))
        self.pen: Any = ImageDraw.Draw(self.image)
        self.texts: list[tuple[float, float, float, float]] = []
        """Left, top, right and foot of every text, so that overlaps can be told."""
        self.image.paste(_sheet(width, height, round(0.5 * em), paper))

    def write(
        self,
        at: tuple[float, float],
        words: str,
        *,
        size: float = 1.0,
        colour: Ink = PANEL_INK,
        bold: bool = False,
        anchor: str = "ls",
    ) -> None:
        """Write words with their baseline at a place; ``anchor`` as in Pillow ("ls", "rs", "ms")."""
        words = printable(words)
        face = font(max(round(size * self.em), 7), bold)
        self.pen.text(at, words, font=face, fill=colour, anchor=anchor)
        self.texts.append(self.pen.textbbox(at, words, font=face, anchor=anchor))

    def long(self, words: str, size: float = 1.0, *, bold: bool = False) -> float:
        """Length of words written at a size [px]."""
        return float(font(max(round(size * self.em), 7), bold).getlength(printable(words)))

    def cut(self, words: str, width: float, size: float = 1.0, *, bold: bool = False) -> str:
        """Words that fit a width, ended by an ellipsis where some had to go."""
        if len(words) <= LONGEST and self.long(words, size, bold=bold) <= width:
            return words
        low, high = 0, min(len(words), LONGEST)
        while low < high:
            middle = (low + high + 1) // 2
            if self.long(words[:middle].rstrip() + "…", size, bold=bold) <= width:
                low = middle
            else:
                high = middle - 1
        return words[:low].rstrip() + "…"

    def folded(self, words: str, width: float, size: float = 1.0, *, most: int = 3) -> list[str]:
        """Words broken into at most ``most`` lines; what finds no room ends in an ellipsis."""
        lines: list[str] = []
        rest = printable(words).split(" ")
        while rest and len(lines) < most:
            count = len(rest) if len(lines) == most - 1 else 1
            while count < len(rest) and self.long(" ".join(rest[: count + 1]), size) <= width:
                count += 1
            lines.append(self.cut(" ".join(rest[:count]), width, size))
            rest = rest[count:]
        return lines

    def line(self, places: list[tuple[float, float]], colour: Ink, width: int = 1) -> None:
        """Draw a line."""
        self.pen.line(places, fill=colour, width=width)

    def mark(self, kind: int, at: tuple[float, float], radius: float) -> None:
        """Draw the sign of a class: ring bare, square glazed, disc veiled, dash hidden."""
        sign = _sign(kind, max(round(radius), 3))
        left, top = round(at[0] - sign.width / 2), round(at[1] - sign.height / 2)
        self.image.alpha_composite(sign, (max(left, 0), max(top, 0)))

    def pixels(self) -> NDArray[np.uint8]:
        """The panel as drawn (h, w, 4)."""
        return np.asarray(self.image, np.uint8)


@cache
def _sheet(width: int, height: int, round_by: int, paper: Ink) -> Any:
    from PIL import Image, ImageDraw

    big = Image.new("RGBA", (_TWICE * width, _TWICE * height), (*paper[:3], 0))
    pen = ImageDraw.Draw(big)
    box = (0, 0, _TWICE * width - 1, _TWICE * height - 1)
    pen.rounded_rectangle(box, _TWICE * round_by, fill=paper, outline=(90, 92, 95, paper[3]), width=_TWICE)
    return big.resize((width, height), Image.Resampling.BOX)


@cache
def _sign(kind: int, radius: int) -> Any:
    from PIL import Image, ImageDraw

    big, side = 4, 2 * radius + 3
    image = Image.new("RGBA", (big * side, big * side), (*MARKS[kind][:3], 0))
    pen = ImageDraw.Draw(image)
    low, high = big * 1.5, big * (side - 1.5)
    thick = round(big * max(radius / 3.0, 1.5))
    if kind == Kind.BARE:
        pen.ellipse((low, low, high, high), outline=MARKS[kind], width=thick)
    elif kind == Kind.GLAZED:
        pen.rectangle((low + big, low + big, high - big, high - big), outline=MARKS[kind], width=thick)
    elif kind == Kind.VEILED:
        pen.ellipse((low + big, low + big, high - big, high - big), fill=MARKS[kind])
    else:
        middle = big * side / 2
        pen.rectangle((low, middle - thick / 2, high, middle + thick / 2), fill=MARKS[kind])
    return image.resize((side, side), Image.Resampling.BOX)
