"""Laboratories: which files their pages name, and that what a model rests on is checked and read like any figure."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from build_tools import handbook, pages, runtime, second_reads
from build_tools.environment import ROOT
from build_tools.handbook import Handbook
from build_tools.laboratories import LABORATORIES, model_for_door, models
from tests.whole import BOOK

MODEL = "calculators/models/tiny.toml"
ROW = '[[rows]]\nid = "low"\nhz = [{low}, 50]\nsource = "{words} Hz [@invented2020, abstract]."\n'


@pytest.fixture(scope="module")
def book() -> Handbook:
    return handbook.load(ROOT)


def test_page_of_a_laboratory_names_its_script_style_and_model(book: Handbook, tmp_path: Path) -> None:
    """The model and its data travel with the page; no calculator does."""
    for name in LABORATORIES:
        site = tmp_path / name
        site.mkdir()
        page = site / "page.html"
        page.write_text(
            f'<html><head>{runtime.TOP}</head><body><section data-laboratory="{name}"></section></body></html>',
            encoding="utf-8",
        )
        runtime.bundle(book, site)
        text = page.read_text(encoding="utf-8")
        stem = f"laboratory-{name.replace('_', '-')}"
        assert len(re.findall(rf'src="engine/{stem}\.\w+\.js"', text)) == 1
        assert len(re.findall(rf'href="engine/{stem}\.\w+\.css"', text)) == 1
        block = re.search(r'id="engine-files">(.*?)</script>', text)
        assert block
        packs = [file["name"].partition(".")[0] for file in json.loads(block.group(1))["engines"][1]["packs"]]
        assert packs == ["core", "models"]


def test_a_page_holds_either_calculators_or_one_laboratory(book: Handbook, tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    both = '<body data-laboratory="listening_room" data-calculator="clubbing"></body>'
    page.write_text(f"<html><head>{runtime.TOP}</head>{both}</html>", encoding="utf-8")
    with pytest.raises(ValueError, match="put a laboratory on a page by itself"):
        runtime.bundle(book, tmp_path)


@pytest.mark.parametrize("name", models())
def test_a_laboratory_stands_on_a_page_and_its_model_names_its_sources(book: Handbook, name: str) -> None:
    places = [place for place, laboratory in LABORATORIES.items() if laboratory.model == name]
    shown = [one for page in book.pages.values() for _, kind, one in page.embeds if kind == "laboratory"]
    assert set(places) <= set(shown)
    assert model_for_door(BOOK, name)["model"] == name
    assert len(list(book.models[name].sourced())) > 5


def test_a_number_of_a_model_ends_its_read_and_words_do_not(load_tiny: Callable[..., Handbook]) -> None:
    def read(low: int, words: str) -> str:
        [unit] = [unit for unit in second_reads.units(load_tiny((MODEL, None, ROW.format(low=low, words=words))))
                  if unit.of == "models/tiny"]
        return unit.hash

    assert read(25, "25 to 50") == read(25, "From 25 to 50")
    assert read(25, "25 to 50") != read(26, "25 to 50")
    assert read(25, "25 to 50") != read(25, "25 to 51")


def test_a_finding_leads_to_its_sound(book: Handbook) -> None:
    page = book.pages["findings/third-heart-sound"]
    draft = pages.Draft(book, page)
    draft.prepared()
    [link] = [piece for piece in draft.pieces if "Hear it" in piece]
    assert 'href="../learning/listening-room.html#hear-third"' in link and "synthetic" in link


@pytest.mark.parametrize(("old", "new", "told"), [
    ('edge = "loudest"', 'edge = "deafening"', '"rub" cannot be made'),
    ('best = ["edge", "diaphragm"]', 'best = ["knee", "diaphragm"]', "There is no area of that name"),
    ('axilla = "none", neck = "none" }\nbreath', 'neck = "none" }\nbreath', "KeyError 'axilla'"),
    ("loud = 75", "loud = 7500", "too loud"),
])
def test_a_sound_that_cannot_be_made_is_a_problem_of_its_row(
    load_tiny: Callable[..., Handbook], old: str, new: str, told: str
) -> None:
    file = "calculators/models/heart_sounds.toml"
    text = (ROOT / file).read_text(encoding="utf-8")
    start = text.index('id = "rub"')
    assert old in text[start:]
    book = load_tiny((file, None, text[:start] + text[start:].replace(old, new, 1)))
    found = [problem for problem in book.problems if problem.file == file and told in problem.message]
    assert [problem.line for problem in found] == [text[:start].count("\n")]
