"""Pictures as geometry, and what draws them: in dots, plain signs or SVG."""
