"""The local server: right types, the security headers, a sub-path, and nothing outside the site."""

from __future__ import annotations

import http.client
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from build_tools import server
from build_tools.headers import SECURITY_HEADERS


def ask(address: str, path: str = "", method: str = "GET", **headers: str) -> tuple[http.client.HTTPResponse, bytes]:
    parts = urlsplit(address)
    connection = http.client.HTTPConnection(parts.hostname or "", parts.port, timeout=5)
    try:
        connection.request(method, parts.path + path, headers=headers)
        response = connection.getresponse()
        return response, response.read()
    finally:
        connection.close()


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("server") / "site"
    (folder / "findings").mkdir(parents=True)
    (folder / "index.html").write_text("<body>Front page, 8 cmH₂O</body>", encoding="utf-8")
    (folder / "404.html").write_text("<body>Not here</body>", encoding="utf-8")
    (folder / "findings" / "index.html").write_text("<body>Findings</body>", encoding="utf-8")
    (folder / "engine.0123456789ab.bin").write_bytes(b"\0engine")
    (folder / ".hidden.txt").write_text("hidden", encoding="utf-8")
    for suffix in server.TYPES:
        (folder / f"file{suffix}").write_text("x", encoding="utf-8")
    (folder.parent / "outside.txt").write_text("outside", encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def address(site: Path) -> Iterator[str]:
    with server.running(site) as address:
        yield address


def test_the_front_page_comes_for_the_bare_address(address: str) -> None:
    response, body = ask(address)
    assert (response.status, body.decode()) == (200, "<body>Front page, 8 cmH₂O</body>")


@pytest.mark.parametrize(("suffix", "content_type"), sorted(server.TYPES.items()))
def test_every_kind_of_file_of_the_site_has_its_type(address: str, suffix: str, content_type: str) -> None:
    response, _ = ask(address, f"file{suffix}")
    assert response.getheader("Content-Type") == content_type


@pytest.mark.parametrize("path", ["", "file.js", "engine.0123456789ab.bin", "missing.html"])
def test_every_answer_carries_the_security_headers(address: str, path: str) -> None:
    response, _ = ask(address, path)
    assert {name: response.getheader(name) for name in SECURITY_HEADERS} == SECURITY_HEADERS


def test_a_missing_page_gives_the_page_for_it(address: str) -> None:
    response, body = ask(address, "missing.html")
    assert (response.status, body) == (404, b"<body>Not here</body>")


@pytest.mark.parametrize(
    "path",
    [
        "../outside.txt",
        "%2e%2e/outside.txt",
        "findings/../../outside.txt",
        "..%5coutside.txt",
        "{absolute}",
        "%2f{absolute}",
        ".hidden.txt",
        "%00",
    ],
)
def test_nothing_outside_the_site_and_nothing_hidden_is_given(address: str, site: Path, path: str) -> None:
    outside = site.parent / "outside.txt"
    assert outside.is_file()
    response, body = ask(address, path.format(absolute=outside.as_posix()))
    assert (response.status, body) == (404, b"<body>Not here</body>")


def test_a_folder_gives_its_index(address: str) -> None:
    _, body = ask(address, "findings/")
    assert body == b"<body>Findings</body>"


def test_head_gives_the_size_and_no_body(address: str) -> None:
    response, body = ask(address, "file.js", "HEAD")
    assert (response.status, response.getheader("Content-Length"), body) == (200, "1", b"")


def test_hashed_files_are_kept_and_others_asked_for_again(address: str) -> None:
    hashed, _ = ask(address, "engine.0123456789ab.bin")
    page, _ = ask(address, "index.html")
    assert "immutable" in (hashed.getheader("Cache-Control") or "")
    assert page.getheader("Cache-Control") == "no-cache"
    again, body = ask(address, "index.html", **{"If-None-Match": page.getheader("ETag") or ""})
    assert (again.status, body) == (304, b"")


@pytest.mark.parametrize(
    ("offered", "encoding", "content"),
    [
        ("gzip, deflate, br", "gzip", b"packed"),
        ("br;q=1.0, gzip;q=0.8", "gzip", b"packed"),
        ("identity", None, b"<body>plain</body>"),
        ("", None, b"<body>plain</body>"),
    ],
)
def test_a_compressed_twin_is_sent_to_who_takes_it(
    tmp_path: Path, offered: str, encoding: str | None, content: bytes
) -> None:
    (tmp_path / "index.html").write_text("<body>plain</body>", encoding="utf-8")
    (tmp_path / "index.html.gz").write_bytes(b"packed")
    with server.running(tmp_path) as address:
        response, body = ask(address, **{"Accept-Encoding": offered})
    assert (response.getheader("Content-Encoding"), body) == (encoding, content)
    assert response.getheader("Vary") == "Accept-Encoding"
    assert response.getheader("Content-Type") == "text/html; charset=utf-8"


def test_the_site_stands_under_a_sub_path_and_nowhere_else(site: Path) -> None:
    with server.running(site, prefix="/ward/handbook/") as address:
        assert address.endswith("/ward/handbook/")
        assert ask(address, "file.js")[0].status == 200
        assert ask(address.removesuffix("/ward/handbook/"), "/file.js")[0].status == 404
        bare, _ = ask(address.removesuffix("/"))
        assert (bare.status, bare.getheader("Location")) == (301, "/ward/handbook/")


def test_before_the_first_build_a_page_waits_for_it(tmp_path: Path) -> None:
    live = server.SiteServer(tmp_path, live=lambda: "0")
    with server.in_background(live):
        response, body = ask(live.address)
    assert response.status == 404
    assert b"There is no such page." in body
    assert b"live-reload.js" in body


def test_a_prefix_without_its_slashes_is_refused(site: Path) -> None:
    with pytest.raises(ValueError, match="begin and end with a slash"), server.running(site, prefix="ward"):
        pass


def test_a_server_with_wrong_types_labels_all_but_pages_as_plain_text(site: Path) -> None:
    with server.running(site, wrong_types=True) as address:
        assert ask(address, "file.js")[0].getheader("Content-Type") == "text/plain"
        assert ask(address, "file.bin")[0].getheader("Content-Type") == "text/plain"
        assert ask(address)[0].getheader("Content-Type") == "text/html; charset=utf-8"


def test_pages_reload_themselves_only_while_writing(address: str, site: Path) -> None:
    builds = ["0"]
    live = server.SiteServer(site, live=lambda: builds[0])
    with server.in_background(live):
        assert b'<script src="/live-reload.js" defer></script></body>' in ask(live.address)[1]
        assert b"location.reload" in ask(live.address, "live-reload.js")[1]
        assert ask(live.address, "live-reload.txt")[1] == b"0"
        builds[0] = "1"
        assert ask(live.address, "live-reload.txt")[1] == b"1"
    assert b"live-reload" not in ask(address)[1]
    assert ask(address, "live-reload.js")[0].status == 404


def test_while_writing_nothing_is_kept_on_devices(site: Path) -> None:
    """A page kept by a browser would hide every change: the worker that keeps is taken back."""
    live = server.SiteServer(site, live=lambda: "0")
    with server.in_background(live):
        response, body = ask(live.address, "service-worker.js")
    assert response.getheader("Content-Type") == server.TYPES[".js"]
    assert b"registration.unregister()" in body
