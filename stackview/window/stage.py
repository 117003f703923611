"""What stands in the window, in the toolkit's own objects: the only file that knows them, with frame.py.

Everything is drawn unlit with colours that are already final. Sheets and panels on top are
pictures that were drawn elsewhere.
"""

import os
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import vtkmodules.vtkRenderingOpenGL2  # noqa: F401 - registers what draws
from numpy.typing import NDArray
from vtkmodules.util.numpy_support import numpy_to_vtk, vtk_to_numpy
from vtkmodules.vtkCommonCore import vtkPoints
from vtkmodules.vtkCommonDataModel import vtkCellArray, vtkImageData, vtkPlane, vtkPolyData
from vtkmodules.vtkRenderingCore import (
    vtkActor,
    vtkActor2D,
    vtkCoordinate,
    vtkPolyDataMapper,
    vtkPolyDataMapper2D,
    vtkRenderer,
    vtkRenderWindow,
    vtkTexture,
    vtkTexturedActor2D,
    vtkWindowToImageFilter,
)

from stackview.arrays import Bytes
from stackview.sight.camera import Camera

_NEAR = 0.05
"""Share of the way to the lamp from where on things are drawn."""
_KIND = "VTK_DEFAULT_OPENGL_WINDOW"
"""The toolkit's own variable that chooses the kind of window."""
SAMPLES = 4
"""Samples a pixel, for smooth edges."""


@dataclass(eq=False)
class DrawnSurface:
    """One set of triangles that is drawn: positions, colours and visibility can change."""

    data: vtkPolyData
    actor: vtkActor

    def move(self, places: NDArray[np.floating]) -> None:
        """Put its corners (n, 3) elsewhere [mm]."""
        points = vtkPoints()
        points.SetData(_array(np.ascontiguousarray(places, np.float32)))
        self.data.SetPoints(points)

    def colour(self, colours: Bytes) -> None:
        """Colour its corners (n, 3 or 4)."""
        self.data.GetPointData().SetScalars(_bytes(colours))

    def order(self, triangles: NDArray[np.int64]) -> None:
        """Draw these triangles (m, 3), in this order."""
        self.data.SetPolys(_cells(triangles))

    def show(self, shown: bool) -> None:
        """Show or hide it."""
        self.actor.SetVisibility(bool(shown))

    def cut(self, plane: tuple[NDArray[np.float64], NDArray[np.float64]] | None) -> None:
        """Show only what lies on the side of a plane (a place, a normal) that the normal points to."""
        mapper = self.actor.GetMapper()
        mapper.RemoveAllClippingPlanes()
        if plane is not None:
            at, normal = plane
            half = vtkPlane()
            half.SetOrigin(*at.tolist())
            half.SetNormal(*normal.tolist())
            mapper.AddClippingPlane(half)


@dataclass(eq=False)
class FlatPicture:
    """A picture that lies flat on the window, pixel for pixel."""

    data: vtkPolyData
    texture: vtkTexture
    actor: vtkTexturedActor2D
    size: tuple[int, int] = (0, 0)

    def put(self, picture: Bytes, left: int, low: int) -> None:
        """Show a picture (h, w, 4), its first row on top, with its lower left corner at a pixel."""
        height, width = picture.shape[:2]
        self.texture.SetInputData(_image(picture[::-1]))
        corners = np.array([[0, 0, 0], [width, 0, 0], [width, height, 0], [0, height, 0]], np.float32)
        points = vtkPoints()
        points.SetData(_array(corners + np.array([left, low, 0], np.float32)))
        self.data.SetPoints(points)
        self.actor.SetVisibility(True)

    def hide(self) -> None:
        """Take it out of sight."""
        self.actor.SetVisibility(False)


@dataclass(eq=False)
class Flat:
    """Flat coloured triangles in pixels over the picture, such as rings."""

    data: vtkPolyData
    actor: vtkActor2D

    def put(self, corners: NDArray[np.float32], triangles: NDArray[np.int64], colours: Bytes) -> None:
        """Show triangles of corners (n, 2) [px, up from the foot] with a colour (n, 4) each."""
        points = vtkPoints()
        flat = np.concatenate([corners, np.zeros((len(corners), 1), np.float32)], axis=1)
        points.SetData(_array(np.ascontiguousarray(flat, np.float32)))
        self.data.SetPoints(points)
        self.data.SetPolys(_cells(triangles))
        self.data.GetPointData().SetScalars(_bytes(colours))
        self.actor.SetVisibility(len(triangles) > 0)


class Stage:
    """A render window with one view, empty until surfaces and panels are added to it."""

    def __init__(self, size: tuple[int, int], *, off_screen: bool) -> None:
        self.window = _render_window(off_screen)
        self.window.SetOffScreenRendering(off_screen)
        self.window.SetMultiSamples(SAMPLES)
        self.window.SetSize(*size)
        self.renderer = vtkRenderer()
        self.renderer.SetUseDepthPeeling(False)
        self.renderer.TexturedBackgroundOn()
        self.window.AddRenderer(self.renderer)

    def surface(
        self,
        places: NDArray[np.floating],
        triangles: NDArray[np.int64],
        colours: Bytes,
        *,
        grain: tuple[Bytes, NDArray[np.float32]] | None = None,
        see_through: bool = False,
        one_sided: bool = False,
    ) -> DrawnSurface:
        """Add triangles (m, 3) of corners (n, 3) [mm], coloured (n, 3 or 4), over a grain if given."""
        data = vtkPolyData()
        mapper = vtkPolyDataMapper()
        mapper.SetInputData(data)
        actor = vtkActor()
        actor.SetMapper(mapper)
        look = actor.GetProperty()
        look.LightingOff()
        look.SetBackfaceCulling(one_sided)
        actor.SetForceTranslucent(see_through)
        actor.SetForceOpaque(not see_through)
        actor.PickableOff()
        surface = DrawnSurface(data, actor)
        surface.move(places)
        surface.order(triangles)
        surface.colour(colours)
        if grain is not None:
            picture, at = grain
            data.GetPointData().SetTCoords(_array(np.ascontiguousarray(at, np.float32)))
            texture = vtkTexture()
            texture.SetInputData(_image(picture))
            texture.InterpolateOn()
            texture.RepeatOff()
            actor.SetTexture(texture)
        self.renderer.AddActor(actor)
        return surface

    def remove(self, surfaces: Sequence[DrawnSurface]) -> None:
        """Take surfaces away and free what they hold on the graphics side."""
        for surface in surfaces:
            self.renderer.RemoveActor(surface.actor)
            surface.actor.ReleaseGraphicsResources(self.window)

    def panel(self) -> FlatPicture:
        """Add an empty panel over all that was added before."""
        data = vtkPolyData()
        data.SetPolys(_cells(np.array([[0, 1, 2], [0, 2, 3]])))
        unit = np.array([[0, 0], [1, 0], [1, 1], [0, 1]], np.float32)
        data.GetPointData().SetTCoords(_array(unit))
        texture = vtkTexture()
        texture.InterpolateOff()
        texture.RepeatOff()
        actor = vtkTexturedActor2D()
        actor.SetMapper(_flat_mapper(data))
        actor.SetTexture(texture)
        actor.SetVisibility(False)
        self.renderer.AddViewProp(actor)
        return FlatPicture(data, texture, actor)

    def flat(self) -> Flat:
        """Add room for flat marks over all that was added before."""
        data = vtkPolyData()
        actor = vtkActor2D()
        actor.SetMapper(_flat_mapper(data))
        actor.SetVisibility(False)
        self.renderer.AddViewProp(actor)
        return Flat(data, actor)

    def backdrop(self, picture: Bytes) -> None:
        """Lay a picture (h, w, 3), its first row on top, behind everything."""
        texture = vtkTexture()
        texture.SetInputData(_image(picture[::-1]))
        texture.InterpolateOn()
        self.renderer.SetBackgroundTexture(texture)

    def look(self, camera: Camera, radius: float, ground: float) -> None:
        """Look through a camera; ``radius`` of the lamp and of its ``ground`` set what is near and far [mm]."""
        _, up, _ = camera.axes
        view = self.renderer.GetActiveCamera()
        view.SetPosition(*camera.eye.tolist())
        view.SetFocalPoint(*camera.target)
        view.SetViewUp(*up.tolist())
        view.SetViewAngle(camera.field_of_view)
        # Near enough for the ground before the lamp; 24 bits of depth still tell a hair at the lamp.
        view.SetClippingRange(_NEAR * camera.distance, camera.distance + max(radius, ground))

    @property
    def size(self) -> tuple[int, int]:
        """Width and height [px]."""
        width, height = self.window.GetSize()
        return int(width), int(height)

    def smooth(self, samples: int) -> None:
        """Draw with so many samples a pixel from now on."""
        if self.window.GetMultiSamples() != samples:
            self.window.SetMultiSamples(samples)

    def render(self) -> None:
        """Draw everything."""
        self.window.Render()

    def picture(self) -> Bytes:
        """What the window shows now (h, w, 3), first row on top."""
        self.render()
        grab = vtkWindowToImageFilter()
        grab.SetInput(self.window)
        grab.ReadFrontBufferOff()
        grab.ShouldRerenderOff()
        grab.Update()
        image = grab.GetOutput()
        width, height, _ = image.GetDimensions()
        values = vtk_to_numpy(image.GetPointData().GetScalars())  # type: ignore[no-untyped-call]
        return np.array(values.reshape(height, width, -1)[::-1, :, :3])

    def close(self) -> None:
        """Give the window back."""
        self.window.Finalize()


def _render_window(off_screen: bool) -> vtkRenderWindow:
    """A window that can be seen, or one of the kind that needs no display."""
    if not sys.platform.startswith("linux"):
        return vtkRenderWindow()
    before = os.environ.pop(_KIND, None)
    if off_screen:
        os.environ[_KIND] = "vtkEGLRenderWindow"
    try:
        return vtkRenderWindow()
    finally:
        os.environ.pop(_KIND, None)
        if before is not None:
            os.environ[_KIND] = before


def _flat_mapper(data: vtkPolyData) -> vtkPolyDataMapper2D:
    mapper = vtkPolyDataMapper2D()
    mapper.SetInputData(data)
    pixels = vtkCoordinate()
    pixels.SetCoordinateSystemToDisplay()
    mapper.SetTransformCoordinate(pixels)
    return mapper


def _array(values: NDArray[Any]) -> Any:
    """A copy of an array in the toolkit's own keeping."""
    return numpy_to_vtk(np.ascontiguousarray(values), deep=True)  # type: ignore[no-untyped-call]


def _bytes(values: Bytes) -> Any:
    return _array(np.asarray(values, np.uint8))


def _cells(triangles: NDArray[np.int64]) -> vtkCellArray:
    cells = vtkCellArray()
    offsets = np.arange(0, 3 * len(triangles) + 1, 3, dtype=np.int64)
    corners = np.ascontiguousarray(triangles, np.int64).ravel()
    cells.SetData(_array(offsets), _array(corners))
    return cells


def _image(picture: Bytes) -> vtkImageData:
    """An image of the toolkit's, whose first row is the lowest."""
    height, width, channels = picture.shape
    image = vtkImageData()
    image.SetDimensions(width, height, 1)
    flat = np.ascontiguousarray(picture, np.uint8).reshape(-1, channels)
    image.GetPointData().SetScalars(_array(flat))
    return image
