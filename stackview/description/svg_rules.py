"""What of an SVG is followed, and what is refused because it would be followed wrongly.

Transforms and path data are read by their grammar (SVG 1.1, 7.6 and 8.3.9; the same in SVG 2), by
expressions whose time grows with the length of the text alone. What other rules could move or
reshape (style sheets, drawings within drawings, copies) is refused with what to do about it.
"""

import math
import re
from xml.etree.ElementTree import Element

from stackview.description.units import shown

Placing = tuple[float, float, float, float, float, float]
"""x' = a x + c y + e, y' = b x + d y + f, as SVG's matrix(a, b, c, d, e, f)."""
AS_DRAWN: Placing = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)

_NUMBER = r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
_FUNCTION = re.compile(r"\s*(matrix|translate|scale|rotate|skewX|skewY)\s*\(([0-9eE+\-.,\s]*)\)[\s,]*")
_COUNTS = {
    "matrix": (6,),
    "translate": (1, 2),
    "scale": (1, 2),
    "rotate": (1, 3),
    "skewX": (1,),
    "skewY": (1,),
}
_MOST_FUNCTIONS = 100
_SHOWN = 40
"""Characters of a path that a message shows."""

_STEP = re.compile(r"([MmLlHhVvCcSsQqTtAaZz])([^MmLlHhVvCcSsQqTtAaZz]*)")
_TAKES = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
_ONE_NUMBER = re.compile(rf"\s*,?\s*({_NUMBER})")
_ONE_FLAG = re.compile(r"\s*,?\s*([01])")

_SHAPING = "transform|translate|rotate|scale|offset-path|zoom|d|cx|cy|r|rx|ry|x|y|width|height|points"
_STYLED = re.compile(rf"(?:^|[{{;\s/])({_SHAPING}|transform-\w+)\s*:", re.IGNORECASE)
_UNSEEN_STYLE = re.compile(r"(?:^|;)\s*display\s*:\s*none\s*(?:;|!|$)", re.IGNORECASE)


class SvgError(ValueError):
    """Something in an SVG that is not followed; the message is meant for the maker."""


def tag_of(element: Element) -> str:
    """An element's name without its namespace."""
    return str(element.tag).rpartition("}")[2]


def placing_of(element: Element) -> Placing:
    """What an element's own transform does.

    Raises SvgError for one that cannot be read, and for other ways to move or reshape it.
    """
    _refuse_styled(element.get("style", ""), "style")
    if element.get("transform-origin"):
        raise SvgError(
            "holds a transform-origin, which is not followed: apply the transform in your drawing program"
        )
    written = element.get("transform")
    placing, at = AS_DRAWN, 0
    for _ in range(_MOST_FUNCTIONS):
        if written is None or at == len(written):
            return placing
        found = _FUNCTION.match(written, at)
        numbers = _numbers(found[2]) if found else None
        if found is None or numbers is None or len(numbers) not in _COUNTS[found[1]]:
            break
        placing = placed_within(placing, _matrix(found[1], numbers))
        at = found.end()
    raise SvgError(f"holds a transform that cannot be read, {shown(written)}")


def placed_within(outer: Placing, inner: Placing) -> Placing:
    """First ``inner``, then ``outer``."""
    a, b, c, d, e, f = outer
    g, h, i, j, k, m = inner
    return (a * g + c * h, b * g + d * h, a * i + c * j, b * i + d * j, a * k + c * m + e, b * k + d * m + f)


def is_unseen(element: Element) -> bool:
    """Whether an element, and with it all that it holds, is not displayed."""
    return element.get("display", "").strip() == "none" or bool(
        _UNSEEN_STYLE.search(element.get("style", ""))
    )


def check_sheet(root: Element) -> None:
    """Raise SvgError where a style sheet could move, reshape or hide what is drawn."""
    for element in root.iter():
        if tag_of(element) == "style":
            _refuse_styled("".join(element.itertext()), "style sheet")


def check_nested(element: Element) -> None:
    """Raise SvgError for a drawing within the drawing that has a place or a scale of its own."""
    own = [
        key
        for key in ("viewBox", "x", "y", "width", "height")
        if element.get(key, "0").strip() not in ("0", "")
    ]
    if own:
        raise SvgError(
            f"holds a drawing within the drawing with its own {' and '.join(own)}, which is not followed: "
            "ungroup it, or save it as plain SVG"
        )


def check_path(written: str) -> None:
    """Raise SvgError for path data that breaks the grammar: a reader would draw a part of it, or guess."""
    broken = _broken(written)
    if broken is not None:
        rest = written if len(written) <= _SHOWN else written[broken : broken + _SHOWN]
        near = "" if rest == written else "near "
        raise SvgError(f"holds a path that cannot be read, {near}{shown(rest)}")


def _broken(written: str) -> int | None:
    """Where path data breaks the grammar; None where it does not."""
    at = len(written) - len(written.lstrip())
    first = True
    while at < len(written):
        step = _STEP.match(written, at)
        if step is None or (first and step[1] not in "Mm"):
            return at
        takes, numbers = _TAKES[step[1].upper()], _count(step[1].upper(), step[2])
        if numbers is None or (numbers if takes == 0 else not numbers or numbers % takes):
            return at
        at, first = step.end(), False
    return None


def _count(command: str, written: str) -> int | None:
    """How many numbers follow a command; None for what is none. An arc's flags need nothing between them."""
    written = written.rstrip()
    at = count = 0
    while at < len(written):
        one = _ONE_FLAG if command == "A" and count % 7 in (3, 4) else _ONE_NUMBER
        found = one.match(written, at)
        if found is None:
            return None
        at, count = found.end(), count + 1
    return count


def _numbers(written: str) -> list[float] | None:
    found, at = [], 0
    while at < len(written.rstrip()):
        one = _ONE_NUMBER.match(written, at)
        if one is None:
            return None
        found.append(float(one[1]))
        at = one.end()
    return found if all(map(math.isfinite, found)) else None


def _matrix(kind: str, numbers: list[float]) -> Placing:
    """One function of a transform as a matrix (SVG 1.1, 7.6)."""
    first = numbers[0]
    if kind == "matrix":
        a, b, c, d, e, f = numbers
        return a, b, c, d, e, f
    if kind == "translate":
        return 1.0, 0.0, 0.0, 1.0, first, numbers[1] if len(numbers) == 2 else 0.0
    if kind == "scale":
        return first, 0.0, 0.0, numbers[1] if len(numbers) == 2 else first, 0.0, 0.0
    turn = math.radians(first)
    if kind == "skewX":
        return 1.0, 0.0, math.tan(turn), 1.0, 0.0, 0.0
    if kind == "skewY":
        return 1.0, math.tan(turn), 0.0, 1.0, 0.0, 0.0
    turned = (math.cos(turn), math.sin(turn), -math.sin(turn), math.cos(turn), 0.0, 0.0)
    x, y = numbers[1:] if len(numbers) == 3 else (0.0, 0.0)
    return placed_within(placed_within((1.0, 0.0, 0.0, 1.0, x, y), turned), (1.0, 0.0, 0.0, 1.0, -x, -y))


def _refuse_styled(written: str, where: str) -> None:
    found = _STYLED.search(written)
    if found is not None:
        raise SvgError(
            f"sets {found[1]} in a {where}, which is not followed: save it as plain SVG, "
            "with sizes and transforms as attributes"
        )
