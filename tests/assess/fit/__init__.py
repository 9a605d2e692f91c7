"""Tests of the fit."""
