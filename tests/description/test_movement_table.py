import pytest

from stackview.description.materials_table import sorts
from stackview.description.movement_table import movement_of
from stackview.description.written_lamp import KIND_KEYS

# Wood Handbook, FPL-GTR-190, Table 13-5: radial and tangential change per % of moisture
COEFFICIENTS = {
    "ash": (0.00169, 0.00274), "beech": (0.00190, 0.00431), "birch": (0.00256, 0.00338),
    "paper birch": (0.00219, 0.00304), "cherry": (0.00126, 0.00248), "maple": (0.00165, 0.00353),
    "red maple": (0.00137, 0.00289), "red oak": (0.00158, 0.00369), "white oak": (0.00180, 0.00365),
    "walnut": (0.00190, 0.00274), "basswood": (0.00230, 0.00330),
}  # fmt: skip


@pytest.mark.parametrize(("sort", "both"), COEFFICIENTS.items())
def test_every_species(sort: str, both: tuple[float, float]) -> None:
    moves = movement_of("wood", sort)
    assert (moves.radial, moves.tangential) == both
    assert "Table 13-5" in moves.source


def test_yellow_poplar_is_from_memory() -> None:
    moves = movement_of("wood", "poplar")
    assert moves.tangential == 0.00289
    assert "from memory" in moves.source


def test_every_material_has_a_movement_with_a_source() -> None:
    for kind in KIND_KEYS:
        for sort in sorts(kind):
            assert movement_of(kind, sort).source, (kind, sort)  # type: ignore[arg-type]


def test_wood_moves_least_along_the_grain_and_more_flat_sawn() -> None:
    for sort in sorts("wood"):
        moves = movement_of("wood", sort)
        assert 10.0 * moves.along < moves.radial < moves.tangential
        assert moves.across == moves.tangential
        assert movement_of("wood", sort, quarter=True).across == moves.radial


def test_ones_own_numbers_and_wood_that_is_not_known() -> None:
    own = movement_of("wood", "walnut", radial=0.001, tangential=0.002)
    assert (own.radial, own.tangential, own.source) == (0.001, 0.002, "as written by the maker")
    assert movement_of("wood", "purpleheart").tangential == 0.0035


def test_acrylic_within_what_sheet_makers_print() -> None:
    # 60 to 80 × 10⁻⁶/K
    assert 60e-6 <= movement_of("acrylic", "clear").per_kelvin <= 80e-6


def test_a_metal_that_is_not_known_is_said_not_to_move() -> None:
    assert movement_of("metal", "unobtainium").per_kelvin == 0.0
