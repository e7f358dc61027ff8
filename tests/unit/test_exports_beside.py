"""Work beside the rest: what it gives does not depend on when it is done, and an error stops what has not begun."""

import threading

import pytest

from foldproof.drawing.records import Page, Path, Stroke
from foldproof.exports.beside import WORKERS, beside
from foldproof.exports.png import drawn_pngs, page_png
from foldproof.exports.svg import page_svg


def test_what_was_started_is_given_when_it_is_asked_for():
    with beside() as side:
        waiting = [side.start(lambda n=n: n * n) for n in range(10)]
        assert [wait() for wait in reversed(waiting)] == [n * n for n in reversed(range(10))]


def test_an_error_comes_out_where_its_work_is_asked_for():
    with beside() as side:
        wait = side.start(lambda: 1 // 0)
        with pytest.raises(ZeroDivisionError):
            wait()


def test_what_has_not_begun_when_an_error_comes_never_does():
    go_on, begun = threading.Event(), []

    def held(number):
        begun.append(number)
        assert go_on.wait(10)

    def stop():
        with beside() as side:
            for number in range(WORKERS + 5):
                side.start(lambda number=number: held(number))
            while len(begun) < WORKERS:
                pass
            threading.Timer(0.05, go_on.set).start()
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        stop()
    assert len(begun) == WORKERS


def drawing(name, height_mm):
    path = Path(points=((1.0, 1.0), (59.0, height_mm - 1.0)))
    return Page(name=name, width_mm=60.0, height_mm=height_mm, marks=(Stroke(path=path, role="cut"),), alt=name)


def test_pictures_set_together_are_the_pictures_set_alone():
    pages = [drawing("one", 20.0), drawing("two", 33.25), drawing("one", 20.0)]
    together = drawn_pngs([(page_svg(page), page) for page in pages], width_px=240)
    assert together == tuple(page_png(page, width_px=240) for page in pages)
    assert together[0] == together[2] != together[1]
    assert drawn_pngs([(page_svg(page), page) for page in reversed(pages)], width_px=240) == together[::-1]


def test_pages_set_together_have_one_width():
    wide = Page(name="wide", width_mm=61.0, height_mm=20.0, marks=(), alt="")
    pages = [drawing("new", 21.0), wide]
    with pytest.raises(AssertionError):
        drawn_pngs([(page_svg(page), page) for page in pages], width_px=240)
