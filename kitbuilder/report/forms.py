"""The forms in which an answer can be written, and the ending of a file in each."""

import re
from importlib import import_module
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from kitbuilder.report.answer import Answer
    from kitbuilder.report.numbers import System


class OutputForm(NamedTuple):
    """One form of an answer."""

    name: str
    """Of its file in `renderers/`; what `--form` accepts."""
    ending: str
    """Of a file in this form."""
    is_for_people: bool = True
    """Whether people read it: complaints then go to standard error."""
    comes_in_parts: bool = True
    """Whether parts that are printed one after the other make one answer: a long one is printed as it is worked out."""
    mark: str = ""
    """Stands at the beginning of a file, and not in what is printed."""
    line_end: str = "\n"
    """Ends each line of a file; what is printed has line feeds."""

    def as_file(self, written: str) -> str:
        """Give what a file of this form holds, of what would be printed."""
        return self.mark + written.replace("\n", self.line_end)


TEXT, JSON = OutputForm("text", ".txt"), OutputForm("json", ".json", is_for_people=False, comes_in_parts=False)
HTML = OutputForm("html", ".html", comes_in_parts=False)
# Without the mark a spreadsheet takes the file for one in its local encoding; RFC 4180, 2.1 ends records by CR LF.
CSV = OutputForm("csv", ".csv", comes_in_parts=False, mark="\ufeff", line_end="\r\n")
MARKDOWN = OutputForm("markdown", ".md", comes_in_parts=False)
OUTPUT_FORMS = {form.name: form for form in (TEXT, MARKDOWN, HTML, CSV, JSON)}
"""Each by its name."""
FORMS = tuple(OUTPUT_FORMS)
"""What `--form` accepts."""
ENDINGS = ".html, .md, .csv, .txt or .json"
"""The endings of all forms, for a sentence."""


def render(form: OutputForm, answer: "Answer", system: "System", width: int) -> str:
    """Write an answer in a form, in the reader's units; a picture in signs is at most `width` of them wide."""
    written: str = import_module(f"kitbuilder.report.renderers.{form.name}").render(answer, system, width)
    return written


def form_of_file(name: str) -> OutputForm | None:
    """Give the form that a file's name asks for by its ending, in any letter case; None where it names none.

    An ending alone, such as ".html", names none: it would be the name of a file that is not listed.
    """
    plain = name.lower().rpartition("/")[2]
    found = [form for form in OUTPUT_FORMS.values() if plain.endswith(form.ending) and plain != form.ending]
    return found[0] if found else None


def other_ending(name: str) -> str:
    """Give the ending of a file's name that is of no form, such as ".pdf"; empty where it has none.

    A dot before a digit, as in "reef 1.5", begins no ending.
    """
    found = OTHER_ENDING.search(name)
    return "" if found is None or form_of_file(name) else found[0]


OTHER_ENDING = re.compile(r"(?<=[^/.])\.[a-z][a-z0-9]{1,4}$", re.IGNORECASE)
