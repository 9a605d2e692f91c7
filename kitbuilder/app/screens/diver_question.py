"""Opens the diver's page of a kit, after asking for whatever is missing."""

from dataclasses import dataclass

from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.screens.dialogs import Ask, Choose, TypeName, Way
from kitbuilder.app.screens.diver_screen import DiverScreen
from kitbuilder.app.screens.unsaved import tell_news
from kitbuilder.kit.file_kinds import DIVER_FILE
from kitbuilder.kit.items import Kit
from kitbuilder.kitfile.disk import complain_of_name, with_ending
from kitbuilder.kitfile.document import Document, RefusedEdit
from kitbuilder.kitfile.folder import files_holding, free_name
from kitbuilder.kitfile.schemas import save_new
from kitbuilder.kitfile.starters import diver_text
from kitbuilder.report.form import Choice

ANOTHER = "another"


@dataclass(frozen=True)  # an act rather than a record: nothing compares or unpacks it
class DiverQuestion:
    """Opens the diver's page; asks for a diver file first where the kit names none, or one that is not there."""

    screen: KitbuilderScreen
    """The screen it is asked on; it shows everything again when the kit or its diver has changed."""
    document: Document
    """Of the kit."""
    new_check: bool = False
    """Whether the page opens with a new float check."""

    @property
    def _kit(self) -> Kit:
        assert self.document.reading.kit is not None, "a diver is asked for on screens of documents that read as a kit"
        return self.document.reading.kit

    def ask(self) -> None:
        """Open the page, or ask for what is missing."""
        if self._kit.header.diver is None:
            self._ask_for_diver()
            return
        path = self.document.path.parent / self._kit.header.diver
        if not path.exists():
            self._ask_for_missing(path.name)
            return
        diver = Document(path, DIVER_FILE)
        if diver.reading.diver is None:
            why = diver.reading.problems[0].located(path.name)
            title = "The diver file cannot be read"
            self.screen.notify(why, title=title, severity="error", markup=False, timeout=12)
            return
        worn = self.document.path.name, self.document.resolved_kit()
        page = DiverScreen(diver, worn, new_check=self.new_check)
        self.screen.app.push_screen(page, lambda _: self.screen.show_all())

    def _ask_for_missing(self, name: str) -> None:
        ways = (Way("m", f"make {name}", "make"), Way("o", "name another", "other"))

        def settle(answer: str | None) -> None:
            if answer == "make":
                self._make(name)
            elif answer == "other":
                self._ask_for_diver()

        self.screen.app.push_screen(Ask(f"{name} is not in this folder", "", ways), settle)

    def _ask_for_diver(self) -> None:
        there = files_holding(self.document.path.parent, "diver")
        if not there:
            self._name_new()
            return
        choices = [*(Choice(name, "") for name in there), Choice(ANOTHER, "make a diver file")]
        self.screen.app.push_screen(
            Choose("Whose kit is it", choices), lambda name: self._name_new() if name == ANOTHER else self._take(name)
        )

    def _name_new(self) -> None:
        folder = self.document.path.parent
        ask = TypeName(
            "New diver file", free_name(folder, "diver"), lambda name: complain_of_name(folder, with_ending(name))
        )

        def make(name: str | None) -> None:
            if name is not None:
                self._make(with_ending(name))

        self.screen.app.push_screen(ask, make)

    def _make(self, name: str) -> None:
        try:
            save_new(self.document.path.parent / name, diver_text(), DIVER_FILE)
        except OSError as error:
            self.screen.notify(f"{error.strerror or error}.", title="Not made", severity="error", markup=False)
            return
        self._take(name)

    def _take(self, name: str | None) -> None:
        if name is None:
            return
        try:
            self.document.set_value(None, "diver", name)
        except RefusedEdit as refusal:
            self.screen.notify(str(refusal), title="Not done", severity="error", markup=False)
            return
        tell_news(self.screen, self.document)
        self.screen.show_all()
        self.ask()
