"""The user's settings in the app: what they say at the start, and what is remembered when something is chosen."""

import os
import sys
from pathlib import Path

from kitbuilder.commands.settings import known_settings
from kitbuilder.kitfile.disk import UnreadableFile, kit_paths
from kitbuilder.kitfile.settings import NAME, NotKept, Settings, Value, changed_settings, read_settings
from kitbuilder.pictures.terminals import shows_braille


class Preferences:
    """The settings of one user; without a file nothing is read, and nothing is remembered."""

    def __init__(self, path: Path | None = None) -> None:
        """Read the settings."""
        self._path = path
        reading = read_settings(path, known_settings()) if path else None
        self.settings = reading.settings if reading else Settings()
        self.problems = reading.problems if reading else ()

    @property
    def theme(self) -> str | None:
        """The theme to start with; None where there is none, or where the environment has one, which wins."""
        return None if os.environ.get("TEXTUAL_THEME") else self.settings.theme

    @property
    def wants_plain_pictures(self) -> bool:
        """Whether pictures have no braille dots: as the settings say, else where the terminal cannot show them."""
        if self.settings.plain_pictures is not None:
            return self.settings.plain_pictures
        return not shows_braille(os.environ, sys.stdout.encoding)

    @property
    def complaint(self) -> str:
        """What is wrong with the settings, in a message that covers little; empty for nothing.

        What is accepted can be a list of all actions: the command prints it.
        """
        if not self.problems:
            return ""
        problem, *others = self.problems
        if others:
            return f"{len(self.problems)} settings are not used. {SEE}"
        _, sign, meant = problem.accepted.partition("Did you mean ")
        return problem._replace(accepted=f"{sign}{meant} {SEE}".strip()).located(NAME)

    def remember(self, **values: Value) -> str:
        """Write settings that have changed. Gives what the user has to know about it; empty for nothing."""
        new = {name: value for name, value in values.items() if getattr(self.settings, name) != value}
        if self._path is None or not new:
            return ""
        self.settings = Settings(**(self.settings._asdict() | new))
        try:
            kept = changed_settings(self._path, **new)
        except NotKept as error:
            return f"Setting not saved: {error}"
        return f"The settings file was not TOML. A new one was started; the old text is in {kept}." if kept else ""

    def folder_to_open(self) -> Path:
        """Give this folder or, if it has other files and no kits, the one that was open last and is still there.

        A folder without anything in it is one that was made for new kits.
        """
        here, last = Path(), Path(self.settings.last_folder or "")
        try:
            is_for_kits = kit_paths(here) or not any(here.iterdir())
            return here if is_for_kits or not last.is_dir() else last
        except (UnreadableFile, OSError):
            return here

    def remember_folder(self, folder: Path) -> None:
        """Keep which folder was open. A broken file stays as it is, without a message: nobody asked for this."""
        if not any(not problem.place for problem in self.problems):
            self.remember(last_folder=str(folder.resolve()))


SEE = "See: kitbuilder settings"
