"""Turntables as animated WebP and GIF files.

Pillow writes both. It writes no MP4, and none of the libraries that stackview needs does.
"""

from collections.abc import Iterator, Sequence
from io import BytesIO

import numpy as np
from numpy.typing import NDArray

from stackview.sight.camera import BEARING, ELEVATION
from stackview.stills.kept_light import baked
from stackview.stills.mix import STUDIO, Mix
from stackview.stills.picture import Picture, picture_of
from stackview.stills.picture_file import SOFTWARE, SOFTWARE_TAG
from stackview.stills.setting import assembled
from stackview.stills.studio import shoot
from stackview.stills.viewpoints import turning_view
from stackview.stills.views import FRAMES, check_frames, check_view
from stackview.study import Study, of_study

Frames = Sequence[NDArray[np.uint8]]

FRAME_TIME = 100
"""Time of one frame [ms]."""
_QUALITY = 94
_SAMPLED = 6
"""Frames that the colours of a GIF are chosen from."""


@of_study
def turntable(
    study: Study,
    *,
    size: tuple[int, int] = (640, 480),
    frames: int = FRAMES,
    bearing: float = BEARING,
    elevation: float = ELEVATION,
    mix: Mix = STUDIO,
    cut_out: bool = False,
) -> Iterator[Picture]:
    """Draw the lamp turning once round, frame by frame, each (h, w, 3), or (h, w, 4) where cut out.

    The lamp stands still and the eye walks round it with even steps, so that the last frame
    leads on to the first. Raises OutputError, before anything is drawn, for what cannot be.
    """
    check_view(bearing, elevation, size)
    check_frames(frames)
    return _frames(study, size, frames, bearing, elevation, mix, cut_out)


def _frames(
    study: Study,
    size: tuple[int, int],
    frames: int,
    bearing: float,
    elevation: float,
    mix: Mix,
    cut_out: bool,
) -> Iterator[Picture]:
    setting = assembled(study.stack, study.light)
    ready = baked(setting)
    points = np.concatenate([part.solid.vertices for part in setting.body])
    for number in range(frames):
        at = bearing + 360.0 * number / frames
        yield picture_of(shoot(ready, turning_view(points, at, elevation, size), mix=mix, cut_out=cut_out))


def webp_of(frames: Frames) -> bytes:
    """Pack frames (h, w, 3 or 4) as an animated WebP that runs for ever."""
    from PIL import Image

    mark = Image.Exif()
    mark[SOFTWARE_TAG] = SOFTWARE
    pictures = [Image.fromarray(frame) for frame in frames]
    packed = BytesIO()
    pictures[0].save(
        packed,
        "WEBP",
        save_all=True,
        append_images=pictures[1:],
        duration=FRAME_TIME,
        loop=0,
        quality=_QUALITY,
        method=3,
        exif=mark.tobytes(),
    )
    return packed.getvalue()


def gif_of(frames: Frames) -> bytes:
    """Pack frames (h, w, 3) as a GIF that runs for ever, all with one set of colours.

    Colours of its own in every frame would make the backdrop flicker.
    """
    from PIL import Image

    pictures = [Image.fromarray(np.ascontiguousarray(frame[:, :, :3])) for frame in frames]
    step = max(len(pictures) // _SAMPLED, 1)
    samples = np.concatenate([np.asarray(picture)[::2, ::2] for picture in pictures[::step]])
    colours = Image.fromarray(samples).quantize(256, method=Image.Quantize.MEDIANCUT, kmeans=4)
    mapped = [picture.quantize(palette=colours, dither=Image.Dither.FLOYDSTEINBERG) for picture in pictures]
    packed = BytesIO()
    mapped[0].save(
        packed,
        "GIF",
        save_all=True,
        append_images=mapped[1:],
        duration=FRAME_TIME,
        loop=0,
        optimize=False,
        disposal=1,
        comment=SOFTWARE.encode(),
    )
    return packed.getvalue()
