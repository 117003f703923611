"""The lamp's picture: the assembled stack with its light, from any side, at any size."""

from stackview.sight.camera import BEARING, ELEVATION, frame
from stackview.stills.kept_light import baked
from stackview.stills.mix import STUDIO, Mix
from stackview.stills.picture import Picture, picture_of
from stackview.stills.setting import assembled
from stackview.stills.studio import shoot
from stackview.stills.views import check_view
from stackview.study import Study, of_study


@of_study
def draw(
    study: Study,
    *,
    bearing: float = BEARING,
    elevation: float = ELEVATION,
    size: tuple[int, int] = (1600, 1200),
    mix: Mix = STUDIO,
) -> Picture:
    """Draw the lamp as seen from a bearing and elevation [°].

    ``size`` is (width, height) in pixels. Returns (height, width, 3). A pendant hangs free; a
    lamp that stands gets ground under it. Raises OutputError for a view that cannot be drawn.
    """
    check_view(bearing, elevation, size)
    setting = assembled(study.stack, study.light)
    camera = frame(setting.body, bearing=bearing, elevation=elevation, size=size)
    return picture_of(shoot(baked(setting), camera, mix=mix))
