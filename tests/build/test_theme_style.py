"""Of the theme's style sheet only the rules for what stands in the pages is kept, and those are whole."""

from __future__ import annotations

from build_tools import assets
from build_tools.theme_style import used

SHEET = (
    '@charset "UTF-8";:root{--md-a:url("data:x;{}")}html{color:red}.md-skip{top:0;content:"}"}'
    ".md-skip,.md-search{left:0}.md-search .md-skip{right:0}@media print{.md-dialog{display:none}.md-tabs{top:0}}"
    "@media screen{.md-tabs{top:0}}@keyframes turn{0%{top:0}}[dir=rtl] .md-skip{left:1px}.md-skip:not(a,b){top:1px}"
)


def test_rules_for_other_parts_and_bare_elements_are_left_out() -> None:
    assert used(SHEET).split("\n") == [
        '.md-skip{top:0;content:"}"}',
        ".md-skip{left:0}",
        "@media print{.md-dialog{display:none}",
        "}",
        ".md-skip:not(a,b){top:1px}",
        "",
    ]


def test_the_sheet_of_the_site_is_small_and_has_what_the_frame_needs() -> None:
    sheet = assets.stylesheet()
    assert len(sheet.encode()) < 45_000
    assert ".md-toggle{display:none}" in sheet
    assert sheet.count("{") == sheet.count("}")
