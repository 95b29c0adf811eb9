"""The portable edition as files: whole, one engine, the same bytes each time; tests/site/browsers opens it."""

from __future__ import annotations

import base64
import json
import re
import zipfile
from contextlib import nullcontext
from pathlib import Path

import pytest

from build_tools import __version__, building, cli, packing, portable
from build_tools.environment import Advice
from build_tools.headers import SECURITY_HEADERS
from build_tools.placing import files_of

LIST = re.compile(r'<script type="application/json" id="[^"]+">(.*?)</script>', re.DOTALL)


@pytest.fixture(scope="module")
def folder(built_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    made, _ = packing.pack_portable(built_site, tmp_path_factory.mktemp("packed"))
    return made


def contents(folder: Path) -> dict[str, bytes]:
    return {name: (folder / name).read_bytes() for name in files_of(folder)}


def test_two_packings_are_the_same_to_the_byte(built_site: Path, folder: Path, tmp_path: Path) -> None:
    again, zipped = packing.pack_portable(built_site, tmp_path)
    assert contents(again) == contents(folder)
    assert zipped.read_bytes() == folder.with_name(f"{folder.name}.zip").read_bytes()


def test_the_zip_unpacks_to_the_same_files_in_one_folder(folder: Path, tmp_path: Path) -> None:
    with zipfile.ZipFile(folder.with_name(f"{folder.name}.zip")) as archive:
        archive.extractall(tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == [f"pulse-ruler-{__version__}-portable"]
    assert contents(tmp_path / folder.name) == contents(folder)


def test_a_site_is_packed_as_it_is(built_site: Path, tmp_path: Path) -> None:
    with zipfile.ZipFile(packing.pack_site(built_site, tmp_path)) as archive:
        archive.extractall(tmp_path / "out")
    assert contents(tmp_path / "out" / f"pulse-ruler-{__version__}") == contents(built_site)


def test_every_page_of_the_site_is_in_it(built_site: Path, folder: Path) -> None:
    pages = {name for name in files_of(built_site) if name.endswith(".html")}
    assert pages <= files_of(folder)


def test_every_file_that_a_list_names_is_carried_and_the_second_engine_is_not(folder: Path) -> None:
    """Whatever the page computes: nothing here knows the calculators by name."""
    lists = 0
    for page in folder.rglob("*.html"):
        for text in LIST.findall(page.read_text(encoding="utf-8")):
            listed = json.loads(text)
            if "engines" not in listed:
                continue
            lists += 1
            [engine] = listed["engines"]
            assert engine["name"] == "MicroPython"
            for file in (*engine["engine"].values(), *engine["packs"]):
                assert (folder / "engine" / f"{file['name']}.js").is_file()
            assert (folder / "engine" / f"{engine['script']}.js").is_file()
    assert lists > 10
    assert not [name for name in files_of(folder) if "pyodide" in name or "python-library" in name]
    compiled = {name.split("-compiled.")[0] for name in files_of(folder) if "-compiled." in name}
    sources = {name.split(".")[0] for name in files_of(folder) if name.endswith(".bin.js") and "-compiled." not in name}
    assert not compiled & sources, "formulas as the second engine reads them"


def test_nothing_is_left_that_a_page_would_have_to_fetch(folder: Path) -> None:
    for name in files_of(folder):
        assert not name.endswith((".bin", ".json", ".gz", ".webmanifest")), name
        assert "service-worker" not in name


def test_what_is_carried_is_what_the_site_holds(built_site: Path, folder: Path) -> None:
    index = (folder / "search" / "index.json.js").read_text(encoding="utf-8")
    found = re.fullmatch(r'pulseRulerCarries\("search/index\.json", "([A-Za-z0-9+/=]+)"\);\n', index)
    assert found
    assert base64.b64decode(found.group(1)) == (built_site / "search" / "index.json").read_bytes()


def test_each_page_carries_a_policy_as_strict_as_the_servers(folder: Path) -> None:
    """What a server says of the whole, but who may frame a page; and nothing written into a page may run."""
    on_server = dict(rule.split(" ", 1) for rule in SECURITY_HEADERS["Content-Security-Policy"].split("; "))
    assert portable.POLICY.keys() == on_server.keys() - {"frame-ancestors"}
    for name, rule in portable.POLICY.items():
        allowed = set(on_server[name].split()) | {"file:", "'none'"}
        assert set(rule.split()) <= (allowed if name != "worker-src" else {"blob:"}), name
    for page in folder.rglob("*.html"):
        text = page.read_text(encoding="utf-8")
        start = text.index('<meta charset="utf-8"><meta http-equiv="Content-Security-Policy"')
        assert "<script" not in text[:start], page
        assert 'rel="preload"' not in text and 'rel="manifest"' not in text, page


def test_no_link_leads_to_a_folder(folder: Path) -> None:
    """A server would show its index page; a disk shows a list of files."""
    for page in folder.rglob("*.html"):
        for address in re.findall(r'href="([^"#?]*)', page.read_text(encoding="utf-8")):
            if address and ":" not in address:
                assert (page.parent / address).resolve().is_file(), (page.name, address)


def test_an_earlier_one_is_replaced_and_another_folder_is_not(built_site: Path, tmp_path: Path) -> None:
    folder, _ = packing.pack_portable(built_site, tmp_path)
    (folder / "old.html").touch()
    packing.pack_portable(built_site, tmp_path)
    assert not (folder / "old.html").exists()
    (folder / portable.READ_ME).unlink()
    with pytest.raises(Advice, match="something else"):
        packing.pack_portable(built_site, tmp_path)


def test_the_command_says_what_it_made_and_what_to_do_with_it(
    built_site: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    made = building.Rendered(built_site, checks=1, anew=False)
    monkeypatch.setattr(building, "rendered", lambda *_, **__: nullcontext(made))
    assert cli.main(["pack", "--portable", "--to", str(tmp_path / "new" / "folder")]) == 0
    told = capsys.readouterr().out
    for name in (f"pulse-ruler-{__version__}-portable", f"pulse-ruler-{__version__}-portable.zip"):
        assert re.search(rf"(?m){re.escape(name)} \(\d+\.\d MB\)$", told)
        assert (tmp_path / "new" / "folder" / name).exists()
    assert "double-click" in told


def test_what_does_not_build_is_not_packed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def rendered(*_: object, **__: object) -> None:
        raise building.BuildFailed("content/x.md:1: a fault")

    monkeypatch.setattr(building, "rendered", rendered)
    assert cli.main(["pack", "--to", str(tmp_path)]) == 1
    assert "a fault\nNothing was packed." in capsys.readouterr().err
    assert not list(tmp_path.iterdir())


def test_a_page_that_is_built_in_another_way_stops_it(tmp_path: Path) -> None:
    site = tmp_path / "site"
    site.mkdir()
    (site / "index.html").write_text("<html><head></head></html>", encoding="utf-8")
    with pytest.raises(ValueError, match=r"index\.html holds 0 times"):
        portable.write(site, tmp_path / "made")
