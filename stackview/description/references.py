"""Names that refer to layers of the stack."""

from collections.abc import Sequence

from stackview.description.context import Context
from stackview.description.faults import did_you_mean
from stackview.description.lamp import Layer
from stackview.description.units import shown


def known_layer(context: Context, name: str | None, where: str, layers: Sequence[Layer]) -> str | None:
    """The name if a layer is called so; else a fault and None. None stays None."""
    if name is None:
        return None
    names = [layer.name for layer in layers]
    if name in names:
        return name
    if context.faults.is_lost("layer", name) or context.faults.is_lost("any", "layer"):
        return None
    copies = [other for other in names if other.startswith(f"{name} ") and other[len(name) + 1 :].isdigit()]
    if copies:
        what = f"layer {shown(name)} is repeated: say which, {shown(copies[0])} to {shown(copies[-1])}"
    else:
        what = f"no layer is called {shown(name)}{did_you_mean(name, names)}"
    context.faults.add(where, what)
    return None
