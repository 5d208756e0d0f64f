"""The documentation site as built: its links lead somewhere, and its pages open in a real browser, wide and narrow."""

from __future__ import annotations

from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urldefrag, urlsplit

import pytest

from browsers import opened, show

SITE = Path(__file__).parents[2] / "docs" / "_site"
WIDTHS = {"desktop": 1280, "phone": 390}
# Rustdoc's own pages are rustdoc's to check.
PAGES = sorted(p for p in SITE.rglob("*.html") if p.relative_to(SITE).parts[0] not in ("rust", "_static"))
NAMES = [str(p.relative_to(SITE).with_suffix("")) for p in PAGES]


class Page(HTMLParser):
    """What a page names and what it asks for."""

    def __init__(self, file: Path) -> None:
        super().__init__()
        self.ids: set[str] = set()
        self.links: list[str] = []
        self.parts: list[str] = []
        self.feed(file.read_text("utf-8"))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        self.ids |= {given[name] for name in ("id", "name") if name in given}
        if tag == "a" and "href" in given:
            self.links.append(given["href"])
        elif tag in ("img", "script", "source", "iframe") and "src" in given:
            self.parts.append(given["src"])
        elif tag == "link" and given.get("rel") in ("stylesheet", "icon", "preload"):
            self.parts.append(given["href"])


@pytest.fixture(scope="module")
def pages() -> dict[Path, Page]:
    assert PAGES, "the site is not built: `make check-pages` builds it"
    return {file: Page(file) for file in PAGES}


def test_every_link_leads_to_a_page_and_a_place_that_are_there(pages):
    lost = []
    for file, page in pages.items():
        for link in page.links:
            address, place = urldefrag(link)
            if urlsplit(address).scheme in ("http", "https", "mailto"):
                continue
            target = (file.parent / unquote(urlsplit(address).path)).resolve() if address else file
            if not target.exists():
                lost.append((file.name, link))
            elif place and target in pages and unquote(place) not in pages[target].ids:
                lost.append((file.name, link))
    assert lost == []


def test_nothing_is_fetched_from_elsewhere_and_all_parts_are_there(pages):
    for file, page in pages.items():
        for part in page.parts:
            assert urlsplit(part).scheme in ("", "data"), (file, part)
            if not part.startswith("data:"):
                assert (file.parent / unquote(urlsplit(part).path)).exists(), (file, part)


def test_every_public_name_of_the_python_face_has_its_entry(pages):
    import loamline as ll

    reference = set().union(*(p.ids for f, p in pages.items() if f.parent.name == "python"))
    assert {f"loamline.{name}" for name in ll.__all__} - {"loamline.__version__"} <= reference


def test_the_first_page_has_cautions_axes_and_signs(pages):
    text = (SITE / "index.html").read_text("utf-8")
    assert text.index("certify nothing") < text.index("axes-plan-light") < text.index("counter-clockwise from <code")


@pytest.fixture(scope="module")
def browser(tmp_path_factory):
    # Figures are files of their own beside their page.
    chromium = opened(tmp_path_factory.mktemp("chromium"), "--allow-file-access-from-files")
    yield chromium
    chromium.quit()


# What a browser draws for a character that no font has, against what it draws for each that stands on the page.
MISSING = """
const canvas = document.createElement('canvas');
canvas.width = 40; canvas.height = 40;
const pen = canvas.getContext('2d', {willReadFrequently: true});
pen.font = '20px ' + getComputedStyle(document.body).fontFamily;
const drawn = letter => {
  pen.clearRect(0, 0, 40, 40);
  pen.fillText(letter, 5, 28);
  return pen.getImageData(0, 0, 40, 40).data.join();
};
const nothing = drawn('\\u{10FFFE}');
const there = new Set([...document.body.textContent].filter(c => c.codePointAt(0) > 160));
return [...there].filter(c => drawn(c) === nothing);
"""


@pytest.mark.xdist_group("browser")
@pytest.mark.parametrize("page", PAGES, ids=NAMES)
def test_a_page_opens_without_a_complaint_fits_and_has_its_letters(browser, page):
    for width in WIDTHS.values():
        show(browser, page, width)
        assert browser.get_log("browser") == []
        assert browser.execute_script("return document.documentElement.scrollWidth") <= width
        broken = "return [...document.images].filter(i => i.complete && !i.naturalWidth).map(i => i.src)"
        assert browser.execute_script(broken) == []
    assert browser.execute_script(MISSING) == []


@pytest.mark.xdist_group("browser")
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_figures_go_with_the_paper(browser, scheme):
    show(browser, SITE / "index.html", 1280, scheme)
    seen = browser.execute_script(
        "return [...document.querySelectorAll('article img')].filter(i => i.offsetWidth > 0).map(i => i.src)"
    )
    assert len(seen) == 3
    assert all(source.endswith(f"-{scheme}.svg") for source in seen)
