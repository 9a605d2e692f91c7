"""The style sheet styles what is there: a widget that is renamed takes its style along."""

import importlib
import re
from pathlib import Path

import textual.widgets
from textual.widget import Widget

import kitbuilder.app
from tests.each import each

FOLDER = Path(kitbuilder.app.__file__).parent
SHEET = re.sub(r"/\*.*?\*/|\{.*?\}", "", (FOLDER / "kitbuilder.tcss").read_text(encoding="utf-8"), flags=re.DOTALL)
NAMED = sorted(set(re.findall(r"(?<![\w#.$:-])[A-Z]\w+", SHEET)))


def widgets() -> set[str]:
    """The names of our widgets and screens, and of those of Textual."""
    for path in (*(FOLDER / "widgets").glob("*.py"), *(FOLDER / "screens").glob("*.py")):
        importlib.import_module(f"kitbuilder.app.{path.parent.name}.{path.stem}")
    found, below = set(textual.widgets.__all__) | {"Screen", "Widget"}, [Widget]
    while below:
        kind = below.pop()
        found.add(kind.__name__)
        below += kind.__subclasses__()
    return found


WIDGETS = widgets()


def test_the_sheet_names_some():
    assert {"ItemList", "Findings"} <= set(NAMED)


@each("name", NAMED)
def test_a_widget_that_the_sheet_names_is_there(name):
    assert name in WIDGETS
