"""What a material does to light, as written → as values."""

from stackview.description import defaults
from stackview.description.faults import Faults, place
from stackview.description.material import MaterialSort, Optics
from stackview.description.written_lamp import WrittenMaterial

_KEYS = ("roughness", "transmission", "haze", "coat", "reflects")


def resolve_optics(written: WrittenMaterial) -> Optics:
    """The optical values of one material: as written, else the package's assumptions."""
    reflectance = written.reflects
    if reflectance is None and written.coat == "mirror":
        reflectance = defaults.MIRRORED.number
    if reflectance is None and written.coat == "paint" and written.colour is None:
        reflectance = defaults.PAINTED.number
    return Optics(
        roughness=_or(written.roughness, defaults.ROUGHNESS.number),
        transmission=_or(written.transmission, defaults.TRANSMISSION.number),
        haze=_or(written.haze, defaults.HAZE.number),
        reflectance=reflectance,
        coat=written.coat,
        given=tuple(key for key in _KEYS if getattr(written, key) is not None),
    )


def optics_that_belong(
    written: WrittenMaterial, kind: MaterialSort, sort: str, where: str, faults: Faults
) -> None:
    """Fault the optical keys that say nothing about this kind of material."""
    acrylic = kind == "acrylic"
    belongs = {
        "roughness": (acrylic and sort == "clear", "clear acrylic, where it is sanded"),
        "transmission": (acrylic and sort == "opal", "opal acrylic"),
        "haze": (acrylic and sort == "opal", "opal acrylic"),
        "coat": (not acrylic, "wood, board, metal and plastic"),
        "reflects": (not acrylic, "wood, board, metal and plastic"),
    }
    for key, (fits, whose) in belongs.items():
        if not fits and getattr(written, key) is not None:
            this = f"{sort} acrylic" if acrylic else kind
            faults.add(place(where, key), f"goes with {whose}, and this is {this}: leave it out")


def _or(value: float | None, otherwise: float) -> float:
    return otherwise if value is None else value
