"""Tests of the hoses."""
