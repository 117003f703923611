"""Names of cuts as a drawing file's layers carry them: kind, face and depth, in plain letters."""

from dataclasses import dataclass

from stackview.description.lamp import Bore, Chamfer, Groove, Opening, Recess
from stackview.description.units import MM_PER_UNIT, Units
from stackview.shop.drawn_cuts import DrawnCut

INDEX_LAYER = "INDEX"
"""The layer of the marks by which parts are turned at the glue-up: drawn, never cut."""


@dataclass(frozen=True, slots=True)
class FileUnit:
    """The unit that a drawing file counts in: millimetres, or inches for a lamp in inches or feet."""

    word: str
    mm: float
    """Millimetres in one of it."""

    def number(self, mm: float) -> str:
        """A length in this unit, with no idle zeros.

        >>> file_unit(Units("in")).number(2.794), file_unit(Units("mm")).number(2.5)
        ('0.11', '2.5')
        """
        places = 4 if self.mm == 1.0 else 5
        text = f"{mm / self.mm:.{places}f}"
        return text.rstrip("0").rstrip(".")

    def said(self, mm: float) -> str:
        """The same with its unit, as layers' names have it.

        >>> file_unit(Units("ft")).said(2.794)
        '0.11in'
        """
        return f"{self.number(mm)}{self.word}"


def file_unit(units: Units) -> FileUnit:
    """The unit of a lamp's drawing files."""
    word = "in" if units.in_inches else "mm"
    return FileUnit(word, float(MM_PER_UNIT[word]))


def drawn_name(cut: DrawnCut, unit: FileUnit) -> str:
    """The name of a cut's layer.

    >>> from stackview.description.lamp import Bore
    >>> drawn_name(DrawnCut(Bore(6.0, 8.0, 180.0), ()), FileUnit("mm", 1.0))
    'BORE_D6mm_MIDDLE_8mm_UP'
    """
    face = (cut.face or "").upper()
    deep = unit.said(cut.depth or 0.0)
    match cut.of:
        case Opening():
            return "OPENING"
        case Recess():
            return f"RECESS_{face}_{deep}"
        case Groove():
            return f"GROOVE_{face}_{deep}"
        case Chamfer(edge=edge, width=width, angle=angle):
            words = edge.upper().replace(" ", "_")
            return f"CHAMFER_{words}_{unit.said(width)}_{angle:.6g}DEG"
        case Bore(diameter=diameter, height=height):
            return f"BORE_D{unit.said(diameter)}_MIDDLE_{unit.said(height)}_UP"
        case _:
            return "OUTLINE"
