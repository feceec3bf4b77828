"""The sheet: one page for an athlete."""
