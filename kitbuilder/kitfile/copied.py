"""The text that was copied last, kept in a file: no terminal says whether it put a text into its clipboard."""

from pathlib import Path

from kitbuilder.kitfile.disk import make_private_folder, save_text


def copied_path() -> Path:
    """Give the place of the copied text, by the rules of the system."""
    from platformdirs import user_state_path

    return user_state_path("kitbuilder", appauthor=False) / "copied.txt"


def keep_copied(path: Path, text: str) -> None:
    """Write the text in place of the one that was copied before.

    Raises:
        OSError: The disk refused, or something else has that name.
    """
    make_private_folder(path.parent)
    save_text(path, text if text.endswith("\n") else f"{text}\n")
