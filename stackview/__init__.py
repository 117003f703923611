"""See a tiered lamp before cutting it.

>>> import stackview
>>> study = stackview.Study.read("demos/moor-drum.toml")  # doctest: +SKIP
>>> study.findings                                        # doctest: +SKIP
>>> study.sightlines.share_bare                           # doctest: +SKIP
>>> stackview.draw(study, bearing=35.0)                   # doctest: +SKIP

A study works each part out when first asked. ``load``, ``assemble``, ``light_up`` and
``sightlines`` are the steps that it takes, for whoever wants one of them alone.

Everything is loaded when first used, typing too, so that the import itself is quick and Ctrl-C finds it done.
"""

TYPE_CHECKING = False

__version__ = "0.2.0"

_FROM = {
    "Study": ("stackview.study", "Study"),
    "LampFile": ("stackview.description.lamp_file", "LampFile"),
    "load": ("stackview.description.reading", "read_lamp"),
    "assemble": ("stackview.stack.assembly", "assemble"),
    "light_up": ("stackview.light.layout", "lay_out"),
    "sightlines": ("stackview.sight.summary", "sightlines"),
    "draw": ("stackview.stills.draw", "draw"),
    "draw_map": ("stackview.drawings.sightline_map", "sightline_map"),
    "draw_room": ("stackview.drawings.room_drawing", "room_picture"),
    "draw_plan": ("stackview.drawings.plan_drawing", "plan_picture"),
    "draw_view": ("stackview.drawings.album", "draw_view"),
    "draw_eye": ("stackview.drawings.eye_picture", "draw_eye"),
    "turntable": ("stackview.stills.animation", "turntable"),
    "draw_section": ("stackview.drawings.section_drawing", "section_drawing"),
    "save": ("stackview.stills.png", "write_png"),
    "model_files": ("stackview.shop.model_files", "model_files"),
    "parts_list": ("stackview.shop.parts_list", "parts_list"),
    "schema": ("stackview.description.written_lamp", "schema"),
    "Finding": ("stackview.findings", "Finding"),
    "Level": ("stackview.findings", "Level"),
    "StackviewError": ("stackview.errors", "StackviewError"),
    "LampError": ("stackview.errors", "LampError"),
}

__all__ = [*_FROM, "__version__"]

if TYPE_CHECKING:
    from typing import Any

    from stackview.description.lamp_file import LampFile
    from stackview.description.reading import read_lamp as load
    from stackview.description.written_lamp import schema
    from stackview.drawings.album import draw_view
    from stackview.drawings.eye_picture import draw_eye
    from stackview.drawings.plan_drawing import plan_picture as draw_plan
    from stackview.drawings.room_drawing import room_picture as draw_room
    from stackview.drawings.section_drawing import section_drawing as draw_section
    from stackview.drawings.sightline_map import sightline_map as draw_map
    from stackview.errors import LampError, StackviewError
    from stackview.findings import Finding, Level
    from stackview.light.layout import lay_out as light_up
    from stackview.shop.model_files import model_files
    from stackview.shop.parts_list import parts_list
    from stackview.sight.summary import sightlines
    from stackview.stack.assembly import assemble
    from stackview.stills.animation import turntable
    from stackview.stills.draw import draw
    from stackview.stills.png import write_png as save
    from stackview.study import Study


def __getattr__(name: str) -> "Any":
    from importlib import import_module

    if name not in _FROM:
        raise AttributeError(f"module 'stackview' has no attribute {name!r}")
    module, attribute = _FROM[name]
    return getattr(import_module(module), attribute)


def __dir__() -> list[str]:
    return sorted(__all__)
