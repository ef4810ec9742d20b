"""The gallery of the first workbook: every control moved, nonsense typed, what it shows is what the ideas are.

Here and not in the workbook: its pictures, sent to a browser a hundred times in one cell, choked the page.
"""

import gardenframe
from gardenframe.materials.ideas import load_ideas
from gardenframe.teaching import controls
from gardenframe.teaching.idea_results import MOST_SHOWN


def test_every_control_moves_it_or_says_why():
    """In both unit systems; and without limits every idea fits, the cheapest shown with pictures and links."""
    made = controls.gallery(site=gardenframe.Site(), shop=gardenframe.Shop())
    swept = made.sweep()
    assert swept.controls == 7
    assert swept.refused
    for key, text in (("budget", "20000"), ("across_m", "20 m"), ("deep_m", "20 m")):
        made.type(key, text)
    assert made.number("ideas") == str(len(load_ideas()))
    assert made.page.value.count("role='listitem'><svg") == MOST_SHOWN
    assert "<a href='01_trellis.ipynb'" in made.page.value
    assert f"other {len(load_ideas()) - MOST_SHOWN}" in made.page.value
