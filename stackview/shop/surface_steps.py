"""Sanding and finishing as steps: what has to be done before faces become unreachable, and what comes last."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from stackview.checks.alike import together
from stackview.description.lamp import Layer
from stackview.shop.cut_part import names_in_short
from stackview.shop.step import After, WorkStep
from stackview.stack.joints import glued_joints

if TYPE_CHECKING:
    from stackview.study import Study


def surface_steps(study: "Study") -> Iterator[WorkStep]:
    """What is done to faces before the glue-up: sanding of wood and of acrylic, and the finish of inner faces."""
    wood = [layer for layer in study.lamp.layers if layer.material.is_wooden]
    rough = [layer for layer in study.lamp.layers if layer.material.is_acrylic and any(layer.finish.sanded)]
    finishing = study.lamp.workshop.finishing
    if wood:
        yield WorkStep(
            key="sand wood",
            phase="sand",
            title=f"Sand the wood of {names_in_short(_names(wood))} to {finishing.wood_grits[-1]}",
            parts=_names(wood),
            tools=(f"paper {_grits(finishing.wood_grits)}", "block"),
            do=(
                "Inner walls and faces that look into the lamp now: they are out of reach afterwards.",
                "Leave glued faces and the walls of recesses as cut: rounded, they seat no more.",
            ),
            after=_cut(wood, "it is cut"),
        )
    if rough:
        yield WorkStep(
            key="sand acrylic",
            phase="sand",
            title=f"Sand the acrylic of {names_in_short(_names(rough))}",
            parts=_names(rough),
            tools=(f"wet paper {_grits(finishing.acrylic_grits)}", "block"),
            do=(
                *_faces(rough),
                "Wet and evenly, in small rounds; rinse, let dry, and touch it with clean gloves alone.",
            ),
            after=_cut(rough, "it is cut"),
        )
    if wood and finishing.wood.coats:
        yield _inner_finish(study, wood)


def _inner_finish(study: "Study", wood: Sequence[Layer]) -> WorkStep:
    finish = study.lamp.workshop.finishing.wood
    faces: dict[str, list[str]] = {}
    for joint in glued_joints(study.stack):
        faces.setdefault(joint.lower.name, []).append("top")
        faces.setdefault(joint.upper.name, []).append("underside")
    alike: dict[tuple[str, ...], list[str]] = {}
    for name in _names(wood):
        alike.setdefault(tuple(dict.fromkeys(faces.get(name, ()))), []).append(name)
    masked = [
        f"{' and '.join(sides)} of {names_in_short(tuple(names))}" for sides, names in alike.items() if sides
    ]
    return WorkStep(
        key="finish inside",
        phase="finish",
        title=f"Finish what the lamp will close in: {_coats(finish.coats)} of {finish.name}",
        parts=_names(wood),
        tools=(finish.name, "masking tape"),
        do=(
            "Walls of openings, and faces that look into the lamp or into a gap.",
            *((f"Mask what gets glue or lies in a recess: {'; '.join(masked)}.",) if masked else ()),
            f"{finish.hours:g} h between coats; the tin's own instructions come first.",
        ),
        after=(After("sand wood", "finish lies on sanded faces"),),
        minutes=60.0 * finish.coats * finish.hours,
    )


def outer_finish(study: "Study", last: str) -> WorkStep | None:
    """The finish of what is still seen, after the step with the key ``last``; None where no wood gets any."""
    wood = [layer for layer in study.lamp.layers if layer.material.is_wooden]
    finish = study.lamp.workshop.finishing.wood
    if not wood or not finish.coats:
        return None
    acrylic = any(layer.material.is_acrylic for layer in study.lamp.layers)
    return WorkStep(
        key="finish outside",
        phase="finish",
        title=f"Sand and finish the outside: {_coats(finish.coats)} of {finish.name}",
        parts=_names(wood),
        tools=(f"paper {study.lamp.workshop.finishing.wood_grits[-1]}", finish.name, "masking tape"),
        do=(
            "Outer edges, the uppermost face and whatever a hand still reaches; scrape off set glue before.",
            *(("Mask the acrylic: solvents craze it, and it takes no finish.",) if acrylic else ()),
            f"{finish.hours:g} h between coats; the tin's own instructions come first.",
        ),
        after=(After(last, "sanding evens the joints"),),
        minutes=60.0 * finish.coats * finish.hours,
    )


def _coats(count: int) -> str:
    return "1 coat" if count == 1 else f"{count} coats"


def _grits(grits: Sequence[int]) -> str:
    return ", ".join(str(grit) for grit in grits)


def _names(layers: Sequence[Layer]) -> tuple[str, ...]:
    return tuple(layer.name for layer in layers)


def _faces(rough: Sequence[Layer]) -> Iterator[str]:
    """Which faces are sanded, layers that are alike together."""
    alike: dict[tuple[bool, ...], list[str]] = {}
    for layer in rough:
        alike.setdefault(tuple(layer.finish.sanded), []).append(layer.name)
    for sanded, names in alike.items():
        faces = [word for word, own in zip(("top", "underside", "edges"), sanded, strict=True) if own]
        yield f"{names_in_short(tuple(names))}: {together(faces)}."


def _cut(layers: Sequence[Layer], why: str) -> tuple[After, ...]:
    return tuple(After(f"cut {layer.name}", why) for layer in layers)
