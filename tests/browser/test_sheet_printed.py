"""Build sheets printed by a browser on both papers and read back: nothing cut off, every number there."""

import io
import unicodedata
import xml.etree.ElementTree as ET
from collections import Counter
from datetime import date
from functools import lru_cache

import pdfplumber
import pytest

import gardenframe
from gardenframe import Shop, Site, builds
from gardenframe.output.sheet import build_sheet

NAME, DAY = "Beans for everyone, plot 4", date(2025, 3, 31)
STAND = next(values for name, values in builds.ALL["grow_stand"].examples.items() if "flood" in name)
BUILDS = {"metric": ("grow_stand", STAND, "mm", 1830.0), "us": ("walkway_arch", {}, "1/16 in", None)}
WHOLE = 18  # rows of a table that is not parted
PAPERS = {"A4": (595.3, 841.9), "Letter": (612.0, 792.0)}  # ISO 216 and ANSI/ASME Y14.1, from memory [pt]
MARGIN_PT = 14 / 25.4 * 72
NEAR_PT = 1.5  # of one line
UNSEEN = ("title", "style", "desc")


@lru_cache
def page_of(system):
    """Return the sheet of the build printed in a unit system."""
    key, values, tape, carried = BUILDS[system]
    shop = Shop(tape=tape, carried_mm=carried)
    plan = gardenframe.plan(builds.ALL[key](**values), Site(), shop, live=True)
    return build_sheet(plan, system, name=NAME, written_on=DAY)


@pytest.fixture(scope="module")
def printed(chrome):
    """Return a function that prints a page on a paper and returns its pages as words, with what left this machine."""
    context = chrome.new_context()

    def print_(system, paper):
        tab, left = context.new_page(), []
        tab.on("request", lambda request: left.append(request.url))
        tab.set_content(page_of(system), wait_until="load")
        data = tab.pdf(format=paper)
        tab.close()
        assert left == []
        return data

    yield print_
    context.close()


def lines_of(page):
    """Return the lines of a printed page, each its words from left to right."""
    rows = []
    for word in sorted(page.extract_words(x_tolerance=1.5, y_tolerance=1), key=lambda word: word["bottom"]):
        if rows and abs(rows[-1][0]["bottom"] - word["bottom"]) < NEAR_PT:
            rows[-1].append(word)
        else:
            rows.append([word])
    return [[word["text"] for word in sorted(row, key=lambda word: word["x0"])] for row in rows]


def has_in_order(line, wanted):
    """Whether words stand in a line in an order, others between them allowed."""
    rest = iter(line)
    return all(word in rest for word in wanted)


def seen_text(node):
    """Yield the text of a page that is printed."""
    if node.tag.rpartition("}")[2] in UNSEEN or node.get("class") == "screen":
        return
    yield node.text or ""
    for child in node:
        yield from seen_text(child)
        yield child.tail or ""


@pytest.mark.browser
@pytest.mark.parametrize(("system", "paper"), [("metric", "A4"), ("us", "Letter")])
def test_a_printed_sheet_has_all_that_its_page_has(printed, system, paper):
    """On one paper in one unit system: size, margins, page numbers, heads, every row of numbers, every letter."""
    root = ET.fromstring(page_of(system))  # noqa: S314 - our own page
    with pdfplumber.open(io.BytesIO(printed(system, paper))) as pdf:
        pages = [lines_of(page) for page in pdf.pages]
        printed_text = "".join(char["text"] for page in pdf.pages for char in page.chars)
        for number, page in enumerate(pdf.pages, 1):
            assert (page.width, page.height) == pytest.approx(PAPERS[paper], abs=1)
            within = [c for c in page.chars if c["x0"] < MARGIN_PT - 1 or c["x1"] > page.width - MARGIN_PT + 1]
            assert "".join(c["text"] for c in within) == ""
            foot = max(c["bottom"] for c in page.chars if not c["text"].isspace())
            assert foot < page.height - 12
            assert f"{NAME}, {DAY.isoformat()}".split() == pages[number - 1][-1][: len(NAME.split()) + 1]
            assert pages[number - 1][-1][-4:] == ["Page", str(number), "of", str(len(pdf.pages))]
    letters = Counter(unicodedata.normalize("NFKC", printed_text))  # fi and ff are printed as one letter
    seen = unicodedata.normalize("NFKC", "".join(seen_text(root.find("body"))))
    wanted = Counter("".join(seen.split()))
    lost = {letter: (n, letters[letter]) for letter, n in wanted.items() if letters[letter] < n}
    assert lost == {}
    rows_are_printed(root, pages)
    no_head_stands_alone(root, pages)


def rows_are_printed(root, pages):
    """Find every row of every table as one line, its numbers in order, below a head that is repeated on its page."""
    missing, headless, parted = [], [], []
    at = 0
    for table in root.iter("table"):
        heads = [" ".join("".join(th.itertext()).split()) for th in table.iter("th")]
        last, on = heads[-1].split()[-1:], set()
        for row in table.find("tbody"):
            cells = ["".join(cell.itertext()).split() for cell in row if cell.get("class") == "n"]
            words = [word for cell in cells for word in cell]
            if not words:
                continue
            found = next(
                (n for n in range(at, len(pages)) if any(has_in_order(line, words) for line in pages[n])), None
            )
            if found is None:
                missing.append(words)
                continue
            at = found
            on.add(found)
            if not any(has_in_order(line, last) for line in pages[found]):
                headless.append((found + 1, heads))
        if len(table.find("tbody")) <= WHOLE and len(on) > 1:
            parted.append(heads)
    assert (missing, headless, parted) == ([], [], [])


def no_head_stands_alone(root, pages):
    """Find no page whose last line, above its foot, is the head of a table, but for lines to write on."""
    for table in (table for table in root.iter("table") if table.get("class") != "write"):
        heads = ["".join(th.itertext()).split()[0] for th in table.iter("th")]
        assert not any(has_in_order(page[-2], heads) for page in pages)
