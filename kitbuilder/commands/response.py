"""One run of a command: what it reads, the problems it finds, and how its answer is printed."""

from argparse import Namespace
from collections.abc import Iterable, Sequence
from pathlib import Path
from shutil import get_terminal_size
from typing import TYPE_CHECKING

from kitbuilder.commands.exit_codes import UNREADABLE
from kitbuilder.foreign import visible
from kitbuilder.report.forms import ENDINGS, OUTPUT_FORMS, TEXT, form_of_file, render
from kitbuilder.streams import write_error, write_out

if TYPE_CHECKING:
    from kitbuilder.assess.assessment import Assessment
    from kitbuilder.kit.file_kinds import FileKind
    from kitbuilder.kit.gear import Gear
    from kitbuilder.kit.resolved import ResolvedKit
    from kitbuilder.kit.stock import Stock
    from kitbuilder.kitfile.problems import Problem
    from kitbuilder.kitfile.reader import ParseResult
    from kitbuilder.report.answer import Complaint, FileRead
    from kitbuilder.report.page import Page, Section

NARROWEST, WIDEST = 60, 100
"""Characters of a line of text, at least and at most, whatever the terminal has."""
WITHOUT_TERMINAL = 80
"""Characters of a line of text that goes into a file or a pipe."""


class Response:
    """Collects what a command reads and what it complains about, and prints its answer in the form that was asked.

    Complaints go to standard error at once when the answer is for people. For programs they are in the answer, so that
    a program finds them in one place.
    """

    def __init__(self, command: str, options: Namespace, about: str = "") -> None:
        """Start with nothing read; `about` says what the answer is, for the head of a document."""
        self.command, self.options, self.about = command, options, about
        self.output: str | None = getattr(options, "output", None)
        by_ending = form_of_file(self.output or "")
        self.form = OUTPUT_FORMS[options.form] if options.form else by_ending or TEXT
        self.files: list[FileRead] = []
        self.problems: list[Complaint] = []

    @property
    def is_for_people(self) -> bool:
        """Whether people read the answer, rather than a program."""
        return self.form.is_for_people

    # ---- reading ----

    def kit(self, name: str) -> "ResolvedKit | None":
        """Read a kit with all files that it names; None when it cannot be used."""
        from kitbuilder.kit.file_kinds import KIT_FILE

        return self.read(name, KIT_FILE).resolved

    def assessed(self, names: Iterable[str]) -> "list[tuple[str, Assessment]]":
        """Work out the kits of the files that can be read, each with its name."""
        from kitbuilder.assess.assessment import assess

        kits = [(name, self.kit(name)) for name in names]
        return [(name, assess(kit)) for name, kit in kits if kit is not None]

    def gear(self, name: str) -> "Gear | None":
        """Read a gear file; None when it cannot be used."""
        from kitbuilder.kit.file_kinds import GEAR_FILE

        return self.read(name, GEAR_FILE).gear

    def stock(self, name: str) -> "tuple[Stock, tuple[str, ...]] | None":
        """Read a stock, with what is wrong in rows that are left out; None when it cannot be used."""
        from kitbuilder.kit.file_kinds import STOCK_FILE

        reading = self.read(name, STOCK_FILE)
        if reading.stock is None:
            return None
        return reading.stock, tuple(problem.located(name) for problem in reading.problems)

    def read(self, name: str, kind: "FileKind | None" = None) -> "ParseResult":
        """Read a file and keep what came of it: its name, or its problems.

        Args:
            name: The file, as it was given.
            kind: What it has to hold; None for whatever it says.
        """
        from kitbuilder.kitfile.read import read
        from kitbuilder.report.answer import FileRead

        reading = read(Path(name), kind)
        if reading.contents is not None:
            self.files.append(FileRead(name, reading.file.name, reading.contents.header.name))
        if reading.contents is None or kind is None:
            self.complain(name, reading.problems)
        return reading

    # ---- complaining ----

    def complain(self, file: str, problems: "Iterable[Problem]") -> None:
        """Say why a file cannot be used, one line per problem."""
        from kitbuilder.report.answer import Complaint

        for found in problems:
            message = found.located(file)
            self._add(Complaint(file, found.line, found.place, found.value, found.accepted, message), message)

    def not_used(self, messages: Iterable[str], file: str | None = None) -> None:
        """Keep what is wrong with linked files for the answer. For people, the page says so itself.

        Args:
            messages: What is wrong, a sentence each.
            file: The kit that links to them; None where there are several.
        """
        from kitbuilder.report.answer import Complaint

        self.problems += [Complaint(file, None, "", "", "", message) for message in messages]

    def refuse(self, sentence: str) -> int:
        """Say why there is no answer, print what a program needs, and give the exit code for it."""
        self._complain_of(sentence, "", "", "")
        return self.without_answer()

    def not_accepted(self, sentence: str) -> None:
        """Say why an answer on the command line is not accepted; others may be wrong as well."""
        self._complain_of(sentence, "", "", "")

    def word_meant(self, place: str, typed: str, list_name: str, known: Sequence[str]) -> str | None:
        """Give the word of a list that was meant by what somebody typed; None, and a complaint, where it is not clear.

        Args:
            place: The command and its option.
            typed: What was typed.
            list_name: The list of everyday words that counts for it.
            known: The words that are accepted.
        """
        from kitbuilder.catalogue.everyday_words import MOST_PRINTED, accepted_words, find_word

        meant = find_word(list_name, typed, known)
        if meant.word is None:
            accepted = accepted_words(meant, known)
            is_lost = len(known) > MOST_PRINTED and not meant.candidates
            what = f'no {list_name} matches "{typed}"' if is_lost else f'found "{typed}"'
            self._complain_of(f"{place}: {what}. {accepted}", place, f'"{typed}"', accepted)
        return meant.word

    def _complain_of(self, sentence: str, place: str, found: str, accepted: str) -> None:
        from kitbuilder.report.answer import Complaint

        ended = _ended(sentence)
        self._add(Complaint(None, None, place, found, accepted, ended), f"kitbuilder: {ended}")

    def _add(self, complaint: "Complaint", line: str) -> None:
        self.problems.append(complaint)
        if self.is_for_people or self.output is not None:
            write_error(f"{visible(line)}\n")

    # ---- answering ----

    def refuse_output(self) -> int | None:
        """Say before any work why the answer cannot be written where it was asked; None where nothing is known."""
        if self.output is None:
            return None
        from kitbuilder.commands.documents import complain_of_document

        by_ending = form_of_file(self.output)
        if by_ending is None:
            return self.refuse(f'{self.command}: -o: found "{self.output}". Accepted: a name that ends in {ENDINGS}')
        if by_ending is not self.form:
            asked = f'found "{self.output}" and --form {self.form.name}'
            return self.refuse(f"{self.command}: -o: {asked}. Leave out --form: the ending of the file decides")
        complaint = complain_of_document(self.output, replaces=self.options.replace)
        return None if complaint is None else self.refuse(complaint)

    def print_now(self, section: "Section") -> bool:
        """Print a part of a long answer before the rest is worked out, and a blank line; says whether it did.

        Only what people read can be printed in parts. Any other form has to have the section on its page.
        """
        from kitbuilder.report.page import Page

        comes_in_parts = self.form.comes_in_parts and self.output is None
        if comes_in_parts:
            write_out(self._rendered(Page([section])) + "\n")
        return comes_in_parts

    def give(self, page: "Page | None", code: int) -> int:
        """Print the answer, or write it to the file that was asked; gives the exit code back, or that of a refusal."""
        if self.output is None:
            write_out(self._rendered(page))
            return code
        return code if page is None else self._write_document(self._rendered(page), code)

    def _write_document(self, written: str, code: int) -> int:
        from kitbuilder.commands.documents import write_document

        complaint = write_document(str(self.output), self.form, written, replaces=self.options.replace)
        if complaint is not None:
            self._complain_of(complaint, "", "", "")
            return UNREADABLE
        write_out(f"Written to {visible(str(self.output))}.\n")
        return code

    def _rendered(self, page: "Page | None") -> str:
        from kitbuilder.clock import today
        from kitbuilder.report.answer import Answer
        from kitbuilder.report.numbers import System

        is_document = self.output is not None or self.form is not TEXT
        made = today() if is_document else None
        answer = Answer(self.command, tuple(self.files), tuple(self.problems), page, self.about, made)
        width = text_width() if self.output is None else WITHOUT_TERMINAL
        return render(self.form, answer, System(getattr(self.options, "units", "metric")), width)

    def without_answer(self) -> int:
        """Answer with the problems alone; gives the exit code for it."""
        return self.give(None, UNREADABLE)


def text_width() -> int:
    """Give the characters of a line: what COLUMNS or the terminal says, within limits that stay readable; else 80."""
    return min(max(get_terminal_size((WITHOUT_TERMINAL, 24)).columns, NARROWEST), WIDEST)


def complain(sentence: str) -> int:
    """Say on standard error why nothing is done, before any command runs; gives the exit code for it."""
    write_error(f"{visible(f'kitbuilder: {_ended(sentence)}')}\n")
    return UNREADABLE


def _ended(sentence: str) -> str:
    """Give a sentence with a full stop at its end, unless it is a question."""
    return f"{sentence.removesuffix('.')}{'' if sentence.endswith('?') else '.'}"
