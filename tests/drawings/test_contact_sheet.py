import numpy as np
import pytest

from stackview.description.units import Units
from stackview.drawings import contact_sheet as file
from stackview.drawings.contact_sheet import SHEET_VIEWS, contact_sheet
from tests.drawings.drawn import check_words, words_of
from tests.stills.demos import NAMES, study_of


@pytest.mark.parametrize("size", [(640, 480), (1600, 1200), (900, 1400)])
@pytest.mark.parametrize("name", NAMES)
def test_cells_words_and_facts_keep_apart(name, size, monkeypatch):
    kept, cells = [], []
    original = file.inked
    monkeypatch.setattr(file, "inked", lambda sheet, under: (kept.append(sheet), original(sheet, under))[1])
    monkeypatch.setattr(file, "_parts", lambda _study, cell: np.full((cell[1], cell[0], 3), 40, np.uint8))

    def cell(view, of):
        cells.append((view, of))
        return np.full((of[1], of[0], 3), 90, np.uint8)

    study = study_of(name)
    page = contact_sheet(study, cell, Units("mm", beside=True), size)
    assert page.shape == (size[1], size[0], 3)
    assert [view for view, _ in cells] == [view for view in SHEET_VIEWS if view != "spread"]
    wide, tall = cells[0][1]
    # Eight even cells: as many grey pixels as they have, less none for words.
    assert (page == 90).all(axis=2).sum() == 7 * wide * tall
    assert (page == 40).all(axis=2).sum() == wide * tall
    check_words(kept[-1])
    assert str(len(study.light.points)) in " ".join(words_of(kept[-1]))
