import io
import math
import re
from datetime import UTC
from importlib import resources

import ezdxf
import pytest

from foldproof.drawing.records import Area, Label, Page, Path, Stroke
from foldproof.exports import dxf, dxf_frame
from foldproof.exports.dxf import cut_dxf

SQUARE = Path(points=((10, 10), (60, 10), (60, 60), (10, 60)), closed=True)
MARKS = (
    Area(paths=(SQUARE,), role="waste"),
    Area(paths=(SQUARE, Path(points=((20, 20), (30, 20), (30, 30)), closed=True)), role="glue", name="tab 1"),
    Stroke(path=SQUARE, role="cut", name="base"),
    Stroke(path=Path(points=((10, 30), (60, 30))), role="valley", name="fold 1"),
    Stroke(path=Path(points=((20, 10), (20, 60))), role="mountain"),
    Stroke(path=Path(points=((0, 0), (20, 0))), role="dimension"),
    Label(text="3 1/4 in", at=(35, 70), role="size", size_pt=13),
)


def page(*marks):
    return Page(name="base", width_mm=210, height_mm=297, marks=marks, alt="")


def opened(text):
    document = ezdxf.read(io.StringIO(text))
    assert not document.audit().errors
    return document


def test_millimetres_of_the_right_release():
    document = opened(cut_dxf(page(*MARKS)))
    assert document.acad_release == "R2010"
    assert document.header["$INSUNITS"] == 4
    assert document.header["$MEASUREMENT"] == 1


def test_layers_tell_lines_apart_by_line_type_not_by_colour():
    document = opened(cut_dxf(page(*MARKS)))
    layers = [document.layers.get(name) for name in ("CUT", "SCORE-VALLEY", "SCORE-MOUNTAIN", "GLUE")]
    assert {layer.color for layer in layers} == {7}
    assert len({layer.dxf.linetype for layer in layers}) == 4
    for layer in layers[1:]:
        assert layer.dxf.linetype in document.linetypes


def test_line_types_are_the_dashes_of_the_printed_page():
    document = opened(cut_dxf(page(*MARKS)))
    tags = document.linetypes.get("SCORE-VALLEY").pattern_tags.tags
    assert [tag.value for tag in tags if tag.code in (40, 49)] == pytest.approx([3.4, 2.2, -1.2])


def test_only_cuts_scores_and_glue_areas():
    lines = list(opened(cut_dxf(page(*MARKS))).modelspace())
    assert {line.dxftype() for line in lines} == {"LWPOLYLINE"}
    assert [line.dxf.layer for line in lines] == ["GLUE", "GLUE", "CUT", "SCORE-VALLEY", "SCORE-MOUNTAIN"]
    assert [line.closed for line in lines] == [True, True, True, False, False]
    assert list(lines[2].vertices()) == [(10, 10), (60, 10), (60, 60), (10, 60)]


def test_lines_keep_their_names():
    lines = list(opened(cut_dxf(page(*MARKS))).modelspace())
    assert lines[2].get_xdata("FOLDPROOF")[0].value == "base"
    assert not lines[4].has_xdata("FOLDPROOF")


def test_no_trace_of_when_and_of_chance(monkeypatch):
    from datetime import datetime

    class Later(datetime):
        @classmethod
        def now(cls, tz=None):
            return datetime(2031, 5, 6, 7, 8, 9, tzinfo=UTC if tz else None)

    first = dxf_frame.frame_text()
    monkeypatch.setattr("ezdxf.document.datetime", Later)
    assert dxf_frame.frame_text() == first
    monkeypatch.setattr(dxf_frame, "_steadied", lambda text: text)
    assert dxf_frame.frame_text() != first, "the clock is seen where it is not taken out"


def test_what_every_cut_file_has_alike_is_what_the_library_makes():
    kept = resources.files("foldproof.exports").joinpath(dxf.FRAME_FILE).read_text(encoding="utf-8")
    assert kept == dxf_frame.frame_text(), f"write frame_text() into exports/{dxf.FRAME_FILE}"


def test_lines_belong_to_the_model_space():
    document = opened(cut_dxf(page(*MARKS)))
    assert dxf.empty_frame().owner == document.modelspace().layout_key


def test_every_handle_is_used_once_and_the_next_one_is_free():
    text = cut_dxf(page(*MARKS))
    handles = [int(found, 16) for found in re.findall(r"^  5\n([0-9A-F]+)$", text, re.M)]
    free = int(re.search(r"\$HANDSEED\n  5\n([0-9A-F]+)\n", text).group(1), 16)
    handles.remove(free)
    assert len(set(handles)) == len(handles) and max(handles) < free
    assert text == cut_dxf(page(*MARKS)), "one file does not number the next"


@pytest.mark.parametrize("name", ["a\nEOF\n0\nb", "🐚" * 200, "صندوق", "\ud800", "\x00", "%%c"])
def test_hostile_names(name):
    text = cut_dxf(page(Stroke(path=SQUARE, role="cut", name=name)))
    text.encode("utf-8")
    (line,) = opened(text).modelspace()
    assert line.dxf.layer == "CUT"


def test_places_must_be_finite():
    with pytest.raises(AssertionError):
        cut_dxf(page(Stroke(path=Path(points=((0, 0), (math.nan, 1))), role="cut")))
