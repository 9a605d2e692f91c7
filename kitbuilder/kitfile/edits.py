"""Edits on the text of a kit file: each changes the lines of one thing and no byte besides.

A value is replaced by tomlkit inside the lines of its own key, so its comment, spacing and quoting style survive.
Whole things are moved, copied and removed as blocks of lines.
"""

import re

from kitbuilder.kit.fields import fields_of
from kitbuilder.kit.things import KINDS, Header
from kitbuilder.kitfile.blocks import Block

Value = str | bool | int | list[str]


def set_value(text: str, block: Block, key: str, value: Value | None) -> str:
    """The text with one key of a block set, added or, with None, taken out."""
    if key not in block.key_spans:
        return text if value is None else _add_key(text, block, key, value)
    start, end = block.key_spans[key]
    statement = "" if value is None else _replaced(text[start:end], key, value)
    return text[:start] + statement + text[end:]


def insert_thing(text: str, after: Block, lines: str) -> str:
    """The text with a new block of lines after a block, one blank line between."""
    newline = _newline(text)
    before = _ended(text[: after.end], newline)
    gap = newline if before else ""
    return before + gap + _ended(lines, newline) + text[after.end :]


def remove_thing(text: str, blocks: tuple[Block, ...], number: int) -> str:
    """The text without a block; comments that stand apart below it stay."""
    block = blocks[number]
    rest = re.sub(r"\A(?:[ \t]*\r?\n)+", "", text[block.end :])
    before = text[: block.start]
    return before + rest if rest else _ended(before.rstrip(), _newline(text))


def swap_things(text: str, upper: Block, lower: Block) -> str:
    """The text with two blocks in each other's place; what stands between them stays."""
    newline = _newline(text)
    return (
        text[: upper.start]
        + _ended(text[lower.start : lower.end], newline)
        + text[upper.end : lower.start]
        + text[upper.start : upper.end]
        + text[lower.end :]
    )


def thing_lines(table: str, values: dict[str, Value]) -> str:
    """The lines of a new thing."""
    rows = [f"{key} = {_written(value)}" for key, value in values.items()]
    return "\n".join([f"[[{table}]]", *rows, ""])


def _replaced(statement: str, key: str, value: Value) -> str:
    import tomlkit  # as slow to import as the whole command line, and needed only once somebody edits

    document = tomlkit.parse(statement)
    document[key] = value
    return tomlkit.dumps(document)


def _add_key(text: str, block: Block, key: str, value: Value) -> str:
    """Below the key that comes before it in the schema, aligned as that one is."""
    record = KINDS[block.table] if block.table else Header
    order = [field.key for field in fields_of(record)]
    earlier = [known for known in order[: order.index(key)] if known in block.key_spans]
    newline = _newline(text)
    if not earlier:
        place = text.index("\n", block.start) + 1 if block.table else block.end
        place = _after_table_line(text, block) if block.table else place
        return _ended(text[:place], newline) + f"{key} = {_written(value)}{newline}" + text[place:]
    start, end = max(block.key_spans[known] for known in earlier)
    name = text[start:end].partition("=")[0]
    indent = name[: len(name) - len(name.lstrip())]
    padded = key.ljust(len(name.strip()) + len(name) - len(name.rstrip()) - 1)
    return _ended(text[:end], newline) + f"{indent}{padded} = {_written(value)}{newline}" + text[end:]


def _after_table_line(text: str, block: Block) -> int:
    header = re.compile(rf"^[ \t]*\[\[[ \t]*{re.escape(block.table)}.*$\n?", re.MULTILINE)
    match = header.search(text, block.start)
    return match.end() if match else block.end


def _written(value: Value) -> str:
    import tomlkit

    return tomlkit.item(value).as_string()


def _newline(text: str) -> str:
    return "\r\n" if "\r\n" in text else "\n"


def _ended(lines: str, newline: str) -> str:
    """The lines with a line break at the end, and with the file's kind of line break."""
    if newline == "\r\n":
        lines = re.sub(r"(?<!\r)\n", "\r\n", lines)
    return lines if not lines or lines.endswith("\n") else lines + newline
