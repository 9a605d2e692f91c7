"""Tests of what a trip asks of items."""
