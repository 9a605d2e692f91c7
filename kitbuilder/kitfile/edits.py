"""Edits on the text of a kit file: each changes the lines of one item and no other byte.

A value is replaced by tomlkit inside the lines of its own key, so its comment, spacing and kind of quote survive.
Whole items are moved, copied and removed as blocks of lines.
"""

import re

from kitbuilder.kit.fields import fields_of
from kitbuilder.kit.file_kinds import KIT_FILE, FileKind, record_of
from kitbuilder.kitfile.blocks import Block
from kitbuilder.kitfile.old_words import renew_statement

TomlValue = str | bool | int | list[str]

_SPACING = re.compile(r"([ \t]*)(.*?)([ \t]*)=([ \t]*)")
_BLANK_ABOVE = re.compile(r"\A(?:[ \t]*\r?\n)+")
_BLANK_BELOW = re.compile(r"(?<=\n)(?:[ \t]*\r?\n)+\Z")


def set_value(text: str, block: Block, key: str, value: TomlValue | None, file: FileKind = KIT_FILE) -> str:
    """Set, add or (with None) take out one key of a block, and give the text."""
    if key not in block.key_spans:
        return text if value is None else _add_key(text, block, key, value, file)
    start, end = block.key_spans[key]
    statement = "" if value is None else _replaced(text[start:end], key, value)
    return text[:start] + statement + text[end:]


def insert_item(text: str, after: Block, lines: str) -> str:
    """Put a new block of lines after a block, with one blank line between, and give the text."""
    newline = _newline(text)
    before = _ended(text[: after.end], newline)
    gap = newline if before else ""
    return before + gap + _ended(_with_newlines(lines, newline), newline) + text[after.end :]


def remove_item(text: str, blocks: tuple[Block, ...], number: int) -> str:
    """Take a block out and give the text; comments that stand apart below it stay."""
    block = blocks[number]
    before, rest = text[: block.start], _BLANK_ABOVE.sub("", text[block.end :])
    return before + rest if rest else _BLANK_BELOW.sub("", before)


def swap_items(text: str, upper: Block, lower: Block) -> str:
    """Put two blocks in each other's place and give the text; what stands between them stays."""
    first, between, second = text[upper.start : upper.end], text[upper.end : lower.start], text[lower.start : lower.end]
    if not second.endswith("\n"):  # the last line of the file stays without a line break
        newline = "\r\n" if first.endswith("\r\n") else "\n"
        first, second = first.removesuffix(newline), second + newline
    return text[: upper.start] + second + between + first + text[lower.end :]


def item_lines(table: str, values: dict[str, TomlValue]) -> str:
    """Give the lines of a new item."""
    rows = [f"{key} = {_written(value)}" for key, value in values.items()]
    return "\n".join([f"[[{table}]]", *rows, ""])


def _replaced(statement: str, key: str, value: TomlValue) -> str:
    import tomlkit  # as slow to import as the whole command line, and needed only once somebody edits

    statement = renew_statement(statement, key)
    document = tomlkit.parse(statement)
    # tomlkit writes double quotes by default; a value that stands in single quotes keeps them.
    single = statement.partition("=")[2].lstrip().startswith("'")
    if single and isinstance(value, str) and value.isprintable() and "'" not in value:
        document[key] = tomlkit.string(value, literal=True)
    else:
        document[key] = value
    return tomlkit.dumps(document)


def _add_key(text: str, block: Block, key: str, value: TomlValue, file: FileKind) -> str:
    """Put a new key below the one that comes before it in the schema, else above the first, aligned in the same way."""
    order = [field.key for field in fields_of(record_of(block.table, file))]
    earlier = [known for known in order[: order.index(key)] if known in block.key_spans]
    newline = _newline(text)
    first = min(block.key_spans.values(), default=(block.end, block.end))
    start, end = max((block.key_spans[known] for known in earlier), default=first)
    spelling = _SPACING.match(text, start, end)
    indent, name, gap, space = spelling.groups() if spelling else ("", "", " ", " ")
    if " " in gap:
        gap = " " * max(len(name + gap) - len(key), 1)
    place = end if earlier else start
    return _ended(text[:place], newline) + f"{indent}{key}{gap}={space}{_written(value)}{newline}" + text[place:]


def _written(value: TomlValue) -> str:
    import tomlkit

    return tomlkit.item(value).as_string()


def _newline(text: str) -> str:
    """Give the line break of the file: that of its first line."""
    return "\r\n" if text.partition("\n")[0].endswith("\r") else "\n"


def _with_newlines(lines: str, newline: str) -> str:
    return re.sub(r"\r?\n", newline, lines)


def _ended(lines: str, newline: str) -> str:
    """Give the lines with a line break at the end."""
    return lines if not lines or lines.endswith("\n") else lines + newline
