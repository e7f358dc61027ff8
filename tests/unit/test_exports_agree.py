"""The three files of one page hold the same lines, read back by libraries that did not write them."""

import io
import math
from itertools import pairwise

import ezdxf
import pypdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf.generic import ContentStream
from svgelements import SVG
from svgelements import Path as SvgPath

from foldproof.drawing.painting import length_mm
from foldproof.drawing.records import Folio, Page, Path, Stroke
from foldproof.drawing.style import MM_PER_PT
from foldproof.exports.dxf import cut_dxf
from foldproof.exports.pdf import folio_pdf
from foldproof.exports.svg import cut_svg, page_svg

ROLES = ("cut", "valley", "mountain")
PDF_LAYERS = {"Cut": "cut", "Score, fold up": "valley", "Score, fold back": "mountain"}
DXF_LAYERS = {"CUT": "cut", "SCORE-VALLEY": "valley", "SCORE-MOUNTAIN": "mountain"}
SAME_MM = 0.01

place = st.tuples(st.floats(0, 300), st.floats(0, 300))
strokes = st.builds(
    Stroke,
    path=st.builds(
        Path, points=st.lists(place, min_size=2, max_size=6, unique=True).map(tuple), closed=st.booleans()
    ),
    role=st.sampled_from(ROLES),
    name=st.text(max_size=8),
)


def totals(pairs):
    found = dict.fromkeys(ROLES, 0.0)
    for role, length in pairs:
        found[role] += length
    return pytest.approx(found, abs=SAME_MM)


def drawn(page):
    return {role: sum(length_mm(m.path) for m in page.marks if m.role == role) for role in ROLES}


def svg_lengths(text, attribute):
    root = SVG.parse(io.StringIO(text), ppi=25.4, reify=True)
    for group in root.select(lambda e: e.values.get(attribute) in ROLES and not isinstance(e, SvgPath)):
        for path in group.select(lambda e: isinstance(e, SvgPath)):
            yield group.values[attribute], path.length()


def dxf_lengths(text):
    for line in ezdxf.read(io.StringIO(text)).modelspace():
        points = list(line.vertices())
        points += points[:1] if line.closed else []
        yield DXF_LAYERS[line.dxf.layer], sum(math.dist(a, b) for a, b in pairwise(points))


def pdf_lengths(data):
    reader = pypdf.PdfReader(io.BytesIO(data))
    page = reader.pages[0]
    names = {key: layer.get_object()["/Name"] for key, layer in page["/Resources"]["/Properties"].items()}
    layer, points, start = "", [], None
    for operands, operator in ContentStream(page["/Contents"].get_object(), reader).operations:
        if operator == b"BDC" and operands[0] == "/OC":
            layer = PDF_LAYERS[names[operands[1]]]
        elif operator in (b"m", b"l"):
            points = points if operator == b"l" else []
            points.append(tuple(float(value) * MM_PER_PT for value in operands))
            start = points[0]
        elif operator == b"h":
            points.append(start)
        elif operator == b"S":
            yield layer, sum(math.dist(a, b) for a, b in pairwise(points))


@settings(max_examples=15)
@given(st.lists(strokes, min_size=1, max_size=12).map(tuple))
def test_total_lengths_agree(marks):
    page = Page(name="sheet", width_mm=300, height_mm=300, marks=marks, alt="")
    expected = drawn(page)
    assert expected == totals(svg_lengths(cut_svg(page), "id"))
    assert expected == totals(svg_lengths(page_svg(page), "data-role"))
    assert expected == totals(dxf_lengths(cut_dxf(page)))
    assert expected == totals(pdf_lengths(folio_pdf(Folio(title="t", pages=(page,)), document_id=b"")))


def close(found, wanted):
    return all(math.dist(a, b) < SAME_MM / 10 for a, b in zip(found, wanted, strict=True))


def test_places_agree():
    path = Path(points=((12.7, 25.4), (101.6, 25.4), (101.6, 203.2)))
    page = Page(name="sheet", width_mm=215.9, height_mm=279.4, marks=(Stroke(path=path, role="cut"),), alt="")
    (line,) = ezdxf.read(io.StringIO(cut_dxf(page))).modelspace()
    assert close(line.vertices(), path.points)
    (shape,) = SVG.parse(io.StringIO(cut_svg(page)), ppi=25.4).select(lambda e: isinstance(e, SvgPath))
    corners = [(segment.end.x, 279.4 - segment.end.y) for segment in shape]
    assert close(corners, path.points)
