"""Tests of the buoyancy."""
