"""Tests of what reaches which part."""
