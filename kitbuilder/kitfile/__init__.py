"""The kit file on disk: read it, edit it without touching what was not edited, save it safely."""
