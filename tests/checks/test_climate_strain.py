import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.checks.climate_strain import Strain, slips, strain_of
from stackview.checks.wood_movement import equilibrium_moisture, strain_towards
from stackview.description.service import Climate
from tests.checks.written import subject

DRY, DAMP = Climate("dry", 21.1, 0.30, ""), Climate("damp", 21.1, 0.65, "")
SQUARE = np.array([[-50.0, -30.0], [50.0, -30.0], [50.0, 30.0], [-50.0, 30.0]])


def test_walnut_by_the_handbooks_numbers() -> None:
    text = 'name = "x"\nmaterials.w = { wood = "walnut", sold = 19 }\n'
    text += 'layer = [{ name = "a", material = "w", outline = { circle = 100 }, grain = 0 }]\n'
    strain = strain_of(subject(text).stack.part("a"), DRY, DAMP)
    # Wood Handbook: 6.17 to 11.96 %, C_T of black walnut 0.00274 (Table 13-5)
    assert strain.across == pytest.approx(0.00274 * (11.96 - 6.17), abs=3e-5)
    assert strain.across > 20.0 * strain.along > 0.0
    assert strain.grain == 0.0


def test_acrylic_by_heat_and_moisture() -> None:
    plate = subject().stack.part("plate 1")
    warmer = Climate("warm", 31.1, 0.30, "")
    # 70 × 10⁻⁶/K over 10 K, in all directions alike
    strain = strain_of(plate, DRY, warmer)
    assert strain.across == strain.along == pytest.approx(7e-4)
    assert strain_of(plate, DRY, DAMP).across == pytest.approx(0.0035 * 0.35)


def test_nowhere_to_go_nothing_moves() -> None:
    strain = strain_of(subject().stack.part("base"), DRY, DRY)
    assert (strain.across, strain.along) == (0.0, 0.0)


def test_slip_is_worst_across_the_grain_over_the_extent_there() -> None:
    still, moving = Strain(0.0, 0.0, 0.0), Strain(0.01, 0.0, 0.0)  # grain front to back: moves left to right
    grows, shrinks = slips(still, moving, SQUARE)
    assert grows.by == pytest.approx(1.0)  # 1 % of 100
    assert abs(shrinks.by) < 1e-12


@given(st.floats(-0.01, 0.01), st.floats(-0.01, 0.01), st.floats(0.0, 180.0), st.floats(0.0, 180.0))
def test_slip_against_the_points_moved_one_by_one(
    across: float, along: float, grain: float, other: float
) -> None:
    one, two = Strain(across, 0.0, grain), Strain(along, 0.0, other)
    moved_one, moved_two = (SQUARE + SQUARE @ strain.tensor for strain in (one, two))
    grows, shrinks = slips(one, two, SQUARE)
    for slip in (grows, shrinks):
        way = np.array([np.sin(np.radians(slip.bearing)), -np.cos(np.radians(slip.bearing))])
        far = SQUARE @ way
        widths = [moved @ way for moved in (moved_one, moved_two)]
        k, m = int(far.argmax()), int(far.argmin())
        caliper = (widths[1][k] - widths[1][m]) - (widths[0][k] - widths[0][m])
        assert slip.by == pytest.approx(caliper, abs=1e-12)


def test_the_tensor_is_the_strain_in_every_direction() -> None:
    strain = Strain(0.01, 0.002, 25.0)
    for bearing in (0.0, 25.0, 45.0, 90.0, 115.0, 160.0):
        way = np.array([np.sin(np.radians(bearing)), -np.cos(np.radians(bearing))])
        assert way @ strain.tensor @ way == pytest.approx(
            strain_towards(strain.across, strain.along, strain.grain, bearing)
        )


def test_like_boards_with_like_grain_go_together() -> None:
    one = Strain(0.01, 0.001, 30.0)
    assert [slip.by for slip in slips(one, one, SQUARE)] == [0.0, 0.0]


def test_the_workshop_is_damper_than_the_winter_room() -> None:
    rooms = subject().lamp.rooms
    moisture = {
        c.name: equilibrium_moisture(c.celsius, c.humidity) for c in (rooms.workshop, *rooms.lives_in)
    }
    assert moisture["dry winter room"] < moisture["workshop"] < moisture["humid summer room"]
