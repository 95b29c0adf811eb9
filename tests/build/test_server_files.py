"""Settings for web servers: made from the one list of headers and types, and out of harm's way."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import pytest

from build_tools import server_files
from build_tools.headers import NO_GUESSING, SECURITY_HEADERS, TYPES
from build_tools.placing import SERVER_FILES, files_of, is_hashed

NAMES = ["index.html", "assets/icon.svg", "assets/site.0123456789abcdef.css", "engine/core.0123456789abcdef.bin"]


@pytest.fixture
def settings(tmp_path: Path) -> Path:
    for name in NAMES:
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).touch()
    server_files.write(tmp_path)
    return tmp_path / SERVER_FILES


@pytest.mark.parametrize("name", ["nginx.conf", "apache.conf", "web.config"])
def test_each_server_is_told_every_header_and_type(settings: Path, name: str) -> None:
    text = (settings / name).read_text(encoding="utf-8")
    for header, value in {**SECURITY_HEADERS, **NO_GUESSING}.items():
        assert re.search(rf'{header}"?,? (value=)?"{re.escape(value)}"', text), header
    for suffix, kind in TYPES.items():
        kind = re.escape(kind)
        assert re.search(rf'"{kind}" \.?{suffix[1:]}\b|"\{suffix}" mimeType="{kind}"', text), suffix
    assert not re.search(r"^\s*@|@\w", text, re.MULTILINE), "something was not filled in"


@pytest.mark.parametrize("name", ["nginx.conf", "apache.conf", "web.config"])
def test_https_alone_is_the_publishers_decision(settings: Path, name: str) -> None:
    text = (settings / name).read_text(encoding="utf-8")
    in_force = re.sub(r"<!--.*?-->", "", text, flags=re.DOTALL) if name == "web.config" else re.sub(r"#.*", "", text)
    assert "Strict-Transport-Security" in text
    assert "Strict-Transport-Security" not in in_force


def test_what_nobody_gives_is_named() -> None:
    with pytest.raises(KeyError, match="unknown"):
        server_files.filled("@unknown", server_files.rows_for(NAMES))


class TestIIS:
    """It can't be run here: what it would read is held against what it is meant to say."""

    @pytest.fixture
    def read(self, settings: Path) -> ElementTree.Element:
        return ElementTree.parse(settings / "web.config").getroot()

    def test_says_that_it_was_not_run(self, settings: Path) -> None:
        assert "NOT RUN" in (settings / "web.config").read_text(encoding="utf-8")

    def test_takes_away_each_setting_before_it_gives_it(self, read: ElementTree.Element) -> None:
        """A setting that stands already, given again, would make the whole site an error."""
        for path, key in (("staticContent", "fileExtension"), ("httpProtocol/customHeaders", "name")):
            rows = read.findall(f"system.webServer/{path}/*")
            found = [(row.tag, row.get(key)) for row in rows if row.get(key) is not None]
            assert found
            assert all(tag == "remove" for tag, _ in found[::2])
            assert all(tag in ("mimeMap", "add") for tag, _ in found[1::2])
            assert [name for _, name in found[::2]] == [name for _, name in found[1::2]]

    def test_keeps_what_carries_its_hash_and_nothing_else(self, read: ElementTree.Element) -> None:
        modes = {}
        for place in read.findall("location"):
            [cache] = place.findall("system.webServer/staticContent/clientCache")
            modes[place.get("path")] = cache.get("cacheControlMode")
        [usual] = read.findall("system.webServer/staticContent/clientCache")
        assert usual.get("cacheControlMode") == "DisableCache"
        for name in NAMES:
            mode = modes.get(name) or modes.get(name.rpartition("/")[0]) or "DisableCache"
            assert mode == ("UseMaxAge" if is_hashed(name) else "DisableCache"), name


def test_the_site_brings_them_and_no_server_obeys_them_there(built_site: Path) -> None:
    names = files_of(built_site)
    assert {f"{SERVER_FILES}/{name}" for name in ("nginx.conf", "apache.conf", "web.config")} <= names
    assert not {"web.config", ".htaccess"} & names


def test_a_folder_that_looks_like_a_hash_is_not_kept_for_a_year(settings: Path) -> None:
    """nginx looks at the whole address: a site that stands under a date must not be kept by it."""
    [pattern] = re.findall(r'^location ~ "(.*0-9a-f.*)" {', (settings / "nginx.conf").read_text(encoding="utf-8"), re.M)
    assert re.search(pattern, "/ward/engine/core.0123456789abcdef.bin")
    assert not re.search(pattern, "/handbook.20261125.1/index.html")
