"""Estimates to warnings: settings, judgement and the table of states."""
