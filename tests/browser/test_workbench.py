"""The workbench in a browser: the whole job by clicking and by keyboard, on a tablet, in two windows, after a crash."""

import io
import json
import re
import zipfile

import pypdf
import pytest
from axe_playwright_python.sync_playwright import Axe

from foldproof.project.read import read_project

PROVED = ".verdict.holds"
JUDGED = ".verdict:not(.checking)"
RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}


def verdict(page):
    """What the page says once it is sure."""
    page.wait_for_selector(JUDGED)
    return page.inner_text("#verdict b")


def settled(page, version):
    """Waits until the page shows a version and has judged it."""
    page.wait_for_function("(n) => document.body.dataset.version === String(n)", arg=version)
    return verdict(page)


def set_value(page, path, text):
    """Opens a phrase, types, and presses Enter."""
    if page.get_attribute(f'button[data-phrase="{path}"]', "aria-expanded") != "true":
        page.click(f'button[data-phrase="{path}"]')
    page.fill(".slip input.value", text)
    page.keyboard.press("Enter")


def sentence(page):
    return " ".join(page.inner_text("#sentence").split())


def text_of(workbench, project):
    return (workbench.folder / "projects" / project / "project.toml").read_text(encoding="utf-8")


# --- The whole job ------------------------------------------------------------------------------------------


def test_the_whole_job_by_clicking(workbench, leaf):
    page = leaf()
    page.goto(workbench.address)
    page.get_by_label("turning lid").check()
    page.fill("#begin-name", "Harbour box")
    page.get_by_role("button", name="Begin", exact=True).click()
    page.wait_for_url("**/p/harbour-box")
    assert verdict(page) in ("Proved.", "Not proved.")

    # A lid that is too small, then what is offered to mend it, with one press.
    set_value(page, "parts.lid.across", "4 1/4")
    assert settled(page, 2) == "Not proved."
    page.wait_for_selector("#verdict .mend")
    page.click("#verdict .mend >> nth=0")
    settled(page, 3)
    mended = read_project(text_of(workbench, "harbour-box")).parts[1].values.across
    assert mended.float_mm > 4.25 * 25.4
    page.click("text=Undo")
    settled(page, 4)
    assert "4 1/4 in" in sentence(page)
    page.click("text=Redo")
    settled(page, 5)

    # The hole, dragged a mark away from the corner.
    page.wait_for_selector(".hole-mark")
    page.locator(".hole-mark").scroll_into_view_if_needed()
    place = page.locator(".hole-mark circle.reach").bounding_box()
    x, y = place["x"] + place["width"] / 2, place["y"] + place["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 7, y + 7, steps=4)
    page.mouse.up()
    page.wait_for_function("() => document.body.dataset.version === '6'")

    # The pack, saved and read back.
    page.click("text=Make the pack")
    page.get_by_role("button", name="Make the pack").click()
    page.wait_for_selector("#pages img", timeout=120_000)
    with page.expect_download() as saved:
        page.click("text=Save all of it")
    with zipfile.ZipFile(saved.value.path()) as packed:
        names = packed.namelist()
        booklet = pypdf.PdfReader(io.BytesIO(packed.read("booklet.pdf")))
        templates = pypdf.PdfReader(io.BytesIO(packed.read("templates.pdf")))
        proof = json.loads(packed.read("proof.json"))
    assert {"score-plan.pdf", "hole-guide.pdf", "cut-list.csv", "folded.glb"} <= set(names)
    assert "Harbour box" in booklet.pages[0].extract_text()
    assert len(templates.pages) >= 1 and proof["project"] == "Harbour box"


def test_by_keyboard_alone(workbench, leaf):
    page = leaf()
    page.goto(workbench.address)
    page.get_by_role("link", name=re.compile("Tidepool")).focus()
    page.keyboard.press("Enter")
    page.wait_for_url("**/p/tidepool-keepsake-box")
    verdict(page)
    for _ in range(80):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.dataset.phrase") == "parts.tray.wall_height":
            break
    else:
        raise AssertionError("the phrase is not reached by the Tab key")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.className") == "value"
    page.keyboard.press("Control+A")
    page.keyboard.type("2 1/8")
    page.keyboard.press("Enter")
    settled(page, 2)
    assert "2 1/8 in tall" in sentence(page)
    page.keyboard.press("Escape")
    assert page.evaluate("document.activeElement.dataset.phrase") == "parts.tray.wall_height"
    page.keyboard.press("Control+z")
    settled(page, 3)
    assert "2 1/4 in tall" in sentence(page)
    page.locator(".knob").focus()
    before = page.get_attribute(".knob", "aria-valuetext")
    page.keyboard.press("ArrowLeft")
    assert page.get_attribute(".knob", "aria-valuetext") != before
    page.keyboard.press("Home")
    assert page.get_attribute(".knob", "aria-valuenow") == "0"


def test_on_a_tablet_and_a_phone_everything_is_large_enough_and_nothing_runs_out(workbench, leaf):
    for width in (820, 390):
        page = leaf(width, 1100, has_touch=True)
        page.goto(f"{workbench.address}/p/tidepool-keepsake-box" if width < 820 else workbench.address)
        if width == 820:
            page.tap("text=Tidepool keepsake box")
        verdict(page)
        page.wait_for_selector(".step-numbers button")
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        small = page.evaluate(
            """() => [...document.querySelectorAll('button, a, input, summary')].filter((each) => {
              const box = each.getBoundingClientRect();
              const inText = each.closest('.sentence, .small-print, .skip') || each.classList.contains('vh');
              return box.width && !inText && each.type !== 'radio' && (box.height < 43.5 || box.width < 24);
            }).map((each) => each.outerHTML.slice(0, 90))"""
        )
        assert small == []


def test_centimetres_are_typed_with_a_comma(workbench, leaf):
    page = leaf()
    page.goto(f"{workbench.address}/p/tidepool-keepsake-box")
    verdict(page)
    set_value(page, "parts.tray.base_length", "8,5 cm")
    settled(page, 2)
    assert read_project(text_of(workbench, "tidepool-keepsake-box")).parts[0].values.base_length.float_mm == 85.0


def test_a_value_left_open_is_worked_out_and_fixed(workbench, leaf):
    page = leaf()
    page.goto(f"{workbench.address}/p/tidepool-keepsake-box")
    verdict(page)
    page.click('button[data-phrase="parts.tray.wall_height"]')
    page.click("text=Leave it open")
    settled(page, 2)
    assert "as tall as it can be" in sentence(page)
    page.click("text=Fix it at")
    settled(page, 3)
    assert re.search(r"\d.* in tall", sentence(page))


def test_what_cannot_be_read_is_told_and_nothing_changes(workbench, leaf):
    page = leaf()
    page.goto(f"{workbench.address}/p/tidepool-keepsake-box")
    verdict(page)
    before = text_of(workbench, "tidepool-keepsake-box")
    set_value(page, "parts.tray.wall_height", "a banana")
    page.wait_for_selector(".slip .wrong:not(:empty)")
    assert page.input_value(".slip input.value") == "a banana"
    assert page.get_attribute(".slip input.value", "aria-invalid") == "true"
    assert text_of(workbench, "tidepool-keepsake-box") == before


# --- Two windows, and a crash -------------------------------------------------------------------------------


def test_two_windows_keep_both_changes_and_ask_about_the_same_one(workbench, leaf):
    one, other = leaf(), leaf()
    for page in (one, other):
        page.goto(f"{workbench.address}/p/tidepool-keepsake-box")
        verdict(page)
    set_value(one, "parts.tray.wall_height", "2 1/8")
    settled(one, 2)
    set_value(other, "parts.lid.lobes", "12")
    settled(other, 3)
    assert "2 1/8 in tall" in sentence(other) and "12 lobes" in sentence(other)
    # Both change the wall: the second is asked, and nothing is overwritten.
    set_value(one, "parts.tray.wall_height", "2")
    other.wait_for_timeout(100)
    settled(one, 4)
    set_value(other, "parts.tray.wall_height", "1 7/8")
    other.wait_for_selector(".clash")
    assert read_project(text_of(workbench, "tidepool-keepsake-box")).parts[0].values.wall_height.float_mm == 50.8
    other.click("text=Mine:")
    other.wait_for_function("() => document.querySelector('#sentence').innerText.includes('1 7/8 in')")


def test_killed_in_mid_edit_nothing_is_lost(workbench, leaf):
    page = leaf()
    page.goto(f"{workbench.address}/p/tidepool-keepsake-box")
    verdict(page)
    set_value(page, "parts.tray.wall_height", "2 1/8")
    settled(page, 2)
    workbench.kill()
    set_value(page, "parts.tray.wall_height", "2")
    page.wait_for_selector(".offline")
    workbench.start(workbench.port)
    page.click("text=Try again")
    page.wait_for_function("() => document.querySelector('#sentence').innerText.includes('2 in tall')")
    assert page.locator("#notes li").count() == 3


# --- Hostile ------------------------------------------------------------------------------------------------

HOSTILE = '<img src=x onerror="window.broken=1"> ../../etc "quoted" \'&amp;'


def test_a_name_is_only_ever_a_name(workbench, leaf):
    page = leaf()
    page.goto(workbench.address)
    page.fill("#begin-name", HOSTILE)
    page.get_by_role("button", name="Begin", exact=True).click()
    page.wait_for_url("**/p/**")
    verdict(page)
    assert page.input_value("#name") == HOSTILE
    page.goto(workbench.address)
    page.wait_for_selector(".card-name")
    assert HOSTILE in page.inner_text("#kept")
    assert page.evaluate("window.broken") is None
    inside = sorted(each.name for each in (workbench.folder / "projects").iterdir() if not each.name.startswith("."))
    assert all(re.fullmatch(r"[a-z0-9-]+", name) for name in inside)
    assert not (workbench.folder / "etc").exists()


@pytest.mark.parametrize(
    "told",
    [
        b"",
        b"\x89PNG\r\n\x1a\n" + b"\0" * 40,
        b'<?xml version="1.0"?><!DOCTYPE s [<!ENTITY a "b">]><svg xmlns="http://www.w3.org/2000/svg">&a;</svg>',
        b'<svg xmlns="http://www.w3.org/2000/svg"><script>window.broken=1</script><circle r="30"/></svg>',
        b"not a drawing at all",
    ],
    ids=["empty", "cut-off picture", "entities", "script", "words"],
)
def test_a_file_that_is_no_shape_is_refused_with_a_reason(workbench, leaf, told):
    page = leaf()
    page.goto(f"{workbench.address}/shapes")
    page.set_input_files("#file", {"name": "shape.svg", "mimeType": "image/svg+xml", "buffer": told})
    page.wait_for_selector("#trouble .wrong")
    assert len(page.inner_text("#trouble")) > 20
    assert page.evaluate("window.broken") is None


def test_a_drawing_is_kept_and_made_a_lid(workbench, leaf):
    page = leaf()
    page.goto(f"{workbench.address}/shapes")
    drawn = b'<svg xmlns="http://www.w3.org/2000/svg" width="140mm" height="140mm" viewBox="0 0 140 140">'
    drawn += b'<path d="M70 0L100 40L140 70L100 100L70 140L40 100L0 70L40 40Z"/></svg>'
    page.set_input_files("#file", {"name": "kite.svg", "mimeType": "image/svg+xml", "buffer": drawn})
    page.wait_for_selector("#shape-name")
    page.fill("#shape-name", "Kite")
    page.click("text=Keep it")
    page.wait_for_selector("#shelf h3")
    assert page.inner_text("#shelf h3") == "Kite"
    page.click('button[aria-label="Use it: Kite"]')
    page.wait_for_url("**/p/tidepool-keepsake-box")
    verdict(page)
    assert "Kite" in sentence(page)


# --- Everyone can use it ------------------------------------------------------------------------------------


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_rule_of_accessibility_is_broken(workbench, leaf, scheme):
    page = leaf(color_scheme=scheme, reduced_motion="reduce")
    broken = {}
    for path in ("/", "/p/tidepool-keepsake-box", "/p/tidepool-keepsake-box/notes", "/shapes", "/share"):
        page.goto(workbench.address + path)
        page.wait_for_load_state("networkidle")
        if path.endswith("box"):
            verdict(page)
            page.wait_for_selector(".step-numbers button")
            page.click('button[data-phrase="parts.lid.shape"]')
            page.evaluate("document.querySelectorAll('details').forEach((each) => { each.open = true; })")
        found = Axe().run(page, options=RULES).response["violations"]
        broken |= {f"{path} {each['id']}": [node["html"][:100] for node in each["nodes"]][:3] for each in found}
    assert broken == {}


def test_nothing_is_asked_of_any_other_machine(workbench, leaf):
    page = leaf()
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    for path in ("/", "/p/tidepool-keepsake-box", "/shapes", "/share"):
        page.goto(workbench.address + path)
        page.wait_for_load_state("networkidle")
    assert asked and all(url.startswith((workbench.address, "data:", "blob:")) for url in asked)
