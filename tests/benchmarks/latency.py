"""How long from a slider to a changed number and to a redrawn drawing, in a real browser, while sliding three seconds.

Run: python tests/benchmarks/latency.py. The arrow key is held on the height of a trellis as a keyboard repeats it,
thirty times a second. In a trellis as narrow as this one the posts are the longest pieces, so that each height shows as
one number, and each number tells which press it answers. A press that a later one has overtaken is never shown: last
value wins.
"""

import statistics
import sys
import time

import pytest

SECONDS, PER_SECOND, LOWEST = 3, 30, "1.3 m"
WATCH = """() => {
    const seen = window.seen = { presses: [], numbers: [], drawings: [] };
    document.addEventListener('keydown', () => seen.presses.push(performance.now()), true);
    let number = document.querySelector('#gf-longest').innerText, drawing = document.querySelector('.gf-drawing svg');
    new MutationObserver(() => {
        const found = document.querySelector('#gf-longest'), drawn = document.querySelector('.gf-drawing svg');
        if (found && found.innerText !== number) {
            number = found.innerText;
            seen.numbers.push([number, performance.now()]);
        }
        if (drawn && drawn !== drawing) {
            drawing = drawn;
            const shows = number;  // two frames later it is painted
            requestAnimationFrame(() => requestAnimationFrame(() => seen.drawings.push([shows, performance.now()])));
        }
    }).observe(document.querySelector('.gf-results'), { childList: true, subtree: true, characterData: true });
}"""


def said(name, times):
    """Return the line for one kind of change."""
    times = sorted(times)
    late = times[min(len(times) - 1, int(0.95 * len(times)))]
    return f"{name}: median {statistics.median(times):.0f} ms, 95th {late:.0f} ms, {len(times)} shown"


def test_latency(book, capsys):
    """Every number that was shown answers one press; the last shown is the last pressed."""
    opened = book("01_trellis.ipynb")
    page = opened.page
    opened.type("Width", "0.9 m")
    opened.type("Height", LOWEST)
    page.wait_for_timeout(3000)
    handle = opened.field("Height").locator(".noUi-handle")
    handle.focus()
    first = int(page.locator("#gf-longest").inner_text().split()[0])
    page.evaluate(WATCH)
    end, presses = time.monotonic() + SECONDS, 0
    while time.monotonic() < end:
        page.keyboard.down("ArrowRight")
        presses += 1
        time.sleep(max(0.0, presses / PER_SECOND - (SECONDS - (end - time.monotonic()))))
    page.keyboard.up("ArrowRight")
    page.wait_for_timeout(3000)
    seen = page.evaluate("() => window.seen")
    last = int(page.locator("#gf-longest").inner_text().split()[0])
    step = (last - first) / len(seen["presses"])
    assert step == int(step) > 0, "the last number is not that of the last press"

    def waits(changes):
        return [at - seen["presses"][round((int(text.split()[0]) - first) / step) - 1] for text, at in changes]

    with capsys.disabled():
        sys.stdout.write(
            f"\n{len(seen['presses'])} presses in {SECONDS} s\n"
            f"{said('slider to changed number', waits(seen['numbers']))}\n"
            f"{said('slider to redrawn drawing', waits(seen['drawings']))}\n"
        )


if __name__ == "__main__":
    options = "--import-mode=importlib -p no:cacheprovider"
    sys.exit(pytest.main(["-q", "-p", "no:xdist", "-o", f"addopts={options}", "-o", "python_files=*.py", __file__]))
