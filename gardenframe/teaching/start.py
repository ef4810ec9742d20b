"""How to start a workbook, in one sentence and one picture: for the first lines of each, and where no kernel runs."""

import base64

from gardenframe.teaching.page import escape

SENTENCE = "This page is not running yet: choose Run, then Run All Cells, and the panel appears here."
STOPPED = "This page has stopped answering: choose Kernel, then Restart Kernel and Run All Cells."
CUT_OFF = "This page has lost its connection: is the window in which JupyterLab was started still open?"
HOW = "In the menu at the top, open Run and choose Run All Cells. The first start takes about ten seconds."


def picture() -> str:
    """Return the picture: a menu bar with Run open, its last line marked by a frame and an arrow, not colour alone."""
    bold = " font-weight='700'"
    menus = (("File", 14, ""), ("Edit", 56, ""), ("View", 100, ""), ("Run", 152, bold), ("Kernel", 198, ""))
    entries = ((48, "Run Selected Cell", ""), (72, "Run All Above", ""), (104, "Run All Cells", bold))
    words = "".join(f"<text x='{x}' y='20'{weight}>{name}</text>" for name, x, weight in menus)
    lines = "".join(f"<text x='156' y='{y}'{weight}>{name}</text>" for y, name, weight in entries)
    return (
        "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 470 128' width='470' height='128' role='img' "
        "font-family='system-ui, sans-serif' font-size='14' fill='#1b1b1b'>"
        f"<title>{escape(HOW)}</title>"
        "<rect x='.5' y='.5' width='469' height='127' rx='5' fill='#ffffff' stroke='#8b949b'/>"
        "<path d='M1 31H469' stroke='#8b949b'/><rect x='142' y='4' width='44' height='24' rx='3' fill='#e8eef3'/>"
        "<rect x='142.5' y='31.5' width='176' height='88' fill='#ffffff' stroke='#8b949b'/>"
        "<path d='M150 82H310' stroke='#d5d9dd'/>"
        "<rect x='147' y='88' width='166' height='24' rx='3' fill='#ffffff' stroke='#00598c' stroke-width='2.5'/>"
        f"{words}{lines}"
        "<path d='M402 100H334' stroke='#00598c' stroke-width='3'/><path d='M320 100l16-8v16z' fill='#00598c'/>"
        "<path d='M128 68V44' stroke='#00598c' stroke-width='3'/><path d='M128 31l-8 15h16z' fill='#00598c'/>"
        "<g fill='#00598c'><circle cx='128' cy='78' r='10'/><circle cx='418' cy='100' r='10'/></g>"
        "<g fill='#ffffff' font-weight='700'><text x='124' y='83'>1</text><text x='414' y='105'>2</text></g>"
        "</svg>"
    )


def picture_address() -> str:
    """Return the picture as an address that a page can hold."""
    return "data:image/svg+xml;base64," + base64.b64encode(picture().encode()).decode()


def beside_a_panel(title: str, with_picture: bool = True) -> str:
    """Return what stands where a panel would be while no kernel runs: the sentence and, once on a page, the picture."""
    sentence = f"<p><strong>{escape(title)}.</strong> {escape(SENTENCE)}</p>"
    seen = f"<p><img alt='{escape(HOW)}' width='470' src='{picture_address()}'></p>"
    return sentence + (seen if with_picture else "")
