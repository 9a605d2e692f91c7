"""Edits of every kind in any order, held against a model of the kit made of plain lists and dictionaries.

After every step: the text says what the model says, undo and redo walk through the very bytes the text has been, lines
that were not named are still there, in their order, and the line breaks are those of the file.
"""

import copy
import re
import tomllib
from collections import Counter
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from kitbuilder.kitfile.document import Document
from tests.kitfile.support import GOOD_KIT, KITS, LAYOUTS
from tests.laws import tried

Model = list[tuple[str, dict[str, Any]]]
NUMBERS = st.integers(0, 99)
TEXTS = st.text(st.characters(codec="utf-8"), max_size=12)
NAMES = TEXTS.map(str.strip).filter(bool)
NEW_ITEMS: tuple[tuple[str, dict[str, Any]], ...] = (
    ("gauge", {}),
    ("wing", {"preset": "twinset wing", "mass": "3 kg"}),
    ("first_stage", {"ports": ["LP1 3/8-24 UNF"], "plugged": ["LP1"]}),
    ("cylinder", {"preset": "steel 12 L 232 long", "gas": "nitrox 32", "oxygen": "31.8 %"}),
    ("lead", {"mass": "1 kg", "pieces": 4, "droppable": True}),
    ("hose", {"role": "gauge", "body": "braided", "length": "28 in", "swivel_pin": True}),
)


def model_of(text: str) -> Model:
    """The tables of a text in their order; the kits used here have each `[[table]]` on a line of its own."""
    data = tomllib.loads(text)
    tables = re.findall(r"^\[\[(\w+)\]\]", text, re.MULTILINE)
    heading = {key: value for key, value in data.items() if key not in tables}
    items = {table: iter(data[table]) for table in tables}
    return [("", heading), *((table, next(items[table])) for table in tables)]


def filled_lines(text: str) -> list[str]:
    """The lines that are not blank."""
    return [line for line in text.replace("\r", "").split("\n") if line.strip()]


class AnyOrder(RuleBasedStateMachine):
    """One document, and what it should be."""

    @initialize(
        path=st.sampled_from([*KITS, *LAYOUTS, GOOD_KIT]), newline=st.sampled_from(("\n", "\r\n")), ended=st.booleans()
    )
    def open(self, path: Path, newline: str, ended: bool) -> None:
        self.folder, self.newline = TemporaryDirectory(), newline
        text = path.read_text("utf-8").rstrip("\n") + "\n" * ended
        file = Path(self.folder.name) / "kit.toml"
        file.write_bytes(text.replace("\n", newline).encode())
        self.document = Document(file)
        self.texts, self.now, self.model = [self.document.text], 0, model_of(self.document.text)
        self.apart = re.findall(r"(?<=\n\n)#.*(?=\n\n)", text)

    def teardown(self) -> None:
        if hasattr(self, "folder"):
            self.folder.cleanup()

    @property
    def count(self) -> int:
        return len(self.model) - 1

    def made(self) -> None:
        """Note that an edit was made, and that what was undone before it is gone."""
        if self.document.text != self.texts[self.now]:
            self.texts[self.now + 1 :] = [self.document.text]
            self.now += 1

    @rule(number=NUMBERS, text=TEXTS)
    def set_notes(self, number: int, text: str) -> None:
        item = number % (self.count + 1) - 1
        before = filled_lines(self.document.text)
        self.document.set_value(None if item < 0 else item, "notes", text)
        self.model[item + 1][1]["notes"] = text
        after = filled_lines(self.document.text)
        assert sum((Counter(after) - Counter(before)).values()) <= 1
        assert sum((Counter(before) - Counter(after)).values()) <= 1
        self.made()

    @rule(number=NUMBERS)
    def take_notes_out(self, number: int) -> None:
        item = number % (self.count + 1) - 1
        self.document.set_value(None if item < 0 else item, "notes", None)
        self.model[item + 1][1].pop("notes", None)
        self.made()

    @rule(number=NUMBERS, new=st.sampled_from(NEW_ITEMS), name=NAMES)
    def add(self, number: int, new: tuple[str, dict[str, Any]], name: str) -> None:
        after = number % (self.count + 1) - 1
        tag = self.document.free_tag(name)
        assert tag not in self.tags()
        table, values = new[0], {"tag": tag, **new[1]}
        before = filled_lines(self.document.text)
        place = self.document.add_item(table, values, None if after < 0 else after)
        assert place == after + 1
        self.model.insert(place + 1, (table, copy.deepcopy(values)))
        added = Counter(filled_lines(self.document.text)) - Counter(before)
        assert sum(added.values()) == 1 + len(values)
        self.made()

    @precondition(lambda self: self.count)
    @rule(number=NUMBERS)
    def copy(self, number: int) -> None:
        item = number % self.count
        tags = self.tags()
        place = self.document.copy_item(item)
        assert place == item + 1
        table, values = copy.deepcopy(self.model[item + 1])
        values["tag"] = model_of(self.document.text)[place + 1][1]["tag"]
        assert values["tag"] not in tags
        self.model.insert(place + 1, (table, values))
        self.made()

    @precondition(lambda self: self.count)
    @rule(number=NUMBERS)
    def remove(self, number: int) -> None:
        item = number % self.count
        before = filled_lines(self.document.text)
        self.document.remove_item(item)
        _, values = self.model.pop(item + 1)
        after = filled_lines(self.document.text)
        gone = len(before) - len(after)
        assert any(before[:place] + before[place + gone :] == after for place in range(len(after) + 1))
        assert gone >= 1 + len(values)
        self.made()

    @precondition(lambda self: self.count)
    @rule(number=NUMBERS, by=st.sampled_from((-1, 1)))
    def move_there_and_back(self, number: int, by: int) -> None:
        item = number % self.count
        lines, text = Counter(filled_lines(self.document.text)), self.document.text
        place = self.document.move_item(item, by)
        assert place == (item + by if 0 <= item + by < self.count else item)
        assert Counter(filled_lines(self.document.text)) == lines
        self.model.insert(place + 1, self.model.pop(item + 1))
        self.made()
        if place != item:
            self.document.move_item(place, -by)
            assert self.document.text == text
            self.model.insert(item + 1, self.model.pop(place + 1))
            self.made()

    @precondition(lambda self: self.count)
    @rule(number=NUMBERS, name=NAMES)
    def rename(self, number: int, name: str) -> None:
        item = number % self.count
        old, tag = self.model[item + 1][1]["tag"], self.document.free_tag(name)
        self.document.rename_tag(item, tag)
        self.model[item + 1][1]["tag"] = tag
        for _, values in self.model[1:]:
            values |= {key: tag for key in ("to", "on") if values.get(key) == old}
            for key in ("from", "port"):
                stage, _, port = values.get(key, "").rpartition(" ")
                if stage == old:
                    values[key] = f"{tag} {port}"
        self.made()

    @rule()
    def undo(self) -> None:
        assert self.document.undo() == (self.now > 0)
        self.now = max(self.now - 1, 0)
        self.model = model_of(self.texts[self.now])

    @rule()
    def redo(self) -> None:
        assert self.document.redo() == (self.now + 1 < len(self.texts))
        self.now = min(self.now + 1, len(self.texts) - 1)
        self.model = model_of(self.texts[self.now])

    def tags(self) -> set[str]:
        return {values["tag"] for _, values in self.model[1:]}

    @invariant()
    def the_text_says_what_the_model_says(self) -> None:
        assert self.document.text == self.texts[self.now]
        assert model_of(self.document.text) == self.model
        assert self.document.is_dirty == (self.document.text != self.texts[0])

    @invariant()
    def nothing_else_was_touched(self) -> None:
        text = self.document.text
        assert text.count("\n") == text.count(self.newline)
        for comment in self.apart:
            assert f"{self.newline}{comment}{self.newline}" in text


AnyOrder.TestCase.settings = settings(tried(25), stateful_step_count=25)
test_any_order = AnyOrder.TestCase
