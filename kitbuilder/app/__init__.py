"""The Textual app: screens and widgets. They show what an assessment says and ask a document for edits."""
