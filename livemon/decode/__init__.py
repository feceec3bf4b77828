"""Bytes to samples: pure functions of the payload, each with its specification beside it."""
