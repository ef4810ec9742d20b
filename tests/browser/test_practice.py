"""Guesses and practice in a real browser: typed, told, spoken, and reached by the keyboard in the order of reading."""

import re

import pytest

pytestmark = pytest.mark.browser
FOCUSED = "() => { const e = document.activeElement; return e.innerText.trim() || e.tagName; }"
PAST = """() => [...document.querySelectorAll('.gf-practice .gf-asked, .gf-practice .gf-asked *')]
    .filter(e => e.offsetParent && !e.closest('mjx-container, .gf-math'))
    .filter(e => e.getBoundingClientRect().right > e.closest('.gf-practice').getBoundingClientRect().right)
    .map(e => e.className)"""


def answer_by_hand_mm(asked):
    """Return a rail's cut length from the words on the page alone, and its length with no set-back. [mm]"""
    words = asked.replace("\N{NO-BREAK SPACE}", " ")
    outer, width, stop = (
        float(re.search(rf"([\d.]+) mm {after}", words)[1]) for after in ("outside", "apart", "short")
    )
    bay = (width - outer) / int(re.search(r"(\d) equal bays", words)[1])
    return bay - 2 * stop, bay


def enter(card, text):
    """Type into a card's box and press Enter."""
    box = card.locator("input[type=text]")
    box.fill(text)
    box.press("Enter")


@pytest.mark.parametrize("width", [1280, 800])
def test_a_reader_guesses_and_checks_an_answer(book, width):
    """A guess beside its answer; a rail worked from the page's own words, a slip, nonsense, hints, other numbers."""
    from playwright.sync_api import expect

    opened = book("01_trellis.ipynb", width=width)
    page = opened.page
    guesses, practice = page.locator(".gf-practice").all()
    first = guesses.locator(".gf-asked").first
    enter(first, "90 cm")
    expect(first).to_contain_text("Kept.")
    first.get_by_role("button", name="Show the answer").click()
    expect(first.locator(".gf-said")).to_contain_text(
        "You guessed 900\N{NO-BREAK SPACE}mm; it is 856\N{NO-BREAK SPACE}mm"
    )

    rail = practice.get_by_role("group", name="A rail")
    said = rail.locator(".gf-said[aria-live=polite]")
    right, bay = answer_by_hand_mm(rail.locator(".gf-ask").inner_text())
    enter(rail, f"{bay:.2f} mm")
    expect(said).to_contain_text("The set-back looks forgotten")
    enter(rail, "a bit less")
    expect(rail.locator("[role=alert]")).to_contain_text("got 'a bit less', needs a length")
    expect(said).to_have_text("")
    enter(rail, f"{right:.2f}")
    expect(said).to_contain_text("Right:")
    expect(rail.locator("[role=alert]")).to_have_count(0)
    rail.get_by_role("button", name="Hint 1 of 3").click()
    expect(said.locator("li")).to_have_count(1)

    rail.locator("input[type=text]").focus()
    order = []
    for _ in range(4):
        page.keyboard.press("Tab")
        order.append(page.evaluate(FOCUSED))
    assert order == ["Check", "Hint 2 of 3", "New numbers", "Show the working"]
    page.keyboard.press("Enter")
    expect(rail.get_by_role("button", name="Show the working")).to_have_attribute("aria-expanded", "true")
    expect(rail.locator("mjx-container").first).to_be_visible()
    assert page.evaluate(PAST) == []

    before = rail.locator(".gf-ask").inner_text()
    rail.get_by_role("button", name="New numbers").click()
    expect(rail.locator(".gf-ask")).not_to_have_text(before)
    expect(said).to_have_text("")
    practice.get_by_role("button", name="feet and inches").click()
    expect(rail.locator(".gf-ask")).to_contain_text("in short of")
    assert page.errors == []
