"""The gallery of the first workbook: every control moved, nonsense typed, what it shows is what the ideas are.

Here and not in the workbook: its pictures, sent to a browser a hundred times in one cell, choked the page.
"""

import json
import os
import xml.etree.ElementTree as ET

import gardenframe
from gardenframe.materials.ideas import load_ideas
from gardenframe.teaching import controls, links
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
    assert made.page.value.count("role='listitem'><a ") == made.page.value.count("<svg") == MOST_SHOWN
    assert "<a href='01_trellis.ipynb'" in made.page.value
    assert f"other {len(load_ideas()) - MOST_SHOWN}" in made.page.value


def test_a_link_opens_what_lies_beside_this_workbook_in_a_folder_of_the_server(tmp_path, monkeypatch):
    """In JupyterLab by its own command, from the folder that its server shows; elsewhere by a plain address."""
    (tmp_path / "runtime").mkdir()
    (tmp_path / "garden" / "beds").mkdir(parents=True)
    monkeypatch.setenv("JUPYTER_RUNTIME_DIR", str(tmp_path / "runtime"))
    monkeypatch.chdir(tmp_path / "garden" / "beds")
    links._root.cache_clear()
    assert "commandlinker" not in links.to_workbook("01_trellis.ipynb", "trellis")
    told = json.dumps({"root_dir": str(tmp_path / "garden")})
    (tmp_path / "runtime" / f"jpserver-{os.getppid()}.json").write_text(told, encoding="utf-8")
    links._root.cache_clear()
    found = ET.fromstring(links.to_workbook("01_trellis.ipynb", "trellis"))  # noqa: S314 - our own link
    assert json.loads(found.get("data-commandlinker-args")) == {"path": "beds/01_trellis.ipynb"}
    assert found.get("href") == "01_trellis.ipynb"
    links._root.cache_clear()
