"""Reading a table that was pasted: one line a row, the columns in the sheet's order."""

from calculators import units
from calculators.numbers import DIGITS, SPACES, at_least, parse, plain, trim

# Between the cells of a table that a spreadsheet wrote; a comma may mark decimals too.
SEPARATORS = "\t;"


def read(text, columns):
    """Rows of numbers from a text. columns: [{label, possible}].

    A first line without any digit is taken as headings; empty lines are passed over.
    Returns (rows, problem, kind): rows a list of lists of floats, problem a sentence or "".
    """
    rows = []
    number = 0
    headed = False
    for line in text.replace("\r\n", "\n").replace("\r", "\n").split("\n"):
        number = number + 1
        if trim(line) == "":
            continue
        if not rows and not headed and not any([sign in DIGITS for sign in line]):
            headed = True
            continue
        row, problem, kind = _row(line, columns)
        if problem:
            return [], "Line " + plain(number) + ": " + problem, kind
        rows.append(row)
    if not rows:
        return [], "There is no line with numbers. Write one line for each, " + _named(columns) + ".", "unreadable"
    return rows, "", ""


def _row(line, columns):
    """One line as (row, problem, kind)."""
    found = _cells(line)
    quoted = "“" + trim(line)[:40] + "”"
    if len(found) != len(columns):
        parts = "part" if len(found) == 1 else "parts"
        message = quoted + " has " + plain(len(found)) + " " + parts + ". Write " + _named(columns)
        return [], message + ", with a space or tab between them and nothing else.", "unreadable"
    row = []
    for place in range(len(columns)):
        column = columns[place]
        value, unit, fault = parse(found[place])
        if fault == "" and unit != "":
            fault = "“" + found[place][:40] + "” is more than a number. Write the number alone."
        if fault:
            return [], fault, "unreadable"
        low, high = column["possible"]
        if not (at_least(value, low) and at_least(high, value)):
            limits = units.with_unit(plain(low) + " to " + plain(high), "")
            message = column["label"] + " of " + plain(value) + " cannot be right: it takes " + limits + "."
            return [], message, "impossible"
        row.append(value)
    return row, "", ""


def _cells(line):
    """The cells of a line: at tabs or semicolons, else at spaces, else at commas."""
    if any([sign in line for sign in SEPARATORS]):
        return _parted(line, SEPARATORS, "")
    # A comma beside a space stands between two cells and marks no decimals.
    found = _parted(line, SPACES, ",")
    return found if len(found) > 1 else _parted(line, ",", "")


def _parted(line, separators, loose):
    """What stands between separators, without empty cells and without `loose` signs at either end."""
    found = []
    cell = ""
    for sign in line + separators[0]:
        if sign not in separators:
            cell = cell + sign
            continue
        cell = trim(cell)
        if len(cell) > 1 and cell[0] == "\"" and cell[-1] == "\"":
            # Some programs write every cell of a file in quotes.
            cell = trim(cell[1:-1])
        while cell[:1] != "" and cell[0] in loose:
            cell = cell[1:]
        while cell[:1] != "" and cell[-1] in loose:
            cell = cell[:-1]
        if cell != "":
            found.append(cell)
        cell = ""
    return found


def _named(columns):
    """The columns in words: "global grade and score"."""
    words = [column["label"][:1].lower() + column["label"][1:] for column in columns]
    return " and ".join(words)
