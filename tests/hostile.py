"""Texts that a terminal would obey or nobody would see, and files that have them in every key that takes a text.

Which keys those are is asked of the schema (`kit/fields.py`): a key that is added is tried by itself.
"""

import json
import tomllib
from collections.abc import Callable, Collection, Iterator
from itertools import cycle, islice
from pathlib import Path

from kitbuilder.kit.fields import Field, ValueKind, fields_of
from kitbuilder.kit.file_kinds import FILE_KINDS, FileKind, record_of

_RANGES = (
    (0x00, 0x1F),  # C0: escape, bell, carriage return, line feed
    (0x7F, 0x9F),  # delete and C1, which has a control sequence introducer of one byte
    (0xAD, 0xAD),  # soft hyphen
    (0x061C, 0x061C),  # Arabic letter mark
    (0x200B, 0x200F),  # zero widths, marks of direction
    (0x2028, 0x202E),  # separators of lines and paragraphs, embeddings and overrides
    (0x2060, 0x2069),  # word joiner, isolates
    (0xFEFF, 0xFEFF),  # byte order mark
    (0xE0001, 0xE0001),  # a tag character
)
"""Unicode Character Database: general categories Cc, Cf, Zl and Zp, as far as terminals or eyes are misled by them."""
OBEYED = tuple(chr(code) for first, last in _RANGES for code in range(first, last + 1))
FORBIDDEN = frozenset(OBEYED) - {"\n"} | {chr(code) for code in range(0xD800, 0xE000)}
"""What may not be printed; line feeds are also the layout's."""
MARKUP = "[/] [bold red]"
"""Read as markup it would be an error, and red."""

CONFIGS = Path(__file__).parents[1] / "configs"
GOOD = Path(__file__).parent / "kitfile" / "good"


def raw_in(text: str) -> set[str]:
    """What stands in a printed text although it may not."""
    return FORBIDDEN & set(text)


class Hostile:
    """Gives every text a hostile one of its own, the same for the same text, so that tags still find each other."""

    def __init__(self) -> None:
        self._given: dict[str, str] = {}
        self._next = cycle(OBEYED)

    def __call__(self, text: str) -> str:
        if text not in self._given:
            obeyed = "".join(islice(self._next, 5))
            self._given[text] = f"{len(self._given)}\x1b[2J{obeyed}\u202e{MARKUP} {text[:12].strip()}."
        return self._given[text]


def hostile_folder(folder: Path, only: Collection[str] = ()) -> dict[str, Path]:
    """The shipped files and one of each kind with every key, as they stand but for their texts. Gives them by name."""
    hostile, made = Hostile(), dict[str, Path]()
    good = {f"every-{path.stem}": path for path in sorted(GOOD.glob("*.toml"))}
    shipped = {path.stem: path for path in sorted(CONFIGS.glob("*.toml"))}
    for name, path in (shipped | good).items():
        if only and name not in only:
            continue
        made[name] = folder / f"{name}.toml"
        made[name].write_text(_hostile_toml(path, hostile), encoding="utf-8")
    for path in CONFIGS.glob("*.csv"):
        (folder / path.name).write_text(path.read_text(encoding="utf-8"), encoding="utf-8")
    return made


def broken_toml(file: FileKind) -> str:
    """A file with a hostile text in place of every value of every key, and keys and tables that are not known."""
    hostile = Hostile()
    head: dict[str, object] = {"format": 1, **({} if file.name == "kit" else {"holds": file.name})}
    head |= {field.key: hostile(field.key) for field in fields_of(file.header) if field.key not in head}
    tables = {
        kind: [{field.key: hostile(f"{kind} {field.key}") for field in fields_of(record)} | {hostile(kind): 1}]
        for kind, record in file.kinds.items()
    }
    return _toml(head | {hostile("key"): hostile("value")}, tables | {hostile("table"): [{"tag": "x"}]})


def _hostile_toml(path: Path, hostile: Callable[[str], str]) -> str:
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    file = FILE_KINDS[data.get("holds", "kit")]
    tables = {kind: rows for kind, rows in data.items() if isinstance(rows, list) and kind in file.kinds}
    head = {key: value for key, value in data.items() if key not in tables}
    written = {
        kind: [dict(_hostile_values(row, fields_of(record_of(kind, file)), hostile)) for row in rows]
        for kind, rows in tables.items()
    }
    return _toml(dict(_hostile_values(head, fields_of(file.header), hostile)), written)


def _hostile_values(
    row: dict[str, object], fields: tuple[Field, ...], hostile: Callable[[str], str]
) -> Iterator[tuple[str, object]]:
    known = {field.key: field for field in fields}
    for key, value in row.items():
        kind = known[key].kind if key in known else None
        if kind in (ValueKind.TEXT, ValueKind.NAME, ValueKind.TAG, ValueKind.OWNED, ValueKind.KIT_ITEM):
            yield key, hostile(str(value))
        elif kind is ValueKind.PORT:
            stage, _, port = str(value).rpartition(" ")
            yield key, f"{hostile(stage)} {port}"
        else:
            yield key, value
    for field in fields:
        if field.key not in row and field.kind is ValueKind.TEXT:
            yield field.key, hostile(f"{field.key} of {row.get('tag')}")


def _toml(head: dict[str, object], tables: dict[str, list[dict[str, object]]]) -> str:
    lines = [f"{_quoted(key)} = {_value(value)}" for key, value in head.items()]
    for kind, rows in tables.items():
        for row in rows:
            lines += [f"[[{_quoted(kind)}]]", *(f"{_quoted(key)} = {_value(value)}" for key, value in row.items())]
    return "\n".join([*lines, ""])


def _quoted(text: str) -> str:
    """A text in quotes; the escapes of JSON are those of TOML, which wants one for delete as well."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _value(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list):
        return f"[{', '.join(_value(each) for each in value)}]"
    return _quoted(value) if isinstance(value, str) else str(value)
