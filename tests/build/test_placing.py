"""Placing a site: whole at every moment, exact at the end."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from build_tools import placing

OLD_SITE = {
    "index.html": '<link href="assets/main.11111111.css"><a href="findings/murmur.html">m</a><script src="page.js">',
    "404.html": "missing",
    "findings/murmur.html": '<link href="../assets/main.11111111.css"><a href="../index.html">home</a>',
    "findings/retired.html": '<link href="../assets/main.11111111.css">',
    "retired/alone.html": "<p>",
    "assets/main.11111111.css": "old",
    "page.js": "old",
    "search.json": "[1]",
    "service-worker.js": "main.11111111.css",
}
NEW_SITE = {
    "index.html": '<link href="assets/main.22222222.css"><a href="findings/murmur.html"></a><a href="new/a.html"></a>',
    "404.html": "missing",
    "findings/murmur.html": '<link href="../assets/main.22222222.css"><a href="../new/a.html">a</a>',
    "new/a.html": '<link href="../assets/main.22222222.css"><a href="b.html">b</a><script src="../added.js">',
    "new/b.html": '<a href="a.html">a</a>',
    "assets/main.22222222.css": "new",
    "added.js": "new",
    "search.json": "[1, 2]",
    "service-worker.js": "main.22222222.css",
}


class Broken(Exception):
    """The copy breaks off."""


def write(folder: Path, files: dict[str, str]) -> Path:
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder


def read(folder: Path) -> dict[str, str]:
    return {name: (folder / name).read_text(encoding="utf-8") for name in placing.files_of(folder)}


def assert_whole(site: Path) -> None:
    """Every page's own files exist, and so does every page that can be reached from the front page."""
    for page in site.rglob("*.html"):
        for name in re.findall(r'(?:<link href|src)="([^"]+)"', page.read_text(encoding="utf-8")):
            assert (page.parent / name).resolve().is_file(), f"{page.name} lacks {name}"
    seen: set[Path] = set()
    ahead = [site / "index.html"]
    while ahead:
        page = ahead.pop().resolve()
        if page in seen:
            continue
        assert page.is_file(), f"a link leads to {page.name}, which is not there"
        seen.add(page)
        ahead += [page.parent / name for name in re.findall(r'<a href="([^"]+)"', page.read_text(encoding="utf-8"))]
    worker = (site / "service-worker.js").read_text(encoding="utf-8")
    assert (site / "assets" / worker).is_file(), f"the worker script names {worker}, which is not there"


def break_at(monkeypatch: pytest.MonkeyPatch, step: int) -> Callable[[], int]:
    """Let every write, rename and removal of `placing` count as a step, and break off before the given one."""
    count = 0

    def counted(act: Callable) -> Callable:
        def step_or_break(*arguments: object, **named: object) -> object:
            nonlocal count
            if count == step:
                raise Broken
            count += 1
            return act(*arguments, **named)

        return step_or_break

    def half_a_copy(source: Path, target: Path) -> None:
        """A copy that fills the disk leaves half a file."""
        Path(target).write_bytes(Path(source).read_bytes()[:3])
        counted(lambda: Path(target).write_bytes(Path(source).read_bytes()))()

    monkeypatch.setattr(placing.shutil, "copyfile", half_a_copy)
    monkeypatch.setattr(placing.os, "replace", counted(placing.os.replace))
    monkeypatch.setattr(Path, "unlink", counted(Path.unlink))
    monkeypatch.setattr(Path, "rmdir", counted(Path.rmdir))
    return lambda: count


def test_the_site_becomes_exactly_what_was_built(tmp_path: Path) -> None:
    built, site = write(tmp_path / "built", NEW_SITE), write(tmp_path / "site", OLD_SITE)
    placed = placing.place(built, site)
    assert read(site) == NEW_SITE
    assert not (site / "retired").exists()
    assert (placed.written, placed.unchanged, placed.removed) == (8, 1, 4)


def test_a_first_site_is_placed_where_there_is_none(tmp_path: Path) -> None:
    built = write(tmp_path / "built", NEW_SITE)
    assert placing.place(built, tmp_path / "deep" / "site").written == len(NEW_SITE)
    assert read(tmp_path / "deep" / "site") == NEW_SITE


def test_what_the_publisher_put_there_for_the_server_stays(tmp_path: Path) -> None:
    """At any depth, empty folders too; what merely looks strange is still removed."""
    built, site = write(tmp_path / "built", NEW_SITE), write(tmp_path / "site", OLD_SITE)
    own = {
        ".htaccess": "RewriteEngine On",
        ".htpasswd": "somebody",
        "Web.config": "<configuration/>",
        "findings/.htaccess": "Require valid-user",
        ".well-known/security.txt": "Contact: somebody",
        "private/.htaccess": "Require all denied",
    }
    write(site, own)
    write(site, {"strange.html": "", "htaccess.txt": ""})
    (site / ".well-known" / "acme-challenge").mkdir()
    placed = placing.place(built, site)
    assert read(site) == {**NEW_SITE, **own}
    assert (site / ".well-known" / "acme-challenge").is_dir()
    assert placed.removed == 4 + 2
    assert placing.place(built, site).removed == 0


def test_files_that_are_the_same_are_not_touched(tmp_path: Path) -> None:
    built = write(tmp_path / "built", NEW_SITE)
    placing.place(built, tmp_path / "site")
    before = {path: path.stat().st_mtime_ns for path in (tmp_path / "site").rglob("*")}
    assert placing.place(built, tmp_path / "site").written == 0
    assert {path: path.stat().st_mtime_ns for path in (tmp_path / "site").rglob("*")} == before


def test_a_copy_broken_off_at_any_step_leaves_a_whole_site_and_the_next_one_finishes(tmp_path: Path) -> None:
    built = write(tmp_path / "built", NEW_SITE)
    steps = 0
    for step in range(1000):
        site = write(tmp_path / f"site-{step}", OLD_SITE)
        with pytest.MonkeyPatch.context() as monkeypatch:
            counted = break_at(monkeypatch, step)
            try:
                placing.place(built, site)
                break
            except Broken:
                steps = counted()
        assert_whole(site)
        placing.place(built, site)
        assert read(site) == NEW_SITE
    assert steps + 1 == 2 * 8 + 4 + 1, "not every write, rename, removal and empty folder was broken off"


@pytest.mark.parametrize("first", ["index.html", "findings/murmur.html", "service-worker.js"])
def test_the_whole_site_test_would_see_a_wrong_order(
    first: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    built, site = write(tmp_path / "built", NEW_SITE), write(tmp_path / "site", OLD_SITE)
    right = placing.in_order
    monkeypatch.setattr(placing, "in_order", lambda new, old: sorted(right(new, old), key=lambda name: name != first))
    break_at(monkeypatch, 2)
    with pytest.raises(Broken):
        placing.place(built, site)
    with pytest.raises(AssertionError):
        assert_whole(site)


def test_what_is_no_site_is_refused_and_the_standing_site_stays(tmp_path: Path) -> None:
    built, site = write(tmp_path / "built", {"page.js": ""}), write(tmp_path / "site", OLD_SITE)
    with pytest.raises(FileNotFoundError, match=r"no index\.html"):
        placing.place(built, site)
    assert read(site) == OLD_SITE


@pytest.mark.parametrize(
    ("name", "hashed"),
    [
        ("main.a40c8224.min.css", True),
        ("engine.0123456789abcdef.bin", True),
        ("index.html", False),
        ("decade.css", False),
        ("mean.facade.js", False),
    ],
)
def test_hashed_names_are_told_from_others(name: str, hashed: bool) -> None:
    assert placing.is_hashed(name) is hashed
