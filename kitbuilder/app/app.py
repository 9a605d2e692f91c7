"""The app: which screen is shown, and the units they all share."""

import asyncio
import gc
import os
import signal
import sys
import time
from collections.abc import Iterable, Sequence
from datetime import date
from pathlib import Path
from threading import Thread
from typing import TYPE_CHECKING, Any

from textual import events
from textual.app import App, SystemCommand
from textual.await_complete import AwaitComplete
from textual.filter import LineFilter
from textual.notifications import SeverityLevel
from textual.screen import Screen

from kitbuilder.app.content import Content, OnlyVisible
from kitbuilder.app.diver_units import units_of
from kitbuilder.app.keys import bindings_of
from kitbuilder.app.preferences import Preferences
from kitbuilder.app.screens.base import KitbuilderScreen, Shell
from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.editing import Editing
from kitbuilder.app.screens.problems_screen import Problems
from kitbuilder.app.screens.too_small import TooSmall
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.app.window import GIVE_TITLE_BACK, KEEP_TITLE, size_complaint, title_sequence
from kitbuilder.assess.assessment import Assessment
from kitbuilder.clock import today
from kitbuilder.commands import all_commands
from kitbuilder.commands.command import Command
from kitbuilder.foreign import visible
from kitbuilder.kit.diver import Diver
from kitbuilder.kit.file_kinds import KIT_FILE
from kitbuilder.kit.gear import Gear
from kitbuilder.kit.items import Kit
from kitbuilder.kit.stock import Stock
from kitbuilder.kit.trip import Trip
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.read import read_written
from kitbuilder.kitfile.settings import settings_path
from kitbuilder.report.actions import ACTIONS
from kitbuilder.report.numbers import System

if TYPE_CHECKING:
    from kitbuilder.plans.changeover import Changeover


class KitbuilderApp(App[None]):
    """Shows one screen at a time: a shelf, a bench, two kits side by side, or the problems of a file."""

    TITLE = "kitbuilder"
    CSS_PATH = "kitbuilder.tcss"
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (116, "-wide")]  # noqa: RUF012  declared so by Textual

    def __init__(
        self,
        path: Path,
        system: System | None = System.METRIC,
        *,
        plain_pictures: bool = False,
        day: date | None = None,
        preferences: Preferences | None = None,
    ) -> None:
        """Open a folder as a shelf, or a file on the bench.

        Args:
            path: The folder or the file; what is not there is a folder still to be made.
            system: The units shown at first; None for those of the diver whose kit is shown, else metric.
            plain_pictures: Whether pictures are drawn with letters and signs.
            day: The day for which the gear file is checked; today by default.
            preferences: The user's settings; none are read and none are remembered by default.
        """
        super().__init__()
        self.preferences = preferences or Preferences()
        if self.preferences.theme:
            self.theme = self.preferences.theme
        self.day = day or today()
        self.path = path
        self.system = system or System.METRIC
        self._takes_units = system is None
        self.plain_pictures = plain_pictures
        self.shelf_order = self.preferences.settings.shelf_order
        self.marked: tuple[Path, ...] = ()
        self._only_visible = OnlyVisible((), self.ansi_theme)

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Let nothing reach the terminal that it would obey, or that nobody could read."""
        others, palette = tuple(super().get_line_filters()), self.ansi_theme
        if (others, palette) != (self._only_visible.others, self._only_visible.palette):
            self._only_visible = OnlyVisible(others, palette)
        return [self._only_visible]

    def notify(
        self,
        message: str,
        *,
        title: str = "",
        severity: SeverityLevel = "information",
        timeout: float | None = None,
        markup: bool = False,  # noqa: ARG002  as Textual declares it
    ) -> None:
        """Show a message for a while, in place of the one before. Whatever is in it, it is never markup."""
        self._notifications.clear()
        super().notify(visible(message), title=visible(title), severity=severity, timeout=timeout, markup=False)

    # A message is about the screen that it was shown on, so it goes with that screen, or when a dialog covers it.

    def push_screen(self, *given: Any, **named: Any) -> Any:  # noqa: ANN401  Textual has four of it
        """Show a screen or a dialog in front, without the message of the one below."""
        self.clear_notifications()
        return super().push_screen(*given, **named)

    def switch_screen(self, screen: Screen[Any] | str) -> AwaitComplete:
        """Show another screen, without the message of this one."""
        self.clear_notifications()
        if isinstance(screen, Screen):
            self._take_units_of(screen)
        return super().switch_screen(screen)

    def pop_screen(self) -> AwaitComplete:
        """Go back to the screen below, without the message of this one."""
        self.clear_notifications()
        return super().pop_screen()

    def on_mount(self) -> None:
        """Show the first screen, by what was opened."""
        self.call_after_refresh(gc.enable)  # the command that started the app put it off
        if not self.is_headless and not self.is_web:  # a browser has no terminal, and its server ends the app itself
            self._end_with_the_system()
        self._to_terminal(KEEP_TITLE)
        self.set_keymap(dict(self.preferences.settings.keys))
        # Pushed, not made the default screen: Textual 8 cannot switch away from that one.
        is_shelf = self.path.is_dir() or not (self.path.suffix or os.path.lexists(self.path))
        first = self._shelf(self.path) if is_shelf else self._file_screen(self.path)
        self._take_units_of(first)
        self.push_screen(first)

        if complaint := self.preferences.complaint:
            self.notify(complaint, title="Settings that are not used", severity="warning", timeout=PATIENCE_S)

    def remember(self, **values: str | None) -> None:
        """Keep settings for the next time, once the screen shows what they change."""
        self.call_after_refresh(lambda: self._say_once(self.preferences.remember(**values)))

    def _take_units_of(self, screen: Screen[Any]) -> None:
        """Show a screen in the units of its diver, as long as nobody has chosen any."""
        if self._takes_units and (units := units_of(screen)):
            self.system = System(units)

    def choose_units(self, system: System) -> None:
        """Take other units, and remember them."""
        self.system, self._takes_units = system, False
        self.remember(units=system.value)

    def keep_order(self, order: str | None) -> None:
        """Sort the kits of every folder like this, and remember it."""
        self.shelf_order = order
        self.remember(shelf_order=order)

    def watch_theme(self, theme: str) -> None:
        """Keep a theme that was chosen; the one that the app starts with was not."""
        if self.is_running and self.screen_stack:
            self.remember(theme=theme)

    def _say_once(self, message: str) -> None:
        if message:
            self.notify(message, severity="warning", timeout=PATIENCE_S)

    def on_app_focus(self) -> None:
        """Look at the files of the screen when the user comes back from another window."""
        if isinstance(self.screen, KitbuilderScreen):
            self.screen.look_outside()

    def on_resize(self, event: events.Resize) -> None:
        """Say so in front of everything while the terminal is too small."""
        self.call_after_refresh(self._judge_size, size_complaint(*event.size))

    def _judge_size(self, complaint: str) -> None:
        match self.screen:
            case TooSmall() if not complaint:
                self.pop_screen()
            case TooSmall() as shown:
                shown.say(complaint)
            case _ if complaint:
                self.push_screen(TooSmall(complaint))

    def on_title_bar_shown(self, message: TitleBar.Shown) -> None:
        """Name the window of the terminal after what is shown."""
        self._to_terminal(title_sequence(f"{message.title} · kitbuilder"))

    def on_unmount(self) -> None:
        """Give the window its title back."""
        self._to_terminal(GIVE_TITLE_BACK)

    def _to_terminal(self, sequence: str) -> None:
        """Write a sequence of our own; a browser has no window to name."""
        if self._driver is not None and not self.is_web:
            self._driver.write(sequence)
            self._driver.flush()

    def open_kit(self, path: Path) -> None:
        """Show a kit file: on the bench, or with its problems."""
        self.switch_screen(self._file_screen(path))

    def show_shelf(self, folder: Path, select: Path | None = None) -> None:
        """Show the kits of a folder."""
        self.switch_screen(self._shelf(folder, select))

    def show_swaps(self, path: Path) -> None:
        """Show a kit or a trip with its swaps in front, or its problems."""
        screen = self._file_screen(path)
        if isinstance(screen, Editing):
            screen.first = "swaps"
        self.switch_screen(screen)

    def show_beside(self, kits: Sequence[tuple[Path, Assessment]]) -> None:
        """Show two to four kits side by side."""
        from kitbuilder.app.screens.side_by_side_screen import SideBySideScreen

        self.switch_screen(SideBySideScreen(kits))

    def show_pair(self, kits: Sequence[tuple[Path, Assessment]]) -> None:
        """Show what the divers of some kits must agree on."""
        from kitbuilder.app.screens.pair_screen import PairScreen

        self.switch_screen(PairScreen(kits))

    def show_changeover(self, plan: "Changeover", source: Path, target: Path) -> None:
        """Show how one kit is rebuilt as another."""
        from kitbuilder.app.screens.changeover_screen import ChangeoverScreen

        self.switch_screen(ChangeoverScreen(plan, source, target))

    def show_gear(self, path: Path) -> None:
        """Show a gear file, or its problems."""
        self.open_kit(path)

    def show_fewest(self, folder: Path, marked: list[str]) -> None:
        """Show the smallest set of hoses for the kits of a folder, some of them marked."""
        from kitbuilder.app.screens.fewest_screen import FewestScreen

        self.switch_screen(FewestScreen(folder, marked))

    def _end_with_the_system(self) -> None:
        """Put the terminal right when the system ends the app, and end when the terminal is gone."""
        # asyncio has no signal handlers on Windows.
        if sys.platform != "win32":
            asyncio.get_running_loop().add_signal_handler(signal.SIGTERM, self._end_at_once)
        # A thread and not a timer of the app: without a terminal, Textual's writer may block the loop.
        Thread(target=_end_without_terminal, name="terminal-watch", daemon=True).start()

    def _end_at_once(self) -> None:
        """Leave without asking; edits that are not saved stay in their journals."""
        documents = [screen.document for screen in self.screen_stack if isinstance(screen, Editing)]
        edited = " and ".join(visible(document.path.name) for document in documents if document.journal.kept)
        again = f"Ended with unsaved edits. They are kept: open {edited} again to take them back." if edited else None
        self.exit(return_code=TERMINATED, message=again)

    async def action_quit(self) -> None:
        """Leave, after asking about edits that are not saved."""
        edited = [screen for screen in self.screen_stack if isinstance(screen, Editing)]
        dropped: list[Document] = []

        def leave_next() -> None:
            if edited:
                edited.pop().leave(leave_next, dropped.append)
                return
            for document in dropped:  # not before: a later answer may be to keep editing
                document.forget_edits()
            self.exit()

        leave_next()

    def get_system_commands(self, screen: Screen[Any]) -> Iterable[SystemCommand]:
        """Give every key of the screen, the choice of the theme, and the commands of the command line."""
        bindings = [*bindings_of(screen)]
        for binding in bindings:
            action = binding.action
            # The default binds the action now; a closure would run the last action of the loop.
            yield SystemCommand(binding.description, binding.tooltip, lambda action=action: self._run(screen, action))
        # What else Textual brings is for its developers, or stands among the keys already.
        yield SystemCommand("Theme", "Choose the colours of the app.", self.action_change_theme)
        if all(binding.id != "quit" for binding in bindings):
            yield SystemCommand(ACTIONS["quit"].name, ACTIONS["quit"].sentence, self.action_quit)
        for line in all_commands():
            summary = f"Command line: {line.summary}."
            yield SystemCommand(f"kitbuilder {line.name}", summary, lambda line=line: self._show_command(line))

    async def _run(self, screen: Screen[Any], action: str) -> None:
        await self.run_action(action, screen)

    def _show_command(self, command: Command) -> None:
        """Show the help page of a command of the command line."""
        from kitbuilder.app.screens.dialogs import TextPage
        from kitbuilder.commands.parser import parser_of

        self.push_screen(TextPage(f"kitbuilder {command.name}", Content(parser_of(command).format_help())))

    def _shelf(self, folder: Path, select: Path | None = None) -> Screen[None]:
        from kitbuilder.app.screens.shelf import Shelf

        return Shelf(folder, select)

    def _file_screen(self, path: Path) -> Screen[None]:
        """Choose the screen for what a file holds; a stock has no screen of its own."""
        document = Document(path)
        match document.reading.contents:
            case Kit():
                return Bench(document)
            case Diver():
                return self._diver_screen(document)
            case Gear():
                return self._gear_screen(document)
            case Trip():
                return self._trip_screen(document)
            case Stock():
                return Problems(path, read_written(path, KIT_FILE).problems)
        return Problems(path, document.reading.problems)

    def _diver_screen(self, document: Document) -> Screen[None]:
        from kitbuilder.app.screens.diver_screen import DiverScreen

        return DiverScreen(document)

    def _trip_screen(self, document: Document) -> Screen[None]:
        from kitbuilder.app.screens.trip_screen import TripScreen

        return TripScreen(document)

    def _gear_screen(self, document: Document) -> Screen[None]:
        from kitbuilder.app.screens.gear_screen import GearScreen

        return GearScreen(document, self.day)


if TYPE_CHECKING:
    # The type checker holds the app to what screens ask of it.
    _SHELL: Shell = KitbuilderApp(Path())


def run_app(path: Path | None, system: System | None = None, *, plain_pictures: bool = False) -> int:
    """Run the app until the user leaves it, or the system ends it. Gives the exit code.

    Args:
        path: A folder or a file; by default this folder or, if it has no kit files, the one that was open last.
        system: The units shown at first; those of the settings by default.
        plain_pictures: Whether pictures have no braille dots even if the settings allow them.
    """
    preferences = Preferences(settings_path())
    settings, folder = preferences.settings, path or preferences.folder_to_open()
    app = KitbuilderApp(
        folder,
        system or (System(settings.units) if settings.units else None),
        plain_pictures=plain_pictures or preferences.wants_plain_pictures,
        preferences=preferences,
    )
    if path is None and folder != Path():
        app.call_later(app.notify, OTHER_FOLDER, timeout=PATIENCE_S)
    app.run()
    preferences.remember_folder(folder if folder.is_dir() else folder.parent)
    return app.return_code or 0


def _end_without_terminal() -> None:
    """End the program when its terminal is gone, as the system does to programs that belong to a session.

    Textual would try to read from it forever. Nothing needs restoring: every edit is in its journal.
    """
    while os.isatty(0):
        time.sleep(LOOK_S)
    # sys.exit would end this thread alone.
    os._exit(HUNG_UP)


OTHER_FOLDER = "This folder has no kit files, so the one that was open last is shown. To open this folder: kitbuilder ."
PATIENCE_S = 15.0
"""Seconds for which a message stays that takes a while to read."""
LOOK_S = 1.0
"""Seconds between two looks whether the terminal is still there."""
TERMINATED, HUNG_UP = 128 + 15, 128 + 1
"""Exit codes as a shell gives them to a program that SIGTERM or SIGHUP has ended."""
