"""Rows of cells as letters: A to Z, then AA, AB, as a spreadsheet names columns. What a tray is, `trade/` tells."""


def row_letters(row: int) -> str:
    """Letters of a row counted from 0."""
    letters = ""
    row += 1
    while row:
        row, rest = divmod(row - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def row_number(letters: str) -> int:
    """The row, from 0, that capital letters name: the reverse of `row_letters`."""
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - ord("A") + 1
    return number - 1


def cell_name(row: int, column: int) -> str:
    """A cell by its row letters and column number, both counted from 0: `A1` is the first."""
    return f"{row_letters(row)}{column + 1}"
