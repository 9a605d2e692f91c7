"""A kit file being edited: every edit can be undone, and other people's edits survive."""

import os
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

from kitbuilder.kit.fields import ValueKind, fields_of
from kitbuilder.kit.file_kinds import FileKind
from kitbuilder.kit.items import Entry, split_port
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kitfile import edits
from kitbuilder.kitfile.changes import Change, block_number, inserting, removing, setting
from kitbuilder.kitfile.disk import Over, UnreadableFile, read_text, save_text
from kitbuilder.kitfile.edits import TomlValue
from kitbuilder.kitfile.journal import Journal, News, Recovered, forget_journal, read_journals
from kitbuilder.kitfile.problems import Problem
from kitbuilder.kitfile.raw_values import raw_text
from kitbuilder.kitfile.read import read_written, resolve_at
from kitbuilder.kitfile.reader import ParseResult, parse_as

MOST_STEPS = 500
"""Edits that can be undone."""


class ChangedOnDisk(Exception):
    """Somebody else wrote or removed the file since it was read."""

    def __init__(self, theirs: str | None) -> None:
        """Keep the text that is there now; None when the file is gone."""
        super().__init__("the file no longer exists" if theirs is None else "the file was changed by another program")
        self.theirs = theirs


class RefusedEdit(Exception):
    """An edit would make a file that is not a kit, or would touch more than it names; nothing was changed."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        """Say what is wrong and what is accepted; the place is known to whoever edits."""
        reasons = "; ".join(f"{problem.found}. {problem.accepted}" for problem in problems)
        super().__init__(reasons or "This edit would change more of the file than it names. Use a text editor.")


class Document:
    """The text of one kit file, the texts it has been, and what it says now."""

    def __init__(self, path: Path, file: FileKind | None = None) -> None:
        """Open a file as what it says it holds, or as what it should hold; what is wrong with it is in `reading`."""
        self.path = path
        self._leads_to = os.path.realpath(path)
        self.reading = read_written(path, file)
        self.file, self._saved = self.reading.file, self.reading.text
        self._history = [self._saved]
        self._now = 0
        self._preview: Preview | None = None
        self._earlier = read_journals(path, self._saved) if self.reading.contents else ()
        self.journal = Journal(path)
        self._news = [] if self.journal.is_alone() else [News.OTHER_APP]
        self._news_given: set[News] = set()

    @property
    def text(self) -> str:
        """The text as edited."""
        return self._history[self._now]

    @property
    def is_dirty(self) -> bool:
        """Whether there are edits that are not saved."""
        return self.text != self._saved

    @property
    def can_undo(self) -> bool:
        """Whether there is an edit to take back."""
        return self._now > 0

    @property
    def can_redo(self) -> bool:
        """Whether there is an undone edit to make again."""
        return self._now + 1 < len(self._history)

    @property
    def recovered(self) -> Recovered | None:
        """The newest unsaved edits of an earlier session that are neither restored nor dropped yet."""
        return self._earlier[0] if self._earlier else None

    @property
    def earlier(self) -> int:
        """How many earlier sessions left unsaved edits that are neither restored nor dropped yet."""
        return len(self._earlier)

    def take_news(self) -> tuple[News, ...]:
        """Give what the person has to know of where unsaved edits are; each is given once."""
        news = tuple(dict.fromkeys(each for each in self._news if each not in self._news_given))
        self._news_given.update(news)
        self._news = []
        return news

    def resolved_kit(self) -> ResolvedKit:
        """Resolve the kit as edited, with what the linked files on the disk say at this moment.

        Raises:
            ValueError: The document is not a kit.
        """
        if self.reading.kit is None:
            raise ValueError(f"{self.path.name} is not a kit")
        return resolve_at(self.path, self.reading.kit, self.reading.lines)

    def raw_value(self, item: int | None, key: str) -> str:
        """Give the value of a key as it stands in the file, without quotes; empty when the key is not there."""
        return raw_text(self.reading.rows[block_number(item)][1].get(key))

    def has(self, item: int | None, key: str) -> bool:
        """Say whether a key stands in the file."""
        return key in self.reading.rows[block_number(item)][1]

    def set_value(self, item: int | None, key: str, value: TomlValue | None) -> None:
        """Set one key of an item (of the heading when None); a value of None takes the key out.

        Raises:
            RefusedEdit: The value is not accepted there; the message says what is.
        """
        self.set_values(item, {key: value})

    def set_values(self, item: int | None, values: dict[str, TomlValue | None]) -> None:
        """Set several keys of an item as one edit, each as `set_value` does.

        Raises:
            RefusedEdit: A value is not accepted there.
        """
        preview = self._try(item, values)
        self._record(preview.text, preview.reading)

    def set_items(self, changes: Sequence[tuple[int | None, dict[str, TomlValue | None]]]) -> None:
        """Set keys of several items as one edit, each as `set_values` does.

        Raises:
            RefusedEdit: A value is not accepted there.
        """
        self._edit(*(setting(item, key, value) for item, values in changes for key, value in values.items()))

    def preview(self, item: int | None, key: str, value: TomlValue | None) -> ParseResult:
        """Say what the file would hold with one key set; nothing is changed.

        `set_value` with the same key and value then reads nothing again: what it says is kept until another is tried.

        Raises:
            RefusedEdit: The value is not accepted there.
        """
        return self._try(item, {key: value}).reading

    def rename_tag(self, item: int, tag: str) -> None:
        """Give an item another tag, and every reference to it as well.

        Raises:
            RefusedEdit: The tag is taken or empty.
        """
        old = self._items()[item].tag
        changes: list[tuple[int, str, TomlValue | None]] = [(item, "tag", tag)]
        for number, other in enumerate(self._items()):
            for field in fields_of(type(other)):
                reference = getattr(other, field.attribute)
                if field.kind is ValueKind.TAG and reference == old:
                    changes.append((number, field.key, tag))
                elif field.kind is ValueKind.TAGS and old in reference:
                    changes.append((number, field.key, [tag if each == old else each for each in reference]))
                elif field.kind is ValueKind.PORT and reference and split_port(reference)[0] == old:
                    changes.append((number, field.key, f"{tag} {split_port(reference)[1]}"))
        self._edit(*(setting(*change) for change in changes))

    def add_item(self, kind: str, values: dict[str, TomlValue], after: int | None) -> int:
        """Add a new item after another (after the heading when None) and give its number.

        Raises:
            RefusedEdit: The values do not make an item of that kind.
        """
        self.add_items(kind, [values], after)
        return block_number(after)

    def add_items(self, kind: str, items: Sequence[dict[str, TomlValue]], after: int | None) -> None:
        """Add new items of a kind below each other after another, as one edit.

        Raises:
            RefusedEdit: Values do not make an item of that kind.
        """
        first = block_number(after)
        self._edit(
            *(
                inserting(first + number, edits.item_lines(kind, values), (kind, dict(values)))
                for number, values in enumerate(items)
            )
        )

    def copy_item(self, item: int) -> int:
        """Copy an item to the place below it, with a tag of its own, and give the number of the copy."""
        tag = self.free_tag(self._items()[item].tag)
        block = self.reading.blocks[item + 1]
        lines = self.text[block.start : block.end]
        self._edit(inserting(item + 1, lines, self.reading.rows[item + 1]), setting(item + 1, "tag", tag))
        return item + 1

    def remove_item(self, *items: int) -> None:
        """Take items out, as one edit. What refers to one then leads nowhere, and is found."""
        self._edit(*(removing(item + 1) for item in sorted(items, reverse=True)))

    def exchange_items(self, gone: Sequence[int], kind: str, values: dict[str, TomlValue]) -> None:
        """Take items out and add a new one at the end, as one edit.

        Raises:
            RefusedEdit: The values do not make an item of that kind.
        """
        last = block_number(len(self._items()) - 1)
        new = inserting(last, edits.item_lines(kind, values), (kind, dict(values)))
        self._edit(new, *(removing(block_number(item)) for item in sorted(gone, reverse=True)))

    def move_item(self, item: int, by: int) -> int:
        """Move an item one place up (-1) or down (+1) in the file. Gives its new number."""
        target = item + by
        if not 0 <= target < len(self._items()):
            return item
        upper = min(item, target) + 1
        self._edit(
            Change(
                lambda text, reading: edits.swap_items(text, reading.blocks[upper], reading.blocks[upper + 1]),
                lambda rows: (*rows[:upper], rows[upper + 1], rows[upper], *rows[upper + 2 :]),
            )
        )
        return target

    def free_tag(self, wanted: str) -> str:
        """Give the tag itself if no item has it, else with the first free number behind."""
        taken = {item.tag for item in self._items()}
        stem = wanted.rstrip("0123456789").rstrip() or wanted
        number = 2
        while wanted in taken:
            wanted, number = f"{stem} {number}", number + 1
        return wanted

    def undo(self) -> bool:
        """Take back the last edit; False when there is none."""
        return self._step(-1)

    def redo(self) -> bool:
        """Make the undone edit again; False when there is none."""
        return self._step(+1)

    def recover(self) -> bool:
        """Take up the newest unsaved edits of an earlier time, as one edit. False when they no longer read.

        Their journal goes once they are kept in the one of this document; until then it stays.
        """
        earlier, self._earlier = self._earlier[0], self._earlier[1:]
        if parse_as(earlier.text, self.file).contents is None:
            return False
        self._record(earlier.text)
        # The old journal goes only when a new one holds its edits.
        if self.journal.kept is not None and earlier.kept is not None:
            forget_journal(earlier.kept)
        return True

    def forget_recovered(self) -> None:
        """Drop the newest unsaved edits of an earlier time."""
        earlier, self._earlier = self._earlier[0], self._earlier[1:]
        if earlier.kept is not None:
            forget_journal(earlier.kept)

    def forget_edits(self) -> None:
        """Drop the edits that are not saved, on the way out."""
        self.journal.clear()

    @property
    def saved_text(self) -> str:
        """The text as last read or written."""
        return self._saved

    def save(self, *, over_theirs: bool = False) -> None:
        """Write the file.

        Args:
            over_theirs: Write even if somebody else changed it since.

        Raises:
            ChangedOnDisk: Somebody else changed it since; nothing was written.
            OSError: The disk refused; nothing was written.
        """
        theirs = self.on_disk()
        if theirs != self._saved and not over_theirs:
            raise ChangedOnDisk(theirs)
        # A link is followed when it is the one that was opened; one that came into its place since is not.
        is_same = os.path.realpath(self.path) == self._leads_to
        save_text(self.path, self.text, Over.LINKED if is_same else Over.FILE)
        self._saved = self.text
        self.journal.clear()

    def save_as(self, path: Path) -> None:
        """Write a new file, in any folder, and go on editing that one.

        Raises:
            FileExistsError: There is such a file; nothing was written.
            OSError: The disk refused; nothing was written.
        """
        save_text(path, self.text, Over.NOTHING)
        self.journal.clear()
        self.path, self._saved = path, self.text
        self.journal, self._news_given, self._leads_to = Journal(path), set(), os.path.realpath(path)

    def take_theirs(self) -> None:
        """Replace the text by what is on the disk now, as one edit that can be undone."""
        theirs = self.on_disk()
        if theirs is None:
            return
        self._saved = theirs
        if theirs != self.text:
            self._record(theirs)
        self.journal.clear()

    def on_disk(self) -> str | None:
        """Give the text of the file as it is on the disk now; None when it is not there or cannot be read."""
        try:
            return read_text(self.path)
        except UnreadableFile:
            return None

    def _items(self) -> tuple[Entry, ...]:
        return self.reading.contents.items if self.reading.contents else ()

    def _try(self, item: int | None, values: dict[str, TomlValue | None]) -> "Preview":
        """Set keys without recording it; the result of the same edit of the same text is taken from the last time.

        Raises:
            RefusedEdit: A value is not accepted there.
        """
        # Compared as written: True, 1 and 1.0 are equal, but not the same in a file. A list may change later.
        before, edit = self.text, repr((item, values))
        if self._preview is None or (self._preview.before, self._preview.edit) != (before, edit):
            changes = (setting(item, key, value) for key, value in values.items())
            self._preview = Preview(before, edit, *self._changed(*changes))
        return self._preview

    def _edit(self, *changes: Change) -> None:
        """Make changes one after the other and record them as one edit.

        Raises:
            RefusedEdit: The result is not a kit, or differs in more than the changes name.
        """
        self._record(*self._changed(*changes))

    def _changed(self, *changes: Change) -> tuple[str, ParseResult]:
        text, reading, expected = self.text, self.reading, self.reading.rows
        for change in changes:
            text, expected = change.text(text, reading), change.rows(expected)
            reading = parse_as(text, self.file)
            # The TOML library loses comments and keys in rare cases: an edit that would is refused.
            if reading.rows != expected:
                raise RefusedEdit(reading.problems)
        if reading.contents is None or reading.problems:
            raise RefusedEdit(reading.problems)
        return text, reading

    def _record(self, text: str, reading: ParseResult | None = None) -> None:
        if text == self.text:
            return
        self._history[self._now + 1 :] = [text]
        # One text more than steps: the text before the first step that can be undone.
        del self._history[: -MOST_STEPS - 1]
        self._now = len(self._history) - 1
        self._show(reading or parse_as(text, self.file))

    def _step(self, by: int) -> bool:
        if not 0 <= self._now + by < len(self._history):
            return False
        self._now += by
        self._show(parse_as(self.text, self.file))
        return True

    def _show(self, reading: ParseResult) -> None:
        self.reading = reading
        if not self.is_dirty:
            self.journal.clear()
            return
        if self.journal.kept is None and not self.journal.is_alone():
            self._news.append(News.OTHER_APP)
        if (news := self.journal.keep(self._saved, self.text)) is not None:
            self._news.append(news)


class Preview(NamedTuple):
    """An edit of the keys of one item that was tried, and its result."""

    before: str
    """The text that was edited."""
    edit: str
    """The item, its keys and values, as Python writes them."""
    text: str
    reading: ParseResult
