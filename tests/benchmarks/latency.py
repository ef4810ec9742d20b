"""How long from a slider to a changed number in a real browser. Run: python tests/benchmarks/latency.py

Steps the height of the trellis thirty times and prints the median and the 95th percentile in ms.
"""

import statistics
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

import pytest


def test_latency(book, capsys):
    """Thirty steps of the slider, there and back."""
    opened = book("01_trellis.ipynb")
    page = opened.page
    handle = opened.field("Height").locator(".noUi-handle")
    handle.focus()
    times = []
    for step in range(30):
        before = page.locator("#gf-longest").inner_text()
        page.evaluate("() => { window.pressed = performance.now(); }")
        page.keyboard.press("ArrowRight" if step < 15 else "ArrowLeft")
        took = page.evaluate(
            """before => new Promise(done => { const look = () => { const now = document.querySelector('#gf-longest');
                if (now && now.innerText !== before) done(performance.now() - window.pressed);
                else if (performance.now() - window.pressed > 3000) done(3000);
                else setTimeout(look, 4); }; look(); })""",
            before,
        )
        times.append(took)
    with capsys.disabled():
        sys.stdout.write(
            f"\nslider to changed number: median {statistics.median(times):.0f} ms, "
            f"95th {sorted(times)[int(len(times) * 0.95)]:.0f} ms over {len(times)} steps\n"
        )


if __name__ == "__main__":
    options = "--import-mode=importlib -p no:cacheprovider"
    sys.exit(pytest.main(["-q", "-p", "no:xdist", "-o", f"addopts={options}", "-o", "python_files=*.py", __file__]))
