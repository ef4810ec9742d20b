"""Tables as one workbook of a spreadsheet, a sheet each.

Tables come in, the bytes of an XLSX file go out. Text is written as text: only the sums of a bill are formulas.
"""

import io
from collections.abc import Iterable

import xlsxwriter

from gardenframe.output.exports_tables import Cell, Table, tables_of
from gardenframe.road import Plan

NARROWEST, WIDEST = 8, 48  # of a column, in letters
AS_TYPED = {"strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False, "in_memory": True}


def workbook_of(plan: Plan, system: str = "metric") -> bytes:
    """Return a workbook with a sheet for each table of a plan."""
    return workbook_with(tables_of(plan, system), plan.build.title)


def workbook_with(tables: Iterable[Table], title: str) -> bytes:
    """Return a workbook with a sheet for each table."""
    data = io.BytesIO()
    with xlsxwriter.Workbook(data, AS_TYPED) as book:
        book.set_properties({"title": title, "comments": "Defer to local codes and licensed practice."})
        bold = book.add_format({"bold": True, "text_wrap": True, "valign": "top", "bottom": 1})
        for table in tables:
            sheet = book.add_worksheet(table.key)
            _fill(sheet, table, bold)
            if table.key == "bill":
                _sums(sheet, table, bold)
    return data.getvalue()


def _fill(sheet: "xlsxwriter.worksheet.Worksheet", table: Table, bold: object) -> None:
    """Write a table: headings that stay while the rest scrolls, columns as wide as what they hold."""
    for column, heading in enumerate(table.headings):
        sheet.write_string(0, column, heading, bold)
        longest = max((len(str(row[column])) for row in table.rows if row[column] is not None), default=0)
        sheet.set_column(column, column, min(max(longest + 1, NARROWEST), WIDEST))
    for line, row in enumerate(table.rows, 1):
        for column, cell in enumerate(row):
            _cell(sheet, line, column, cell)
    sheet.freeze_panes(1, 0)
    sheet.set_landscape()
    sheet.repeat_rows(0)
    sheet.fit_to_pages(1, 0)


def _cell(sheet: "xlsxwriter.worksheet.Worksheet", line: int, column: int, cell: Cell) -> None:
    if isinstance(cell, str):
        sheet.write_string(line, column, cell)
    elif cell is not None:
        sheet.write_number(line, column, cell)


def _sums(sheet: "xlsxwriter.worksheet.Worksheet", table: Table, bold: object) -> None:
    """Write the sums under the costs, which follow when a reader changes a price by hand."""
    under = len(table.rows) + 1
    sheet.write_string(under, 0, "together", bold)
    for column, heading in enumerate(table.headings):
        if heading.startswith("Cost"):
            letter = chr(ord("A") + column)
            numbers = [row[column] for row in table.rows]
            total = sum(number for number in numbers if isinstance(number, int | float))
            sheet.write_formula(under, column, f"=SUM({letter}2:{letter}{under})", bold, total)
