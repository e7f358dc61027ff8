"""Drawings that are out to harm, broken off or no drawings at all: refused with the reason, and soon."""

import io
import random
import re
import time

import ezdxf
import pytest

from foldproof.errors import InputError
from foldproof.outlines.budget import MOST_BYTES
from foldproof.outlines.cleaning import cleaned
from foldproof.outlines.vector_dxf import read_dxf
from foldproof.outlines.vector_svg import read_svg

SOON_S = 5.0  # of processor time; a shared machine is slow, and reading runs under a limit of its own
RECT = '<rect width="50" height="50"/>'


def svg(body, head="", before=""):
    return f'{before}<svg xmlns="http://www.w3.org/2000/svg" {head}>{body}</svg>'.encode()


def refused(data, reader=read_svg, **options):
    started = time.process_time()
    with pytest.raises(InputError) as caught:
        reader(data, **options)
    assert time.process_time() - started < SOON_S
    (problem,) = caught.value.problems
    assert problem.remedy and len(problem.value) < 200
    return problem


BOMB = "".join(f'<!ENTITY l{n} "{f"&l{n - 1};" * 10}">' for n in range(1, 10))

RUNS_OR_REACHES_OUT = [
    (svg(f"<script>alert(1)</script>{RECT}"), "script"),
    (svg(f"<SCRIPT/>{RECT}"), "script"),
    (svg('<rect onload="run()" width="50" height="50"/>'), "script"),
    (svg(RECT, head='onload="run()"'), "script"),
    (svg('<a href="javascript:run()"><rect width="50" height="50"/></a>'), "script"),
    (svg('<a href=" java&#10;script:run()"/>'), "script"),
    (svg('<o:script xmlns:o="urn:o"/>'), "script"),
    (svg('<image href="http://example.org/a.png"/>'), "outside"),
    (svg('<image href="file:///etc/hostname"/>'), "outside"),
    (svg('<image xmlns:x="http://www.w3.org/1999/xlink" x:href="//example.org/a.png"/>'), "outside"),
    (svg('<use href="other.svg#part"/>'), "outside"),
    (svg('<rect fill="url(http://example.org/#a)" width="50" height="50"/>'), "outside"),
    (svg("<rect style=\"fill:URL( 'file:///etc/hostname' )\" width='50' height='50'/>"), "outside"),
    (svg('<style>@import "a.css";</style>'), "outside"),
    (svg("<style>@font-face{src:url(a.woff)}</style>"), "outside"),
    (svg(RECT, before='<?xml-stylesheet href="a.css"?>'), "outside"),
    (svg(RECT, before='<!DOCTYPE svg SYSTEM "file:///etc/hostname">'), "outside"),
    (svg("&l9;", before=f'<!DOCTYPE svg [<!ENTITY l0 "lol">{BOMB}]>'), "entities"),
    (svg(f"&a;{RECT}", before='<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/hostname">]>'), "entities"),
    (svg(RECT, before='<!DOCTYPE svg [<!ENTITY % a SYSTEM "http://example.org/a">%a;]>'), "entities"),
    (svg(RECT, before="<!DOCTYPE svg [<!ELEMENT svg ANY>]>"), "entities"),
]


@pytest.mark.parametrize(("data", "reason"), RUNS_OR_REACHES_OUT)
def test_nothing_runs_is_fetched_or_unfolds(data, reason):
    problem = refused(data)
    assert problem.field == "the file" and reason in problem.reason


def test_what_only_looks_alike_is_read():
    doctype = '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">'
    inside = '<style>@font-face{src:url(data:font/woff;base64,AA)}</style><linearGradient id="a"/>'
    for data in (
        svg(RECT, before=doctype),
        svg(f'{inside}<rect fill="url(#a)" width="50" height="50"/>'),
        svg(f'<image href="data:image/png;base64,AA"/>{RECT}'),
        svg(f"<title>&lt;script&gt;</title>{RECT}"),
    ):
        assert len(read_svg(data).shapes) == 1


LAUGHS = "".join(f'<g id="a{n}">{f"<use href={chr(34)}#a{n - 1}{chr(34)}/>" * 10}</g>' for n in range(1, 10))

TOO_MUCH = [
    (svg("<g>" * 100 + "</g>" * 100), "64 deep"),
    (b"<svg>" + b"<g>" * 1_000_000, "64 deep"),
    (svg(f'<defs><rect id="a0" width="9" height="9"/>{LAUGHS}</defs><use href="#a9"/>'), "too many copies"),
    (svg('<g id="a"><use href="#a"/></g>'), "copies itself"),
    (svg('<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>'), "copies itself"),
    (svg('<symbol id="s"><use href="#s"/></symbol><use href="#s"/>'), "copies itself"),
    (svg(f'<path d="M0 0{"l1 1" * 150_000}z"/>'), "too many numbers"),
    (svg(f'<polygon points="{"1 2 " * 150_000}"/>'), "too many numbers"),
    (svg(f'<rect transform="{"scale(1)" * 300_000}"/>'), "too many numbers"),
    (svg(f'<path d="M0 0{"c9000 0 0 9000 0 0" * 5_000}z"/>'), "too many points"),
    (svg("<g/>" * 60_000), "too many elements"),
    (svg(f"<style>{'.a{fill:none}' * 300}</style>"), "too many style rules"),
    (svg(f'<path d="{"M0 0h1v1z" * 3_000}"/>'), "too many closed outlines"),
    (svg("".join(f'<g id="r{n}">{RECT}</g>' for n in range(3_000))), "too many closed outlines"),
    (b"<svg>" + b" " * MOST_BYTES + b"</svg>", "5 MB"),
    (svg(f'<rect width="{"1" * 3_000_000}" height="1"/>'), "number without end"),
    (svg(f'<path d="M{"1" * 3_000_000} 0"/>'), "cannot be read"),
    (svg(f'<path d="M0 0{" " * 2_000_000}x"/>'), "cannot be read"),
    (svg(f'<rect transform="{"scale" * 500_000}" width="1"/>'), "cannot be read"),
    (svg(f"<style>{'/*' * 1_000_000}</style>"), "no closed outline"),
    (svg(f"<style>{'{' * 1_000_000}</style>"), "no closed outline"),
]


@pytest.mark.parametrize(("data", "reason"), TOO_MUCH, ids=[f"{n} {reason}" for n, (_, reason) in enumerate(TOO_MUCH)])
def test_more_than_a_drawing_of_a_shape_holds(data, reason):
    assert reason in refused(data).reason


def test_nested_outlines_without_end():
    rings = "".join(f"M{n / 100} {n / 100}h{200 - n / 50}v{200 - n / 50}h{n / 50 - 200}z" for n in range(1_500))
    assert "inside one another" in refused(svg(f'<path d="{rings}"/>')).reason


def test_a_heap_of_line_ends():
    lines = "".join(f'<line x1="{n % 7 / 1e4}" x2="{n % 5 / 1e4 + 50}"/>' for n in range(8_000))
    started = time.process_time()
    read_svg(svg(lines))
    assert time.process_time() - started < SOON_S


NO_DRAWING = [
    (b"", "no SVG"),
    (b"hello", "no SVG"),
    (b"\x00\x01\xff\xfe" * 1000, "no SVG"),
    (b"\x89PNG\r\n\x1a\n" + b"\x00" * 500, "no SVG"),
    (b"\x1f\x8b\x08\x00" + b"\x00" * 50, "packed"),
    (b"<html><body/></html>", "no SVG"),
    (b'<svg xmlns="urn:other"/>', "no SVG"),
    (svg(RECT)[:-10], "broken off"),
    (svg("<g>"), "broken off"),
    (b'<?xml version="1.0" encoding="no-such"?><svg/>', "characters that cannot"),
    (svg("<rect width='50' height='50'").replace(b"</svg>", b""), "no SVG"),
    (svg(""), "no closed outline"),
    (svg("<text>flower</text>"), "no closed outline"),
    (svg('<path d="M0 0L1e999 0V9z"/>'), "cannot be read"),
    (svg('<path d="M0 0LNaN 0V9z"/>'), "cannot be read"),
    (svg('<path d="M0 0L10"/>'), "cannot be read"),
    (svg('<path d="L10 10"/>'), "does not begin with a move"),
    (svg('<path d="10 10"/>'), "cannot be read"),
    (svg('<path d="M0 0A5 5 0 2 1 9 9"/>'), "cannot be read"),
    (svg('<path d="M0 0L1e8 0L5 5z"/>'), "a kilometre away"),
    (svg('<g transform="scale(1e300)"><g transform="scale(1e300)"><rect width="9" height="9"/></g></g>'), "kilometre"),
    (svg('<rect transform="wobble(3)" width="9" height="9"/>'), "transform"),
    (svg('<rect transform="rotate(1 2)" width="9" height="9"/>'), "transform"),
    (svg('<rect width="9em" height="9"/>'), "length that cannot be read"),
    (svg('<rect width="-9" height="9"/>'), "less than nothing"),
    (svg('<polygon points="0 0 9 9 3"/>'), "lacks its second"),
    (svg('<polygon points="0 0 9 x 3 4"/>'), "list of numbers"),
    (svg(RECT, head='viewBox="0 0 0 10"'), "viewBox"),
    (svg(RECT, head='viewBox="0 0 10"'), "viewBox"),
    (svg(RECT, head='width="0" viewBox="0 0 10 10"'), "page of no size"),
    (svg(RECT, head='width="9" height="9" viewBox="0 0 10 10" preserveAspectRatio="left"'), "preserveAspectRatio"),
]


@pytest.mark.parametrize(("data", "reason"), NO_DRAWING)
def test_what_cannot_be_read(data, reason):
    assert reason in refused(data).reason


def test_text_in_other_codings():
    text = f'<?xml version="1.0" encoding="UTF-16"?><svg xmlns="http://www.w3.org/2000/svg">{RECT}</svg>'
    assert len(read_svg(text.encode("utf-16")).shapes) == 1
    assert len(read_svg(b"\xef\xbb\xbf" + svg(RECT)).shapes) == 1


# --- Chance -------------------------------------------------------------------------------------------------

GOOD_SVG = """<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">
<style>.a{fill:none} #b{fill-rule:evenodd}</style><defs><symbol id="s" viewBox="0 0 10 10"><circle r="5" cx="5" cy="5"/>
</symbol></defs><use href="#s" x="10" y="10" width="30" height="30"/><path id="b" transform="rotate(30,1,2) scale(1.2)"
d="M10 50a40 40 0 1180 0 40 40 0 11-80 0zM20 20c1 2 3 4 5 6s1 2 3 4q1 2 3 5t4 5h5v6z"/><rect class="a" x="1" y="2"
width="60" height="50" rx="5" ry="3"/><polygon points="0,0 50,0 50,60.5"/><line x1="0" x2="5"/></svg>"""
VALUES = ("0", "-1", "1e9", "1e308", "1e-308", "999999999999", "abc", "", "nan", "7", "255", "0.5")


def good_dxf():
    drawing = ezdxf.new("R2000")
    drawing.header["$INSUNITS"] = 4
    model, block = drawing.modelspace(), drawing.blocks.new("B")
    block.add_lwpolyline([(0, 0, 0), (100, 0, 1), (100, 60, 0), (0, 60, 0.5)], format="xyb", close=True)
    model.add_blockref("B", (10, 10), dxfattribs={"rotation": 30, "layer": "flower"})
    model.add_blockref("B", (300, 10), dxfattribs={"xscale": 2, "yscale": 1})
    model.add_ellipse((0, 0), (50, 0), 0.5)
    model.add_spline([(0, 0), (50, 20), (100, 0), (100, 100), (0, 100), (0, 0)])
    model.add_arc((100, 30), 30, -90, 90)
    written = io.StringIO()
    drawing.write(written)
    return written.getvalue().split("\n")


def read_or_refused(reader, data):
    try:
        for shape in reader(data).shapes:
            cleaned(shape.outline)
    except InputError as error:
        return error.problems[0].reason
    return ""


def test_a_damaged_svg_is_read_or_refused_and_nothing_else():
    chance = random.Random(1)
    reasons = set()
    for _ in range(150):
        text = GOOD_SVG
        for _ in range(chance.randint(1, 4)):
            place = chance.randrange(len(text))
            number = re.compile(r"-?[\d.]+").search(text, place)
            if number and chance.random() < 0.5:
                text = text[: number.start()] + chance.choice(VALUES) + text[number.end() :]
            else:
                text = text[:place] + chance.choice('MmZzLlHhCcSsQqTtAa0123456789.-,() "%=;:#<>') + text[place + 1 :]
        reasons.add(read_or_refused(read_svg, text.encode()))
    assert len(reasons) > 5 and "" in reasons


@pytest.mark.filterwarnings("ignore::ResourceWarning")
def test_a_damaged_dxf_is_read_or_refused_and_nothing_else():
    chance = random.Random(2)
    good = good_dxf()
    first = next(n for n, line in enumerate(good) if line.strip() == "BLOCKS")
    reasons = set()
    for _ in range(40):
        lines = list(good)
        for _ in range(chance.randint(1, 8)):
            place = chance.randrange(first if chance.random() < 0.8 else 0, len(lines))
            if chance.random() < 0.7:
                lines[place] = chance.choice(VALUES)
            else:
                del lines[place : place + 2]
        reasons.add(read_or_refused(read_dxf, "\n".join(lines).encode()))
    assert len(reasons) > 2
