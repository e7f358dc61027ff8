import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldproof.drawing.records import Table
from foldproof.drawing.wording import one_line
from foldproof.exports.csv import table_csv


def table(*rows, columns=("piece", "cut")):
    return Table(title="Cut list", columns=columns, rows=rows)


def read(text):
    return list(csv.reader(io.StringIO(text, newline="")))


def test_rows_under_columns_with_crlf():
    assert table_csv(table(("tray", "10 3/4 in"))) == "piece,cut\r\ntray,10 3/4 in\r\n"


def test_commas_and_quotes_are_quoted():
    text = table_csv(table(('5" x 7", plain', "8,5 cm")))
    assert text.endswith('"5"" x 7"", plain","8,5 cm"\r\n')
    assert read(text)[1] == ['5" x 7", plain', "8,5 cm"]


@pytest.mark.parametrize(
    "cell", ["=1+1", "+cmd|x", "-2+3", "@SUM(A1)", " =1", "\t=1", "\uff1d1", '=HYPERLINK("x")', "-3 1/4"]
)
def test_no_cell_is_a_formula(cell):
    assert read(table_csv(table((cell, ""))))[1][0].startswith("'")


@pytest.mark.parametrize("cell", ["-1", "-1.5", "-1,5", "+2", "3 1/4", "a-b", "0.27 mm"])
def test_plain_numbers_and_words_stay(cell):
    assert read(table_csv(table((cell, ""))))[1][0] == cell


@given(st.lists(st.tuples(st.text(), st.text()), max_size=5))
def test_any_text_is_read_back(rows):
    back = read(table_csv(table(*rows)))
    assert len(back) == len(rows) + 1
    for row, found in zip(rows, back[1:], strict=True):
        assert [cell.removeprefix("'") for cell in found] == [
            one_line(cell).removeprefix("'") for cell in row
        ]


def test_a_row_must_fill_its_columns():
    with pytest.raises(AssertionError):
        table_csv(table(("only one",)))
