"""Questions over several kits."""
