"""A table that a teacher pastes: read line by line, told where it is wrong, worked out on the phone."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.calculators.test_borderline_regression import TABLE
from tests.site.calculators import calculator, expect_agreement, fault, number, spoken
from tests.site.conftest import Opener

PAGE = "calculators/teaching.html"
NAME = "borderline_regression"


def test_pasted_marks_give_a_cut_score(open_page: Opener, address: str) -> None:
    """The cut score, its interval, and the caution that these are few."""
    page = open_page(address + PAGE)
    form = calculator(page, NAME)
    form.get_by_label("Grades and scores").fill("Grade\tScore\n" + TABLE.replace(" ", "\t"))
    form.get_by_label("Borderline grade").fill("2")
    expect(number(form, "cut")).to_have_text("51.10")
    expect(spoken(form)).to_contain_text("The cut score is 51.10.")
    expect(form.locator('[data-output="cut"] .calculator-uncertainty')).to_contain_text("48.80 to 53.40")
    expect(form.locator(".calculator-cautions")).to_contain_text("fewer candidates than the method needs")
    expect_agreement(form)
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_odd_line_is_told_with_its_number(open_page: Opener, address: str) -> None:
    """On leaving the table, beside it, without a change of what was pasted; clearing empties it."""
    form = calculator(open_page(address + PAGE), NAME)
    table = form.get_by_label("Grades and scores")
    table.fill(TABLE + "\nNo 16 2 50")
    table.blur()
    expect(fault(form, "marks")).to_contain_text("Line 16: “No 16 2 50” has 4 parts.")
    assert table.get_attribute("aria-invalid") == "true"
    expect(table).to_have_value(TABLE + "\nNo 16 2 50")
    form.get_by_role("button", name="Clear").click()
    expect(table).to_have_value("")
    expect(fault(form, "marks")).to_be_hidden()


FILES = {
    "marks.csv": ("Grade,Score\r\n" + TABLE.replace(" ", ",").replace("\n", "\r\n")).encode(),
    "Noten.csv": ("\ufeffNote;Punkte\r\n" + TABLE.replace(" ", ";").replace("\n", ",0\r\n") + ",0\r\n").encode(),
    "marks.txt": ("Grade\tScore\n" + TABLE.replace(" ", "\t")).encode("utf-16"),
    "quoted.csv": "\n".join(f'"{row}"' for row in TABLE.split("\n")).replace(" ", '";"').encode(),
}


def test_a_file_is_read_in_the_page_alone(open_page: Opener, address: str) -> None:
    """Comma, semicolon with decimal comma and byte order mark, tab in two bytes a sign, quotes; nothing is sent."""
    page = open_page(address + PAGE)
    form = calculator(page, NAME)
    form.get_by_label("Borderline grade").fill("2")
    for name, content in FILES.items():
        sent: list[str] = []
        page.on("request", lambda request, sent=sent: sent.append(request.method + (request.post_data or "")))
        form.locator("input[type=file]").set_input_files(
            {"name": name, "mimeType": "text/csv", "buffer": content})
        expect(form.locator(".calculator-file-told")).to_contain_text(f"{name} was read into the field above")
        expect(number(form, "cut")).to_have_text("51.10")
        assert [one for one in sent if one != "GET"] == []
        form.get_by_label("Grades and scores").fill("")
    form.get_by_role("button", name="Clear").click()
    expect(form.locator(".calculator-file-told")).to_be_empty()


def test_what_is_wrong_with_a_file_is_told(open_page: Opener, address: str) -> None:
    """A bad row by its line, at once; what is no text, or far too large, is not taken."""
    form = calculator(open_page(address + PAGE), NAME)
    choose = form.locator("input[type=file]")
    told = form.locator(".calculator-file-told")
    bad = FILES["marks.csv"].replace(b"3,66", b"three,66")
    choose.set_input_files({"name": "bad.csv", "mimeType": "text/csv", "buffer": bad})
    expect(fault(form, "marks")).to_contain_text("Line 9: “three” is not a number.")
    choose.set_input_files({"name": "sheet.xlsx", "mimeType": "text/csv", "buffer": b"PK\x03\x04\x00\x00\x00"})
    expect(told).to_contain_text("sheet.xlsx is no text. In the spreadsheet save the sheet as .csv")
    choose.set_input_files({"name": "big.csv", "mimeType": "text/csv", "buffer": b"1,50\n" * 50_000})
    expect(told).to_contain_text("big.csv is too large")
    choose.set_input_files({"name": "none.csv", "mimeType": "text/csv", "buffer": b" \n"})
    expect(told).to_contain_text("none.csv is empty")


def test_the_plot_is_that_of_the_worked_example(open_page: Opener, address: str) -> None:
    """Points, line and cut, drawn in the page as the build draws them, with the same words under them."""
    form = calculator(open_page(address + PAGE), NAME)
    form.get_by_label("Grades and scores").fill(TABLE)
    form.get_by_label("Borderline grade").fill("2")
    drawn = form.locator('[data-output="cut"] .calculator-drawing')
    expect(drawn.get_by_role("img", name="Cut score")).to_be_visible()
    made = form.locator(".calculator-static .calculator-drawing")
    shapes = "figure => [...figure.querySelectorAll('svg *')].map(one => [one.tagName, one.getAttribute('class'), "
    shapes += "one.getAttribute('d') ?? one.getAttribute('cx') + ' ' + one.getAttribute('cy'), one.textContent])"
    assert drawn.evaluate(shapes) == made.evaluate(shapes)
    assert len(drawn.evaluate(shapes)) > 30
    expect(drawn.locator("figcaption")).to_contain_text("where the score is 51.10")
    assert drawn.locator("figcaption").inner_text() == made.locator("figcaption").text_content()
    assert drawn.evaluate("figure => figure.querySelectorAll('[style]').length") == 0
