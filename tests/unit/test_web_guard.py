"""Who the workbench answers: this machine and who was given the code; never another page in the browser."""

import asyncio
import json
from concurrent.futures import ThreadPoolExecutor

import pytest
from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.responses import PlainTextResponse
from starlette.routing import Route

from foldproof.web import share_routes
from foldproof.web.app import Bench
from foldproof.web.guard import COOKIE, HEADERS, MOST_TRIES, Guard, Sharing, new_code
from foldproof.web.settings import Settings

PORT = 8317
OWN, NEIGHBOUR = f"127.0.0.1:{PORT}", f"192.0.2.7:{PORT}"  # the second an address of documentation (RFC 5737)
HERE, THERE = "127.0.0.1", "192.0.2.20"


class Network:
    """A network that is always there."""

    def begin(self):
        return (NEIGHBOUR,)

    def end(self):
        pass


class Asked:
    """An answer: its status, its headers in small letters, and what it says."""

    def __init__(self, status, headers, body):
        self.status, self.body = status, body
        self.headers = {key.decode().lower(): value.decode() for key, value in headers}

    @property
    def field(self):
        return json.loads(self.body)["problems"][0]["field"]


@pytest.fixture
def sharing():
    return Sharing()


@pytest.fixture
def ask(tmp_path, sharing):
    """Asks an application that has the guard, one page of its own that can be changed, and the pages of sharing."""

    async def own(request):
        return PlainTextResponse("ours")

    settings = Settings(projects=tmp_path, shelf=tmp_path, port=PORT)
    bench = Bench(settings=settings, works=None, sharing=sharing, network=Network())
    app = Starlette(
        routes=[
            Route("/ours", own, methods=["GET", "POST"]),
            Route("/static/{name}", own),
            *share_routes.routes(bench),
        ],
        middleware=[Middleware(Guard, own_hosts=settings.own_hosts, sharing=sharing)],
    )

    def call(path, method="GET", *, host=OWN, client=HERE, body=b"", **headers):
        told = {"host": host} | {key.replace("_", "-"): value for key, value in headers.items()}
        scope = {
            "type": "http",
            "asgi": {"version": "3.0"},
            "http_version": "1.1",
            "method": method,
            "scheme": "http",
            "path": path,
            "raw_path": path.encode(),
            "query_string": b"",
            "root_path": "",
            "headers": [(key.encode(), value.encode()) for key, value in told.items()],
            "client": (client, 50000),
            "server": (HERE, PORT),
        }
        sent = []

        async def receive():
            return {"type": "http.request", "body": body, "more_body": False}

        async def send(message):
            sent.append(message)

        # A thread of its own: a browser that another test holds open has this thread's loop.
        with ThreadPoolExecutor(1) as thread:
            thread.submit(asyncio.run, app(scope, receive, send)).result()
        return Asked(sent[0]["status"], sent[0]["headers"], b"".join(each.get("body", b"") for each in sent[1:]))

    return call


def post(ask, path, *, host=OWN, body=b"{}", **more):
    """As a page of ours does."""
    told = {"origin": f"http://{host}", "content_type": "application/json"} | more
    return ask(path, "POST", host=host, body=body, **told)


@pytest.mark.parametrize("name", [OWN, f"localhost:{PORT}", f"LOCALHOST:{PORT}", f"[::1]:{PORT}"])
def test_this_machine_is_answered_under_its_own_names(ask, name):
    assert ask("/ours", host=name).status == 200


@pytest.mark.parametrize(
    "name",
    ["box.example", f"box.example:{PORT}", "127.0.0.1", f"127.0.0.1:{PORT + 1}", NEIGHBOUR, f"127.0.0.1.:{PORT}", ""],
)
def test_a_name_that_somebody_points_at_this_machine_is_not_answered(ask, name):
    for method in ("GET", "POST"):
        told = ask("/ours", method, host=name, origin=f"http://{name}")
        assert (told.status, told.field) == (421, "host")


@pytest.mark.parametrize(
    "origin",
    ["http://box.example", f"https://{OWN}", "null", f"http://localhost:{PORT}", f"http://127.0.0.1:{PORT + 1}", ""],
)
def test_what_changes_anything_comes_from_a_page_of_ours(ask, origin):
    told = ask("/ours", "POST", origin=origin)
    assert (told.status, told.field) == (403, "origin")


def test_a_change_without_an_origin_is_refused_and_a_look_needs_none(ask):
    assert ask("/ours", "POST").status == 403
    assert ask("/ours").status == 200
    assert post(ask, "/ours").status == 200


@pytest.mark.parametrize("site", ["cross-site", "same-site", "none"])
def test_a_change_that_the_browser_calls_foreign_is_refused(ask, site):
    assert post(ask, "/ours", sec_fetch_site=site).status == 403
    assert post(ask, "/ours", sec_fetch_site="same-origin").status == 200


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"])
def test_no_other_way_of_asking_goes_past_the_origin(ask, method):
    assert ask("/ours", method).status == 403


@pytest.mark.parametrize("kind", ["application/x-www-form-urlencoded", "multipart/form-data; boundary=b", "text/plain"])
def test_what_a_form_of_another_site_can_send_is_no_request_of_ours(ask, kind):
    for path in ("/ours", "/join/in"):
        told = post(ask, path, content_type=kind, body=b"code=12345678")
        assert (told.status, told.field) == (403, "request")


def test_every_answer_has_the_headers_that_keep_a_page_to_itself(ask, sharing):
    sharing.begin((NEIGHBOUR,))
    answers = [
        ask("/ours"),
        ask("/nowhere"),
        ask("/ours", host="box.example"),
        ask("/ours", "POST"),
        ask("/ours", host=NEIGHBOUR, client=THERE, accept="text/html"),
        ask("/ours", host=NEIGHBOUR, client=THERE),
    ]
    assert [each.status for each in answers] == [200, 404, 421, 403, 303, 403]
    for each in answers:
        for name, value in HEADERS:
            assert each.headers[name] == value
        policy = each.headers["content-security-policy"]
        assert "default-src 'none'" in policy and "unsafe" not in policy and "frame-ancestors 'none'" in policy


def test_another_device_is_not_answered_until_it_is_shared_with(ask):
    assert ask("/ours", host=NEIGHBOUR, client=THERE).status == 421
    # Not even under this machine's own name, which another device cannot mean.
    assert ask("/ours", client=THERE).status == 403


def test_another_device_gives_the_code_once_and_is_let_in(ask, sharing):
    sharing.begin((NEIGHBOUR,))
    away = {"host": NEIGHBOUR, "client": THERE}
    sent = ask("/ours", accept="text/html", **away)
    assert (sent.status, sent.headers["location"]) == (303, "/join")
    assert ask("/join", accept="text/html", **away).status == 200
    assert ask("/static/page.css", **away).status == 200
    code = sharing.code
    told = post(ask, "/join/in", body=json.dumps({"code": f"{code[:4]} {code[4:]}"}).encode(), **away)
    assert told.status == 200
    cookie = told.headers["set-cookie"]
    assert "HttpOnly" in cookie and "SameSite=strict" in cookie
    name, _, value = cookie.partition(";")[0].partition("=")
    assert name == COOKIE and len(value) >= 32
    assert ask("/ours", cookie=f"{COOKIE}={value}", **away).status == 200
    assert ask("/ours", cookie=f"{COOKIE}={value}x", **away).status == 403
    assert ask("/ours", cookie=f"{COOKIE}=", **away).status == 403
    # The code that was used lets nobody in again.
    assert sharing.code != code
    with pytest.raises(Exception, match="code"):
        post(ask, "/join/in", body=json.dumps({"code": code}).encode(), **away)
    sharing.end()
    assert ask("/ours", cookie=f"{COOKIE}={value}", **away).status == 421, "nobody is in once sharing has ended"


def test_a_guest_cannot_begin_or_end_sharing_or_see_the_code(ask, sharing):
    sharing.begin((NEIGHBOUR,))
    guest = sharing.let_in(sharing.code)
    away = {"host": NEIGHBOUR, "client": THERE, "cookie": f"{COOKIE}={guest}"}
    assert sharing.code.encode() not in ask("/share", accept="text/html", **away).body
    assert json.loads(ask("/api/share", **away).body)["code"] == ""
    for path in ("/api/share/start", "/api/share/stop"):
        with pytest.raises(Exception, match="sharing"):
            post(ask, path, **away)
    assert sharing.open
    assert sharing.code.encode() in ask("/api/share").body


def test_wrong_codes_end_sharing_and_the_maker_is_told(sharing):
    sharing.begin((NEIGHBOUR,))
    wrong = "0" * 8 if sharing.code != "0" * 8 else "1" * 8
    for _ in range(MOST_TRIES - 1):
        assert sharing.let_in(wrong) is None
    assert sharing.open
    assert sharing.let_in("\uff11" * 8) is None, "digits of another script are no code, and no fault"
    assert not sharing.open and sharing.ended and not sharing.guests
    assert sharing.let_in("") is None, "an ended sharing has no code, and nothing is none"
    sharing.begin((NEIGHBOUR,))
    assert sharing.open and not sharing.ended and sharing.tries == 0


def test_a_right_code_forgives_the_wrong_ones_before_it(sharing):
    sharing.begin((NEIGHBOUR,))
    sharing.let_in("no code")
    assert sharing.let_in(sharing.code) and sharing.tries == 0


def test_codes_are_eight_digits_and_differ():
    codes = {new_code() for _ in range(50)}
    assert all(len(code) == 8 and code.isdigit() for code in codes)
    assert len(codes) > 40
