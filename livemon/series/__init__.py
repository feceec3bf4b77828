"""Samples in time order: a ring of fixed size, and what is let into it."""
