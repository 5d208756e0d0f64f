"""The report in a real browser, and the field sheet on its two pages."""

from __future__ import annotations

import io
import re
from dataclasses import replace

import loamline as ll
import pytest
from loamline.answer import answer
from loamline.cautions import ALL
from loamline.numbers import plan_numbers
from loamline.planning import Wish, plan
from loamline.report import report
from loamline.sheet import field_sheet
from loamline.sheet.drawings import drawings
from loamline.sheet.setting_out import setting_out

from browsers import show

WIDTHS = {"desktop": 1280, "phone": 390}


@pytest.fixture(scope="module")
def planned():
    return plan(ll.Site.demo(), Wish(passes=512))


@pytest.fixture(scope="module")
def page(planned, tmp_path_factory):
    file = tmp_path_factory.mktemp("report") / "report.html"
    file.write_text(report(planned), encoding="utf-8")
    return file


@pytest.mark.parametrize("width", WIDTHS.values(), ids=WIDTHS.keys())
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_page_opens_without_a_complaint_and_fits(browser, page, width, scheme):
    show(browser, page, width, scheme)
    assert browser.get_log("browser") == []
    assert browser.execute_script("return document.documentElement.scrollWidth") <= width
    asked = browser.execute_script(
        "return performance.getEntriesByType('resource').map(e => e.name)"
        ".filter(n => !n.startsWith('data:'))"
    )
    assert asked == []


@pytest.mark.parametrize("width", WIDTHS.values(), ids=WIDTHS.keys())
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_label_of_a_figure_is_cut_off(browser, page, width, scheme):
    show(browser, page, width, scheme)
    cut = browser.execute_script(
        """
        const cut = [];
        const all = [...document.querySelectorAll('svg.figure')];
        // Each stands there by day and by night; the page shows one.
        const shown = all.filter(svg => getComputedStyle(svg).display !== 'none');
        if (2 * shown.length !== all.length) cut.push('not one look of each');
        for (const svg of shown) {
          const box = svg.getBoundingClientRect();
          if (box.width < 250) cut.push('figure too small');
          for (const text of svg.querySelectorAll('text')) {
            const b = text.getBoundingClientRect();
            if (b.left < box.left - 1 || b.right > box.right + 1 ||
                b.top < box.top - 1 || b.bottom > box.bottom + 1) cut.push(text.textContent);
          }
        }
        return cut;
        """
    )
    assert cut == []


@pytest.mark.parametrize(("scheme", "look"), [("light", "day"), ("dark", "night")])
def test_figures_are_drawn_for_the_page_s_look(browser, page, scheme, look):
    show(browser, page, 1280, scheme)
    shown = browser.execute_script(
        "return [...document.querySelectorAll('svg.figure')].filter(s => getComputedStyle(s).display !== 'none')"
        ".map(s => s.classList[1])"
    )
    assert shown == [look] * 5


def test_marks_have_other_colours_by_night(page):
    text = page.read_text("utf-8")
    images = {}
    for look in ("day", "night"):
        pictures = re.findall(rf'<svg [^>]*class="figure {look}".*?</svg>', text, re.DOTALL)
        assert len(pictures) == 5
        images[look] = set(re.findall(r'xlink:href="(data:image/png;[^"]+)"', "".join(pictures)))
    assert images["day"] and images["day"].isdisjoint(images["night"])


def test_day_and_night_differ_and_ink_stands_out(browser, page):
    for scheme in ("light", "dark"):
        show(browser, page, 1280, scheme)
        ink, paper = browser.execute_script(
            "const s = getComputedStyle(document.body); return [s.color, s.backgroundColor]"
        )
        contrast = abs(lightness(ink) - lightness(paper))
        assert contrast > 150
        assert (lightness(paper) > 128) == (scheme == "light")


def lightness(colour):
    return sum(map(float, re.findall(r"[\d.]+", colour)[:3])) / 3.0


def test_the_page_stands_alone(page):
    text = page.read_text("utf-8")
    assert not re.search(r"https?://", text)
    assert "<script" not in text and '<link rel="stylesheet"' not in text
    for source in re.findall(r'(?:src|href)="([^"]*)"', text):
        # The page with sliders lies beside the report: a word to say where, not a part of it.
        assert source.startswith(("data:", "#")) or source == "explore.html", source[:60]
    ids = re.findall(r'\bid="([^"]+)"', text)
    assert len(ids) == len(set(ids))


def test_the_answer_and_the_cautions_stand_where_they_are_read(browser, page, planned):
    show(browser, page, 1280)
    text = browser.execute_script("return document.body.innerText")
    words = answer(planned)
    assert all(line in text for line in (words.build, words.earth, words.soft))
    assert text.index(words.build) < text.index("certify nothing") < text.index("Where they come")
    assert all(caution in text for caution in ALL)
    if words.first is not None:
        assert text.index(words.first) < text.index(words.build)


def test_where_nearly_all_land_softly_already_it_is_said_with_a_landing_and_without(planned):
    easy = Wish(passes=64, volume=0.02, fall_limit=8.0)
    with pytest.raises(ll.FitError, match=r"too little.*100 of 100 riders .* land softly already"):
        plan(ll.Site.demo(), easy)
    assert "land softly already" not in " ".join(answer(planned).lines())


def test_likely_slips_stand_in_the_report(planned):
    slip = replace(planned, fall_limit=2.0)
    (said,) = slip.slips
    assert "counts as soft" in said and said in report(slip)
    assert said in plan_numbers(slip)["warnings"]


def test_each_class_has_its_row(page, planned):
    text = page.read_text("utf-8")
    assert all(f"<td>{row.name}</td>" in text for row in planned.rows)


def test_the_field_sheet_is_two_pages_of_a4_with_pegs_and_cautions(planned):
    from pypdf import PdfReader

    file = io.BytesIO()
    field_sheet(planned, file)
    assert file.getvalue().startswith(b"%PDF-")
    pages = PdfReader(file).pages
    assert len(pages) == 2
    for sheet in pages:
        size = float(sheet.mediabox.width), float(sheet.mediabox.height)
        assert size == pytest.approx((595.3, 841.9), abs=1.0)


@pytest.mark.parametrize("draw", [drawings, setting_out])
def test_words_of_the_field_sheet_neither_meet_nor_leave_the_paper(planned, draw):
    from loamline import plot

    with plot.sheet():
        boxes = printed(draw(planned))
    for words, box in boxes:
        assert 0.2 < box.x0 / 100 and box.x1 / 100 < 8.27 - 0.2, words
        assert 0.2 < box.y0 / 100 and box.y1 / 100 < 11.69 - 0.2, words
    for k, (words, box) in enumerate(boxes):
        for others, other in boxes[k + 1 :]:
            assert not meet(box, other), (words, others)


def printed(page):
    """Returns the words of a page with their boxes at 100 dots an inch, level ones only."""
    page.set_dpi(100)
    page.canvas.draw()
    texts = [*page.texts, *(t for ax in page.axes for t in ax.texts)]
    texts = [t for t in texts if t.get_text().strip() and t.get_rotation() == 0.0]
    return [(t.get_text(), t.get_window_extent()) for t in texts]


def meet(a, b):
    """Tells whether two boxes share more than a hair's breadth."""
    return min(a.x1, b.x1) - max(a.x0, b.x0) > 1.0 and min(a.y1, b.y1) - max(a.y0, b.y0) > 1.0


def test_the_sheet_names_every_peg_and_what_it_needs(planned):
    from loamline import plot

    with plot.sheet():
        words = [w for w, _ in printed(setting_out(planned))]
    for stake in planned.stakes.stakes:
        assert stake.name in words
        assert f"{stake.tape[0]:.2f}" in words and f"{stake.tape[1]:.2f}" in words
    together = " ".join(words)
    assert all(mark in together for mark in planned.stakes.marks)
    assert "certify nothing" in together
