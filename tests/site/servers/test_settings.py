"""What nginx and Apache say with each file, at the root of a host and under a path."""

from __future__ import annotations

import gzip
import http.client
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from build_tools.headers import ASK_AGAIN, KEEP, NO_GUESSING, SECURITY_HEADERS, TYPES
from build_tools.placing import files_of, is_hashed
from tests.site.servers.standing import HOST, MACHINE, PLACES, SERVERS, Standing, standing, trusting

# They need programs that the quick run does not ask for.
pytestmark = pytest.mark.slow

EVERYWHERE = {**SECURITY_HEADERS, **NO_GUESSING}
BOTH = pytest.mark.parametrize("place", PLACES)


class Asking:
    """Asks one place of a server over one connection."""

    def __init__(self, made: Standing, place: str, scheme: str = "http") -> None:
        port = made.ports[place, scheme]
        self.prefix = PLACES[place]
        self.connection: http.client.HTTPConnection = (
            http.client.HTTPSConnection(MACHINE, port, timeout=5, context=trusting(made.certificate))
            if scheme == "https"
            else http.client.HTTPConnection(MACHINE, port, timeout=5)
        )

    def __call__(self, name: str, **headers: str) -> tuple[http.client.HTTPResponse, bytes]:
        """Ask for a file of the site, or for anything with a slash in front."""
        path = name if name.startswith("/") else self.prefix + name
        named = {key.replace("_", "-"): value for key, value in headers.items()}
        self.connection.request("GET", path, headers={"Host": HOST, **named})
        answer = self.connection.getresponse()
        return answer, answer.read()


Asker = Callable[..., Asking]


@pytest.fixture
def asking() -> Iterator[Asker]:
    opened: list[Asking] = []

    def ask(made: Standing, place: str, scheme: str = "http") -> Asking:
        opened.append(Asking(made, place, scheme))
        return opened[-1]

    yield ask
    for one in opened:
        one.connection.close()


@pytest.fixture(scope="module", params=SERVERS)
def made(request: pytest.FixtureRequest, built_site: Path) -> Iterator[Standing]:
    with standing(request.param, built_site) as made:
        yield made


def samples(site: Path) -> list[str]:
    """Of each folder and kind the first file, and every script that may be a worker's."""
    found: dict[tuple[str, str], str] = {}
    names = [name for name in sorted(files_of(site)) if Path(name).suffix in TYPES]
    for name in names:
        found.setdefault((name.partition("/")[0], Path(name).suffix), name)
    return sorted({*found.values(), *(name for name in names if name.endswith(".js"))})


@BOTH
@pytest.mark.parametrize("scheme", ["http", "https"])
def test_every_kind_of_file_comes_with_its_type_its_keeping_and_the_security_headers(
    scheme: str, place: str, made: Standing, asking: Asker
) -> None:
    ask = asking(made, place, scheme)
    names = samples(made.site)
    assert {Path(name).suffix for name in names} >= {".html", ".css", ".js", ".json", ".bin", ".webmanifest", ".png"}
    assert {"service-worker.js", "index.html"} <= set(names)
    for name in names:
        answer, body = ask(name)
        assert (answer.status, answer.headers["Content-Type"]) == (200, TYPES[Path(name).suffix]), name
        assert answer.headers.get_all("Cache-Control") == [KEEP if is_hashed(name) else ASK_AGAIN], name
        assert {header: answer.headers.get_all(header) for header in EVERYWHERE} == {
            header: [value] for header, value in EVERYWHERE.items()
        }, name
        assert body == (made.site / name).read_bytes(), name


@BOTH
def test_packed_texts_are_sent_as_they_lie_there(place: str, made: Standing, asking: Asker) -> None:
    """To whoever takes them, with the type of what is in them; stores on the way are told that there are two."""
    ask = asking(made, place)
    for name in samples(made.site):
        answer, body = ask(name, Accept_Encoding="gzip, deflate, br")
        twin = made.site / f"{name}.gz"
        assert (answer.status, answer.headers["Content-Type"]) == (200, TYPES[Path(name).suffix]), name
        assert answer.headers.get_all("Cache-Control") == [KEEP if is_hashed(name) else ASK_AGAIN], name
        assert answer.headers["Content-Security-Policy"] == EVERYWHERE["Content-Security-Policy"], name
        if twin.is_file():
            assert answer.headers.get_all("Content-Encoding") == ["gzip"], name
            assert "Accept-Encoding" in answer.headers["Vary"], name
            assert body == twin.read_bytes(), name
            assert "Accept-Encoding" in ask(name)[0].headers["Vary"], name
        elif name.endswith(".bin"):
            assert answer.headers["Content-Encoding"] is None, "the page unpacks its engines itself"
            assert body == (made.site / name).read_bytes(), name


@BOTH
@pytest.mark.parametrize("takes", ["gzip", "identity"])
def test_what_is_the_same_is_not_sent_again(takes: str, place: str, made: Standing, asking: Asker) -> None:
    ask = asking(made, place)
    for name in ("index.html", "service-worker.js"):
        first, _ = ask(name, Accept_Encoding=takes)
        for header, value in (("If_None_Match", "ETag"), ("If_Modified_Since", "Last-Modified")):
            again, body = ask(name, Accept_Encoding=takes, **{header: first.headers[value]})
            assert (again.status, body) == (304, b""), (name, header)
            assert again.headers["Cache-Control"] == ASK_AGAIN, (name, header)


@BOTH
def test_the_front_page_comes_for_a_bare_address_and_for_a_folder(place: str, made: Standing, asking: Asker) -> None:
    ask = asking(made, place)
    for folder in ("", "findings/"):
        for takes in ("gzip", "identity"):
            answer, body = ask(folder, Accept_Encoding=takes)
            page = (made.site / folder / "index.html").read_bytes()
            assert (answer.status, answer.headers["Cache-Control"]) == (200, ASK_AGAIN)
            assert (gzip.decompress(body) if takes == "gzip" else body) == page
    for folder in ("findings", *([PLACES[place].rstrip("/")] if place == "sub" else [])):
        answer, _ = ask(folder)
        assert answer.status == 301
        assert answer.headers["Location"].endswith(f"{folder}/")


@BOTH
@pytest.mark.parametrize("name", ["nowhere.html", "engine/micropython.0123456789abcdef.js", "deep/er/index.html"])
def test_what_is_missing_is_said_to_be_and_not_remembered(name: str, place: str, made: Standing, asking: Asker) -> None:
    """A copy that is not finished lacks files for a while: no browser may hold them missing for a year."""
    answer, _ = asking(made, place)(name)
    assert answer.status == 404
    assert "max-age" not in (answer.headers["Cache-Control"] or "")
    assert {header: answer.headers[header] for header in EVERYWHERE} == EVERYWHERE


@BOTH
def test_the_publishers_own_hidden_files_are_given_to_nobody(place: str, made: Standing, asking: Asker) -> None:
    (made.site / ".htaccess").touch()
    answer, _ = asking(made, place)(".htaccess")
    assert answer.status in (403, 404)


@BOTH
def test_a_text_without_its_packed_twin_comes_all_the_same(place: str, made: Standing, asking: Asker) -> None:
    name = "about/sources.html"
    twin = made.site / f"{name}.gz"
    packed = twin.read_bytes()
    twin.unlink()
    try:
        answer, body = asking(made, place)(name, Accept_Encoding="gzip")
    finally:
        twin.write_bytes(packed)
    assert answer.status == 200
    assert answer.headers["Content-Type"].startswith("text/html")
    whole = gzip.decompress(body) if answer.headers["Content-Encoding"] == "gzip" else body
    assert whole == (made.site / name).read_bytes()


def test_under_a_path_nothing_else_is_given(made: Standing, asking: Asker) -> None:
    assert asking(made, "sub")("/index.html")[0].status in (403, 404)


@pytest.mark.parametrize("modules", [("headers",), ("rewrite",), ()], ids=["headers", "rewrite", "neither"])
def test_apache_works_without_the_modules_for_headers_and_rewriting(
    modules: tuple[str, ...], built_site: Path, asking: Asker
) -> None:
    with standing("apache", built_site, modules) as made:
        for place in PLACES:
            for name in ("index.html", "service-worker.js"):
                answer, body = asking(made, place)(name, Accept_Encoding="gzip")
                whole = gzip.decompress(body) if answer.headers["Content-Encoding"] == "gzip" else body
                assert (answer.status, whole) == (200, (made.site / name).read_bytes())
                assert answer.headers["Content-Type"] == TYPES[Path(name).suffix]
                assert (answer.headers["Content-Security-Policy"] is not None) == ("headers" in modules)
                assert answer.headers["Content-Encoding"] == "gzip"
