"""The workbench in a browser: hostile names, files that are not what they say, addresses that lead nowhere."""

import re

import pytest

from tests.browser.test_workbench import verdict

HOSTILE = '<img src=x onerror="window.broken=1"> ../../etc "quoted" \'&amp;'


def test_a_name_is_only_ever_a_name(workbench, leaf):
    page = leaf()
    page.goto(workbench.address)
    page.fill("#begin-name", HOSTILE)
    page.get_by_role("button", name="Begin", exact=True).click()
    page.wait_for_url("**/p/**")
    verdict(page)
    project = page.url.rpartition("/")[2]
    assert page.input_value("#name") == HOSTILE
    for path in ("/", f"/p/{project}/notes", f"/p/{project}/make", f"/p/{project}/resize", "/shapes"):
        page.goto(workbench.address + path)
        page.wait_for_load_state("networkidle")
        assert HOSTILE in page.inner_text("main") or path == "/shapes"
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


@pytest.mark.parametrize("told", [b"", b"PK\x03\x04 no zip", b"format = 1\nname = [", b"\xff\xfe" * 50], ids=str)
def test_a_file_that_is_no_project_is_refused_with_a_reason(workbench, leaf, told):
    page = leaf()
    page.goto(workbench.address)
    before = page.locator(".card").count()
    page.set_input_files("#bring", {"name": "box.toml", "mimeType": "application/toml", "buffer": told})
    page.wait_for_selector("#trouble .wrong")
    page.reload()
    assert page.locator(".card").count() == before


def test_an_address_that_leads_nowhere_says_so_and_leads_home(workbench, leaf):
    page = leaf()
    for path in ("/p/no-such-box", "/p/..%2f..%2fetc", "/nowhere", "/p/no-such-box/make"):
        answer = page.goto(workbench.address + path)
        assert answer.status in (404, 422), path
        assert page.get_by_role("link", name="My projects").count() >= 1
        assert "Traceback" not in page.content()
