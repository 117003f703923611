import numpy as np
import pytest

from stackview.stills import workers


@pytest.mark.parametrize(("count", "sizes"), [(0, []), (1, [1]), (4, [4]), (9, [4, 4, 1])])
def test_pieces_cover_everything_once(count, sizes):
    cut = workers.slices_of(count, 4)
    assert [piece.stop - piece.start for piece in cut] == sizes
    assert [k for piece in cut for k in range(count)[piece]] == list(range(count))


@pytest.mark.parametrize("threads", [1, 2, 5])
def test_results_come_in_order_whatever_the_threads(monkeypatch, threads):
    monkeypatch.setattr(workers, "MOST_THREADS", threads)
    squares = np.concatenate(workers.in_pieces(lambda piece: np.arange(100)[piece] ** 2, 100, 7))
    assert squares.tolist() == [k * k for k in range(100)]


def test_an_error_in_a_piece_comes_out():
    with pytest.raises(ZeroDivisionError):
        workers.in_pieces(lambda piece: piece.start / 0, 10, 3)
