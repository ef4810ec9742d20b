"""The workbooks of the series: which question each answers. A new workbook adds one row here, nothing else."""

from collections.abc import Iterable
from pathlib import Path
from typing import NamedTuple

from gardenframe.teaching import copies


class Book(NamedTuple):
    """One workbook: its key, file, short title, the question that heads it, and the minutes it takes."""

    key: str
    file: str
    title: str
    question: str
    minutes: int


BOOKS = (
    Book("start", "00_start_here.ipynb", "Start here", "Where do I start?", 15),
    Book("trellis", "01_trellis.ipynb", "Trellis", "How long is every tube of a trellis, and what does it cost?", 30),
    Book("standing", "02_will_it_stand.ipynb", "Will it stand", "At which gust should the cover come off?", 40),
    Book(
        "walkway_arch",
        "03_walkway_arch.ipynb",
        "Walkway arch",
        "Will a tall person walk under the arch, and which tube bends to it?",
        40,
    ),
    Book(
        "hoop_house",
        "04_hoop_house.ipynb",
        "Hoop house",
        "How wide can the house be, how near its hoops, and what does it cost a season?",
        45,
    ),
    Book(
        "cold_frame",
        "05_cold_frame.ipynb",
        "Cold frame",
        "How far must the lid be propped before the seedlings cook?",
        35,
    ),
    Book(
        "raised_bed",
        "06_raised_bed.ipynb",
        "Raised bed",
        "How hard does soil push, and what must the bed be made of?",
        35,
    ),
    Book(
        "enclosure",
        "07_enclosure.ipynb",
        "Enclosure",
        "Which mesh keeps which animal out, and does the gate still open next year?",
        40,
    ),
    Book(
        "shade_frame",
        "08_shade_frame.ipynb",
        "Shade frame",
        "Where does the shade fall in July, and does December keep its sun?",
        40,
    ),
    Book(
        "grow_stand",
        "09_grow_stand.ipynb",
        "Grow stand",
        "Does the loaded channel still drain, and what does the light for one lettuce cost?",
        40,
    ),
    Book("own_frame", "10_own_frame.ipynb", "Own frame", "How do I work out a frame that is none of these?", 30),
    Book(
        "what_if",
        "11_what_if.ipynb",
        "What if",
        "What if it were built of something else, and which price matters most?",
        30,
    ),
    Book("next_season", "12_next_season.ipynb", "Next season", "What does it ask for next season?", 30),
    Book(
        "scale_model",
        "13_scale_model.ipynb",
        "Scale model",
        "How does it go together, before a single tube is bought?",
        40,
    ),
    Book(
        "class_order",
        "14_class_order.ipynb",
        "Class order",
        "What does a class save that buys and cuts together, and what does each pay?",
        30,
    ),
    Book("evidence", "15_sources_and_checks.ipynb", "Sources and checks", "What do these numbers rest on?", 30),
)


def present(folder: Path | None = None) -> list[Book]:
    """Return the workbooks whose files lie in a folder, ours unless given, in the order in which they are read."""
    names = {path.name for path in copies.shipped(folder)}
    return [book for book in BOOKS if book.file in names]


class Table:
    """The workbooks as a page shows them: a link, the question, the minutes."""

    def __init__(self, books: Iterable[Book]) -> None:
        self.books = list(books)

    def __repr__(self) -> str:
        return "\n".join(f"{book.title}: {book.question} ({book.minutes} min)" for book in self.books)

    def _repr_markdown_(self) -> str:
        """Return the table with links to the files beside this one."""
        rows = [f"| [{b.title}]({b.file}) | {b.question} | {b.minutes} |" for b in self.books]
        return "\n".join(["| workbook | the question it answers | minutes |", "|:--|:--|--:|", *rows])


def table() -> Table:
    """Return the workbooks that answer a question about a structure: all but the one to start from."""
    return Table(book for book in present() if book.key != "start")
