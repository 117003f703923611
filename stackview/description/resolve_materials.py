"""Materials as written → materials as values."""

from stackview.description import defaults
from stackview.description import materials_table as table
from stackview.description.context import Context
from stackview.description.faults import Faults, did_you_mean, place
from stackview.description.material import FINISHES, Body, Finish, Material, MaterialKind, Optics
from stackview.description.movement_table import movement_of
from stackview.description.units import shown
from stackview.description.written_lamp import KIND_KEYS, WrittenMaterial
from stackview.description.written_layer import WrittenFinish

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
    written: WrittenMaterial, kind: MaterialKind, sort: str, where: str, faults: Faults
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


def resolve_materials(context: Context) -> None:
    """Fill ``context.materials``; a faulty one is kept as None, so that its name is known."""
    for name, written in context.written.materials.items():
        where = f"material {shown(name)}"
        context.materials[name] = resolve_material(name, written, where, context.faults)


def resolve_material(name: str, written: WrittenMaterial, where: str, faults: Faults) -> Material | None:
    """One material, of the package's table or of the maker's own numbers; None after a fault."""
    given = [key for key in KIND_KEYS if getattr(written, key) is not None]
    if len(given) != 1:
        found = f"{' and '.join(given)} are given" if given else "what it is made of is missing"
        what = f'{found}: give exactly one of {", ".join(KIND_KEYS)}, e.g. plywood = "birch"'
        (faults.add if given else faults.absent)(where, what)
        return None
    kind: MaterialKind = given[0]
    sort = str(getattr(written, kind)).strip().lower()
    own = written.density is not None and written.colour is not None
    if sort not in table.sorts(kind) and (kind == "acrylic" or not own):
        more = "" if kind == "acrylic" else "; or give density and colour of your own"
        if kind == "acrylic" and sort in FINISHES:
            more = f'; {sort} is a finish: write acrylic = "clear" and finish = "{sort}"'
        faults.add(
            place(where, kind),
            f"no {kind} {shown(sort)} in the table{did_you_mean(sort, table.sorts(kind))}{more}",
        )
        return None
    if kind != "acrylic" and written.sheet is not None:
        faults.add(place(where, "sheet"), f"goes with acrylic, and this is {kind}: leave it out")
    for key in ("sawn", "radial", "tangential"):
        if kind != "wood" and getattr(written, key) is not None:
            faults.add(place(where, key), f"goes with solid wood, and this is {kind}: leave it out")
    optics_that_belong(written, kind, sort, where, faults)
    finish = resolve_finish(written.finish, kind, place(where, "finish"), faults)
    return _material(name, kind, sort, written, finish or Finish())


def _material(name: str, kind: MaterialKind, sort: str, written: WrittenMaterial, finish: Finish) -> Material:
    known = sort in table.sorts(kind)
    row = table.row(kind, sort, written.sold.mm if written.sold else None) if known else None
    body: Body = "opaque" if kind != "acrylic" else ("clear" if sort == "clear" else "opal")
    own = [
        word
        for word, value in (("density", written.density), ("colour", written.colour))
        if value is not None
    ]
    sources = ([row.source] if row else []) + (
        [f"{' and '.join(own)} as written by the maker"] if own else []
    )
    return Material(
        name=name,
        kind=kind,
        sort=sort,
        body=body,
        density=written.density if written.density is not None or row is None else row.density,  # type: ignore[arg-type]
        colour=table.linear_colour(written.colour) if written.colour or row is None else row.colour,  # type: ignore[arg-type]
        sold=written.sold,
        measured=written.measured,
        finish=finish,
        source="; ".join(sources),
        extruded=written.sheet == "extruded",
        optics=resolve_optics(written),
        movement=movement_of(
            kind,
            sort,
            quarter=written.sawn == "quarter",
            radial=written.radial,
            tangential=written.tangential,
        ),
        price=written.price,
    )


def resolve_finish(
    written: str | WrittenFinish | None, kind: MaterialKind, where: str, faults: Faults
) -> Finish | None:
    """The finish written, None where none is; only acrylic takes one."""
    if written is None:
        return None
    if kind != "acrylic":
        faults.add(
            where, f"only acrylic is {' or '.join(FINISHES)} here, and this is {kind}: leave the finish out"
        )
        return None
    if isinstance(written, str):
        return Finish(written, written, written)  # type: ignore[arg-type]
    return Finish(written.top, written.underside, written.edge)


def built_in(kind: MaterialKind, sort: str) -> Material:
    """A material straight from the table, for what the maker need not name (rubber feet)."""
    row = table.row(kind, sort)
    return Material(sort, kind, sort, "opaque", row.density, row.colour, source=row.source)
